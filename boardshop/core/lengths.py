"""Lengths as people type and read them: text in mm, cm, m, inches or feet to millimetres, and back.

Basis: 1 in = 25.4 mm exactly (international inch, ISO 80000-3 remarks); 1 ft = 12 in.
"""

import re
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Final

MM_PER: Final = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
    "ft": Fraction(3048, 10),
}
MM_PER_KM: Final = 1_000_000
SHOWN_UNITS: Final = ("mm", "cm", "in")
LONGEST_MM: Final = 1_000_000_000
"""The board file's limit for a whole number."""
LONGEST_TEXT: Final = 60
FINEST_DECIMALS: Final = 3
"""Decimals of a millimetre that are kept where a length need not be whole."""

_UNIT_WORDS: Final = {
    "mm": "mm", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "cm": "cm", "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
    "m": "m", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
    "in": "in", "in.": "in", "inch": "in", "inches": "in", '"': "in", "″": "in", "”": "in", "''": "in",
    "ft": "ft", "ft.": "ft", "foot": "ft", "feet": "ft", "'": "ft", "′": "ft", "’": "ft",
}  # fmt: skip
_VULGAR: Final = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_UNIT: Final = "|".join(sorted((re.escape(word) for word in _UNIT_WORDS), key=len, reverse=True))
_NUMBER: Final = "|".join(
    (
        r"(?P<whole>[0-9]+)[ -](?P<over>[0-9]+)/(?P<under>[0-9]+)",
        r"(?P<top>[0-9]+)/(?P<bottom>[0-9]+)",
        r"(?P<figure>[0-9]*[.,]?[0-9]+|[0-9]+[.,])",
    )
)
_PART: Final = re.compile(rf"(?:{_NUMBER}) ?(?P<unit>{_UNIT})?(?!\w)", re.IGNORECASE)

_THOUSANDS: Final = re.compile(r"[1-9][0-9]{0,2}[.,][0-9]{3}")


class LengthError(ValueError):
    """A length that cannot be taken; `text` is what was typed."""

    def __init__(self, text: str) -> None:
        self.text = text
        super().__init__(text)

    def __str__(self) -> str:
        return (type(self).__doc__ or "") % {"text": self.text}


class UnreadableLength(LengthError):
    """“%(text)s” is no length; write a number and a unit, such as 120 mm, 12.5 cm, 4.75 in or 4 3/4 in."""


class AmbiguousLength(LengthError):
    """“%(text)s” can be read as thousands or as decimals; leave the separator out or give fewer decimals."""


class NegativeLength(LengthError):
    """“%(text)s” is below zero; lengths are counted from zero on."""


class TooLong(LengthError):
    """“%(text)s” is longer than 1000 km; look for a slipped point or a wrong unit."""


def parse_length(text: str, unit: str) -> int:
    """Whole mm, halves rounded up; a bare number counts in `unit` (mm, cm or in).

    Raises a LengthError whose text names what is accepted.
    """
    return _rounded(_parse(text, unit), 0)


def parse_exact_length(text: str, unit: str) -> Decimal:
    """As `parse_length`, in mm with up to three decimals."""
    exact = _parse(text, unit)
    return Decimal(_rounded(exact, FINEST_DECIMALS)).scaleb(-FINEST_DECIMALS)


def length_figure(mm: int | Decimal, unit: str) -> str:
    """The figure alone, in `unit`, such that parsing it gives the same length again."""
    exact = Fraction(mm) / MM_PER[unit]
    if isinstance(mm, int):
        return _decimal_text(exact, {"mm": 0, "cm": 1, "in": 2}[unit], strip=unit == "cm")
    for decimals in range(6):
        figure = _decimal_text(exact, decimals, strip=True)
        figure += "0" if _THOUSANDS.fullmatch(figure) else ""
        if parse_exact_length(figure + unit, unit) == mm:
            return figure
    raise ValueError(f"{mm} mm has more than {FINEST_DECIMALS} decimals")


def show_length(mm: int | Decimal, unit: str) -> str:
    """The length for reading, such as `120 mm`, `12 cm`, `4.72 in`."""
    return f"{length_figure(mm, unit)} {unit}"


def show_metres(mm: int) -> str:
    """In words that show a slipped point at once: `12.5 m`, `2 km`."""
    if mm >= MM_PER_KM:
        return f"{_decimal_text(Fraction(mm, MM_PER_KM), 2, strip=True)} km"
    return f"{_decimal_text(Fraction(mm, 1000), 2, strip=True)} m"


def _parse(text: str, unit: str) -> Fraction:
    typed = text.strip()
    if len(typed) > LONGEST_TEXT:
        raise UnreadableLength(typed[:LONGEST_TEXT] + "…")
    plain = typed
    for sign, fraction in _VULGAR.items():
        plain = plain.replace(sign, f" {fraction}")
    plain = " ".join(plain.replace("⁄", "/").split())
    if re.match(r"[-−–]\s?[\d.,]", plain):
        raise NegativeLength(typed)
    total = _sum_of_parts(plain, typed, unit)
    if total > LONGEST_MM:
        raise TooLong(typed)
    return total


def _sum_of_parts(plain: str, typed: str, unit: str) -> Fraction:
    """One length, or feet followed by inches."""
    parts = [_PART.match(plain)]
    if parts[0] is not None and parts[0].end() < len(plain):
        parts.append(_PART.match(plain, parts[0].end() + (plain[parts[0].end()] == " ")))
    found = [part for part in parts if part is not None]
    if len(found) != len(parts) or found[-1].end() != len(plain):
        raise UnreadableLength(typed)
    units = [_UNIT_WORDS[part["unit"].lower()] if part["unit"] else unit for part in found]
    if len(found) == 2 and (units != ["ft", "in"] or not found[1]["unit"]):
        raise UnreadableLength(typed)
    return sum((_value(part, own, typed) for part, own in zip(found, units, strict=True)), Fraction(0))


def _value(part: re.Match[str], unit: str, typed: str) -> Fraction:
    if part["figure"] is not None:
        # 1.250 mm is 1250 to half of the world, and nobody measures a thousandth of a millimetre by hand.
        if unit in ("mm", "cm") and _THOUSANDS.fullmatch(part["figure"]):
            raise AmbiguousLength(typed)
        return Fraction(part["figure"].replace(",", ".").rstrip(".")) * MM_PER[unit]
    whole, over, under = part["whole"] or "0", part["over"] or part["top"], part["under"] or part["bottom"]
    if int(under) == 0:
        raise UnreadableLength(typed)
    return (int(whole) + Fraction(int(over), int(under))) * MM_PER[unit]


def _rounded(value: Fraction, decimals: int) -> int:
    """In units of the last decimal, halves up."""
    return int(value * 10**decimals + Fraction(1, 2))


def _decimal_text(value: Fraction, decimals: int, *, strip: bool) -> str:
    figure = (
        Decimal(_rounded(value, decimals))
        .scaleb(-decimals)
        .quantize(Decimal(1).scaleb(-decimals), rounding=ROUND_HALF_UP)
    )
    text = f"{figure:f}"
    return text.rstrip("0").rstrip(".") if strip and "." in text else text
