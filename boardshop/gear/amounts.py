"""Electrical and other amounts as people type them: `9V`, `9,6`, `9000 mV`, `100mA`, `1M`, `30 pF/ft`.

Every reader takes text and gives the stored unit; it raises AmountError, whose text names what is accepted.
"""

import re
from collections.abc import Mapping
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction

from django.utils.translation import gettext as _

from boardshop.core.per_foot import per_foot, per_metre
from boardshop.gear.fields import LARGEST

type Units = Mapping[str, Fraction]

FIGURE = r"(?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)"
LONGEST_TEXT = 60

VOLTS: Units = {"v": Fraction(1000), "volt": Fraction(1000), "volts": Fraction(1000), "mv": Fraction(1)}
AMPERES: Units = {"ma": Fraction(1), "a": Fraction(1000)}
GRAMS: Units = {
    "g": Fraction(1),
    "kg": Fraction(1000),
    # International avoirdupois pound of 1959, 0.45359237 kg; 16 oz make one.
    "lb": Fraction("453.59237"),
    "lbs": Fraction("453.59237"),
    "oz": Fraction("28.349523125"),
}
OHMS: Units = {
    "": Fraction(1), "r": Fraction(1), "ohm": Fraction(1), "ohms": Fraction(1), "ω": Fraction(1),
    "k": Fraction(1000), "kohm": Fraction(1000), "kω": Fraction(1000),
    "m": Fraction(10**6), "mohm": Fraction(10**6), "mω": Fraction(10**6), "meg": Fraction(10**6),
}  # fmt: skip
WATTS: Units = {"w": Fraction(1000), "va": Fraction(1000), "mw": Fraction(1)}
PICOFARADS: Units = {"pf": Fraction(1), "nf": Fraction(1000)}
PER_METRE: Units = {
    "pf/m": Fraction(1),
    "nf/km": Fraction(1),
    "pf/ft": 1 / Fraction("0.3048"),
    "pf/foot": 1 / Fraction("0.3048"),
}
SQUARE_MILLIMETRES: Units = {"mm²": Fraction(1), "sqmm": Fraction(1)}
MILLISECONDS: Units = {
    "ms": Fraction(1),
    "s": Fraction(1000),
    "µs": Fraction(1, 1000),
    "us": Fraction(1, 1000),
}

HIGHEST_BARE_VOLTS = 1000
LARGEST_MM2 = 10_000
THINNEST_AWG = 56
USUAL_PF_PER_M = (20, 400)
"""Common practice: instrument cable is sold with 50 to 200 pF/m; beyond these bounds somebody is asked."""

_GROUPED = re.compile(r"[1-9][0-9]{0,2}[.,][0-9]{3}")
"""One to three digits, a mark and three digits: what a mark for thousands and one for fractions share."""

TRUE_WORDS = ("yes", "y", "true", "t", "1", "x", "on", "✓")
FALSE_WORDS = ("no", "n", "false", "f", "0", "off", "none")
UNKNOWN_WORDS = ("", "?", "unknown", "n/a", "not recorded", "-", "–", "—")


class AmountError(ValueError):
    """What was typed is no such amount."""


def parse_volts(text: str) -> int:
    """Whole mV; a bare number counts in volts."""
    value = _amount(text, VOLTS, "v", _("“%(text)s” is no voltage; write volts such as 9, 9.6 V or 9000 mV."))
    is_bare = not re.search(r"[a-z]", text, re.IGNORECASE)
    if is_bare and value > HIGHEST_BARE_VOLTS * 1000:
        raise AmountError(
            _("“%(text)s” without a unit would be volts; write 9 for nine volts, or 9000 mV.")
            % {"text": text}
        )
    if value.denominator != 1:
        raise AmountError(_("“%(text)s” is finer than a millivolt; round it.") % {"text": text})
    return int(value)


def parse_milliamps(text: str) -> int:
    """Whole mA, halves rounded up; a bare number counts in mA.

    Raises AmountError also for what would end as nothing, as amperes without their unit do, and for `1,200`,
    which may be a thousand and more or a little above one.
    """
    words = _("“%(text)s” is no current; write milliamperes such as 100, 100 mA or 0.5 A.")
    value = _amount(text, AMPERES, "ma", words)
    in_milliamps = re.fullmatch(rf"({FIGURE})\s*(?:ma)?\.?", text.strip(), re.IGNORECASE)
    if in_milliamps and _GROUPED.fullmatch(in_milliamps[1]):
        raise AmountError(_which_of_two(in_milliamps[1]))
    if 0 < value < 1:
        raise AmountError(_below_one_milliamp(text, value, may_be_amperes=bool(in_milliamps)))
    return rounded(value)


def parse_grams(text: str) -> int:
    words = _("“%(text)s” is no mass; write grams such as 310, 310 g, 0.31 kg or 11 oz.")
    return rounded(_amount(text, GRAMS, "g", words))


def parse_ohms(text: str) -> int:
    """Whole ohms; also as the codes of IEC 60062, where the letter stands for the point: `8k2`, `4R7`."""
    words = _("“%(text)s” is no resistance; write ohms such as 1000000, 1M, 500k, 8k2 or 470 ohm.")
    code = re.fullmatch(r"([0-9]*)([RrKkM])([0-9]+)(?:\s*(?:ohms?|[Ωω]))?", text.strip())
    plain = f"{code[1] or 0}.{code[3]}{code[2]}" if code else text
    return rounded(_amount(plain, OHMS, "", words))


def parse_milliwatts(text: str) -> int:
    """Whole mW; a bare number counts in watts."""
    words = _("“%(text)s” is no power; write watts such as 18, 18 W or 18000 mW.")
    return rounded(_amount(text, WATTS, "w", words))


def parse_picofarads(text: str) -> int:
    words = _("“%(text)s” is no capacitance; write picofarads such as 20, 20 pF or 1 nF.")
    return rounded(_amount(text, PICOFARADS, "pf", words))


def parse_pf_per_m(text: str) -> int:
    words = _("“%(text)s” is no capacitance of cable; write pF/m such as 98, 98 pF/m or 30 pF/ft.")
    return rounded(_amount(text, PER_METRE, "pf/m", words))


def parse_milliseconds(text: str) -> Decimal:
    """With up to three decimals."""
    words = _("“%(text)s” is no time; write milliseconds such as 1.5 or 1.5 ms.")
    value = _amount(text, MILLISECONDS, "ms", words)
    return trimmed(Decimal(rounded(value * 1000)) / 1000)


def parse_price(text: str) -> Decimal:
    """With up to four decimals; a currency sign or code around it says nothing new and is left out."""
    bare = re.sub(r"^(?:[A-Z]{3}|[€$£¥])\s*|\s*(?:[A-Z]{3}|[€$£¥])$", "", text.strip())
    words = _("“%(text)s” is no price; write a figure such as 1.20 or 1,20.")
    value = _amount(bare, {"": Fraction(1)}, "", words)
    return trimmed(Decimal(rounded(value * 10_000)) / 10_000)


def parse_whole(text: str) -> int:
    if not re.fullmatch(r"[0-9]{1,10}", text.strip()) or int(text) > LARGEST:
        raise AmountError(
            _("“%(text)s” is no whole number; write digits only, such as 4.") % {"text": text[:40]}
        )
    return int(text)


def parse_awg(text: str) -> int:
    """A gauge of ASTM B258, without the 00 to 0000 that no DC lead has."""
    match = re.fullmatch(r"(?:awg\s*)?([0-9]{1,2})(?:\s*awg)?", text.strip(), re.IGNORECASE)
    if match is None or int(match[1]) > THINNEST_AWG:
        raise AmountError(
            _("“%(text)s” is no gauge; write AWG 0 to 56, such as 22 or AWG 22, or the area in mm² instead.")
            % {"text": text.strip()[:LONGEST_TEXT]}
        )
    return int(match[1])


def parse_mm2(text: str) -> Decimal:
    """With up to four decimals, above zero."""
    words = _("“%(text)s” is no area of a conductor; write mm² above zero, such as 0.5 or 0,34 mm2.")
    with_sign = re.sub(r"mm\s*2$", "mm²", text.strip(), flags=re.IGNORECASE)
    value = _amount(with_sign, SQUARE_MILLIMETRES, "mm²", words)
    area = trimmed(Decimal(rounded(value * 10_000)) / 10_000)
    if not area or area >= LARGEST_MM2:
        raise AmountError(words % {"text": text.strip()[:LONGEST_TEXT]})
    return area


def parse_flag(text: str) -> bool:
    word = text.strip().lower()
    if word in TRUE_WORDS:
        return True
    if word in FALSE_WORDS:
        return False
    raise AmountError(
        _("“%(text)s” is neither yes nor no; write yes or no, or leave it blank if nobody recorded it.")
        % {"text": text[:40]}
    )


def is_unknown(text: str) -> bool:
    """Whether a cell says that nobody recorded it."""
    return text.strip().lower() in UNKNOWN_WORDS


def is_usual_capacitance(pf_per_m: int) -> bool:
    low, high = USUAL_PF_PER_M
    return low <= pf_per_m <= high


def ask_about_capacitance(pf_per_m: int) -> str:
    """What is odd about a capacitance outside the usual bounds, and what it would be in the other unit."""
    low, _most = USUAL_PF_PER_M
    words = _("%(pf)s pF/m is unusual: instrument cable has 20 to 400.")
    other = 0.0
    if 0 < pf_per_m < low:
        words += " " + _("Did you mean %(pf)s pF per foot? That is %(other)s pF/m; write %(pf)s pF/ft.")
        other = per_metre(pf_per_m)
    elif pf_per_m:
        words += " " + _(
            "Is it that of a whole lead, or was a figure per metre taken for one per foot? "
            "Then it is %(other)s pF/m."
        )
        other = per_foot(pf_per_m)
    return words % {"pf": pf_per_m, "other": f"{other:g}"}


def volts_text(mv: int) -> str:
    """`9`, `9.6`: volts for reading and for typing again."""
    return f"{trimmed(Decimal(mv) / 1000):f}"


def trimmed(value: Decimal) -> Decimal:
    """Without the zeros behind the point."""
    return value.quantize(Decimal(1)) if value == value.to_integral_value() else value.normalize()


def rounded(value: Fraction) -> int:
    exact = Decimal(value.numerator) / Decimal(value.denominator)
    return int(exact.quantize(Decimal(1), rounding=ROUND_HALF_UP))


def _which_of_two(figure: str) -> str:
    whole, part = re.split(r"[.,]", figure)
    return _(
        "“%(figure)s” mA can be read in two ways, with a mark for thousands or as a fraction; "
        "write %(thousands)s or %(fraction)s."
    ) % {"figure": figure, "thousands": whole + part, "fraction": f"{whole}.{part[0]}"}


def _below_one_milliamp(text: str, value: Fraction, *, may_be_amperes: bool) -> str:
    thousandfold = rounded(value * 1000)
    typed = {
        "text": text.strip()[:LONGEST_TEXT],
        "ma": thousandfold,
        "a": f"{Decimal(thousandfold) / 1000:f}",
    }
    if may_be_amperes and thousandfold:
        return (
            _("“%(text)s” would be less than 1 mA; write %(ma)s mA or %(a)s A, or 1 mA if so little.") % typed
        )
    return _("“%(text)s” is less than 1 mA, and whole mA are kept; write 1 mA.") % typed


def _amount(text: str, units: Units, bare: str, words: str) -> Fraction:
    typed = text.strip()
    match = (
        re.fullmatch(rf"({FIGURE})\s*([^0-9.,\s][^0-9.,\s]*|)\.?", typed)
        if len(typed) <= LONGEST_TEXT
        else None
    )
    unit = match[2].lower() or bare if match else ""
    if match is None or unit not in units:
        raise AmountError(words % {"text": typed[:LONGEST_TEXT]})
    value = Fraction(match[1].replace(",", ".")) * units[unit]
    if value > LARGEST:
        raise AmountError(
            _("“%(text)s” is beyond a thousand million; look for a slipped point.") % {"text": typed}
        )
    return value
