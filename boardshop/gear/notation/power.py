"""What power jacks need and what outlets give, in one cell each.

`DC: dc 9V 100mA centre-negative ground negative barrel 5.5/2.1`
`1: 9V 500mA or 12V 300mA dc centre-negative; 2: 9-18V 250mA group A`
"""

import re
from dataclasses import replace
from typing import Any

from django.utils.translation import gettext as _

from boardshop.core import plan as core
from boardshop.gear.amounts import FIGURE, parse_milliamps, parse_volts, volts_text
from boardshop.gear.notation.jacks import check_name
from boardshop.gear.notation.scanning import (
    QUOTED,
    Fact,
    NotationError,
    fact,
    pieces_of,
    quoted,
    read_facts,
    take_quoted,
    word_fact,
    yes_no_fact,
)
from boardshop.gear.notation.words import LISTS

_END = r"(?![a-z0-9])|(?=[ad]\.?c)"
VOLTS = rf"{FIGURE}\s*(?:mv|volts?|v)(?:{_END})"
_LOW = rf"(?P<low>{FIGURE})\s*(?P<low_unit>mv|v)?"
_HIGH = rf"(?P<high>{FIGURE})\s*(?P<high_unit>mv|volts?|v)(?:{_END})"
RANGE = rf"{_LOW}\s*(?:-|–|\.\.|to)\s*{_HIGH}"
AMPS = rf"{FIGURE}\s*m?a(?![a-z0-9])"


def read_power_jacks(text: str) -> tuple[core.PowerJack, ...]:
    """One power jack may go without its name; raises NotationError."""
    pieces = pieces_of(text)
    if len(pieces) > 1 and any(_named(piece) is None for piece in pieces):
        raise NotationError(
            _("Several power jacks need their names, each with a colon, such as DC1: 9 V 100 mA.")
        )
    return tuple(_power_jack(piece) for piece in pieces)


def show_power_jacks(jacks: tuple[core.PowerJack, ...]) -> str:
    return "; ".join(_power_text(jack) for jack in jacks)


def read_outlets(text: str) -> tuple[core.Outlet, ...]:
    return tuple(_outlet(piece) for piece in pieces_of(text))


def show_outlets(outlets: tuple[core.Outlet, ...]) -> str:
    return "; ".join(_outlet_text(outlet) for outlet in outlets)


def read_settings(text: str) -> tuple[core.OutletSetting, ...]:
    """What one outlet can be set to: `9 V 500 mA; 18 V 250 mA` or `9-12 V 300 mA`; raises NotationError."""
    accepted = _(
        "write volts and the limit there, such as 9 V 500 mA; 18 V 250 mA, or a range such as 9-12 V 300 mA."
    )
    found: list[core.OutletSetting] = []
    for piece in pieces_of(text):
        found += read_facts(piece, [_setting_fact()], accepted).get("setting", [])
    return tuple(found)


def show_settings(settings: tuple[core.OutletSetting, ...], between: str = "; ") -> str:
    return between.join(_setting_text(setting) for setting in settings)


def _named(piece: str) -> tuple[str, str] | None:
    """Name and rest where a colon parts them."""
    match = re.match(rf"\s*({QUOTED}|[^:\s]+)\s*:(?=\s|$|\S)", piece)
    if match is None:
        return None
    taken = take_quoted(match[1])
    name = taken[0] if taken else match[1]
    check_name(name)
    return name, piece[match.end() :]


def volt_facts() -> list[Fact]:
    """What may stand in a cell for volts alone."""
    return [
        word_fact("current", LISTS["current"]),
        fact("nominal", VOLTS, parse_volts),
        fact("range", RANGE, _range_of),
    ]


def _power_facts() -> list[Fact]:
    return [
        *volt_facts(),
        fact("min", rf"(?:least|min|from)[\s.:]*(?P<value>{VOLTS})", parse_volts),
        fact("max", rf"(?:most|max|up to)[\s.:]*(?P<value>{VOLTS})", parse_volts),
        fact("rated", rf"(?:rated[\s:]*)?(?P<value>{AMPS})", parse_milliamps),
        fact("peak", rf"peak[\s:]*(?P<value>{AMPS})", parse_milliamps),
        word_fact("polarity", LISTS["polarity"]),
        fact("ground_pole", r"ground[\s:-]*(?P<value>neg(?:ative)?|pos(?:itive)?|floating)(?!\w)", _pole),
        fact("ground_pole", r"(?P<value>neg(?:ative)?|pos(?:itive)?|floating)[\s-]*ground(?!\w)", _pole),
        word_fact("connector", LISTS["connector"]),
        yes_no_fact("sag", "starve|sag"),
        word_fact("share", LISTS["share"], before=r"shares?[\s:]*"),
    ]


def _pole(text: str) -> str:
    return {"n": "negative", "p": "positive", "f": "floating"}[text[0].lower()]


def _power_jack(piece: str) -> core.PowerJack:
    name, rest = _named(piece) or ("DC", piece)
    accepted = _(
        "a power jack takes dc or ac, 9V, 9-18V, 100mA, peak 150mA, centre-negative or centre-positive, "
        "ground negative, a connector, starve yes or no, share ok, poor or never."
    )
    facts = read_facts(rest, _power_facts(), accepted)
    return replace(core.PowerJack(name=name), **without_range(facts))


def without_range(facts: dict[str, Any]) -> dict[str, Any]:
    """The facts with what a written range says about the jack in its place; raises NotationError.

    A range alone, or one that begins at the label's volts, is printed for the nominal supply: what arrives at
    the end of a lead is a little less, so its low end is the label's and no least that must not be undercut.
    """
    rest = {name: value for name, value in facts.items() if name != "range"}
    if "range" not in facts:
        return rest
    low, high = facts["range"]
    if low > high:
        raise NotationError(
            _("A range runs from the higher to the lower voltage; write the lower one first.")
        )
    of_label = rest.get("nominal") in (None, low)
    said = {"nominal": low, "max": high} if of_label else {"min": low, "max": high}
    if any(name in rest for name in said if name != "nominal"):
        raise NotationError(_("Least or most volts stand twice; write them once, such as 9-18V."))
    return said | rest


def _power_text(jack: core.PowerJack) -> str:
    parts = [
        f"{quoted(jack.name)}:",
        jack.current or "",
        _volts(jack.nominal),
        _volts(jack.min, "least "),
        _volts(jack.max, "most "),
        _milliamps(jack.rated),
        _milliamps(jack.peak, "peak "),
        jack.polarity or "",
        f"ground {jack.ground_pole}" if jack.ground_pole else "",
        jack.connector or "",
        _flag("starve", jack.sag),
        f"share {jack.share}" if jack.share else "",
    ]
    return " ".join(part for part in parts if part)


def _setting_fact() -> Fact:
    return fact("setting", rf"(?:{RANGE}|{VOLTS})(?:[\s,/@]*{AMPS})?", _setting, may_repeat=True)


def _setting(text: str) -> core.OutletSetting:
    limit = re.search(rf"[\s,/@]*({AMPS})$", text, re.IGNORECASE)
    volts = text[: limit.start()] if limit else text
    low, high = _range_of(volts) if re.fullmatch(RANGE, volts, re.IGNORECASE) else (parse_volts(volts),) * 2
    if low > high:
        raise NotationError(
            _("“%(text)s” runs from the higher to the lower voltage; write the lower one first.")
            % {"text": volts}
        )
    if low == 0:
        raise NotationError(_("“%(text)s” gives no voltage; a setting is above zero.") % {"text": volts})
    return core.OutletSetting(low, high, parse_milliamps(limit[1]) if limit else None)


def _setting_text(setting: core.OutletSetting) -> str:
    low, high = volts_text(setting.min_mv), volts_text(setting.max_mv)
    volts = f"{low}V" if low == high else f"{low}-{high}V"
    return f"{volts} {setting.max_ma}mA" if setting.max_ma is not None else volts


def _range_of(text: str) -> tuple[int, int]:
    match = re.fullmatch(RANGE, text.strip(), re.IGNORECASE)
    assert match is not None
    high_unit = match["high_unit"]
    return parse_volts(match["low"] + (match["low_unit"] or high_unit)), parse_volts(
        match["high"] + high_unit
    )


def _outlet_facts() -> list[Fact]:
    text_or_word = rf"{QUOTED}|[^\s,;|:]+"
    return [
        _setting_fact(),
        word_fact("current", LISTS["current"]),
        word_fact("polarity", LISTS["polarity"]),
        word_fact("connector", LISTS["connector"]),
        fact("regulated", r"(?P<value>un|not\s+)?regulated(?!\w)", lambda text: not text),
        yes_no_fact("sag", "starve|sag"),
        fact("group_max_ma", rf"group\s+max[\s:]*(?P<value>{AMPS})", parse_milliamps),
        fact("group", rf"group[\s:]+(?P<value>{text_or_word})", _unquoted),
        fact("isolated", r"isolated(?!\w)", lambda text: True),
        yes_no_fact("parallel_ok", "parallel"),
        yes_no_fact("series_ok", "series"),
    ]


def _unquoted(text: str) -> str:
    taken = take_quoted(text)
    return taken[0] if taken else text


def _outlet(piece: str) -> core.Outlet:
    named = _named(piece)
    if named is None:
        raise NotationError(_("Start each outlet with its name and a colon, such as 1: 9V 500mA."))
    accepted = _(
        "an outlet takes 9V 500mA, several joined by or, dc or ac, centre-negative or centre-positive, "
        "a connector, regulated or unregulated, group A, group max 1000mA, isolated, "
        "starve, parallel, series with yes or no."
    )
    facts: dict[str, Any] = read_facts(named[1], _outlet_facts(), accepted)
    if facts.pop("isolated", False) and "group" in facts:
        raise NotationError(
            _("Outlet %(name)s cannot be isolated and in a group; write one of the two.") % {"name": named[0]}
        )
    return core.Outlet(name=named[0], settings=tuple(facts.pop("setting", ())), **facts)


def _outlet_text(outlet: core.Outlet) -> str:
    parts = [
        f"{quoted(outlet.name)}:",
        show_settings(outlet.settings, " or "),
        outlet.current or "",
        outlet.polarity or "",
        outlet.connector or "",
        {None: "", True: "regulated", False: "unregulated"}[outlet.regulated],
        f"group {quoted(outlet.group)}" if outlet.group else "",
        _milliamps(outlet.group_max_ma, "group max "),
        _flag("starve", outlet.sag),
        _flag("parallel", outlet.parallel_ok),
        _flag("series", outlet.series_ok),
    ]
    return " ".join(part for part in parts if part)


def _volts(mv: int | None, before: str = "") -> str:
    return "" if mv is None else f"{before}{volts_text(mv)}V"


def _milliamps(ma: int | None, before: str = "") -> str:
    return "" if ma is None else f"{before}{ma}mA"


def _flag(word: str, value: bool | None) -> str:
    return "" if value is None else f"{word} {'yes' if value else 'no'}"
