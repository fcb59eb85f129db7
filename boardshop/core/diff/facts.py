"""Facts in words: what a field is called, in which unit it is said, and how two records differ."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import fields, is_dataclass, replace
from decimal import Decimal
from typing import Any

from boardshop.core.drawer import DrawerItem, SupplyLead, say_spare

UNITS = {
    "x": "mm",
    "y": "mm",
    "from_y": "mm",
    "to_y": "mm",
    "width": "mm",
    "depth": "mm",
    "height": "mm",
    "offset": "mm",
    "reach": "mm",
    "inside": "mm",
    "diameter": "mm",
    "min_bend": "mm",
    "length": "mm",
    "made": "mm",
    "lid": "mm",
    "toe_height": "mm",
    "screw_length": "mm",
    "plate_thickness": "mm",
    "front": "mm",
    "rear": "mm",
    "turn": "°",
    "weight": "g",
    "rated": "mA",
    "measured": "mA",
    "peak": "mA",
    "r": "ohm",
    "l": "H",
    "c": "pF",
    "hz": "Hz",
    "mm2": "mm²",
    "pf_per_m": "pF/m",
    "latency_ms": "ms",
}
"""Units of fields whose names do not end in theirs."""

ENDINGS = {
    "_mm": "mm",
    "_mv": "V",
    "_ma": "mA",
    "_mw": "mW",
    "_pf": "pF",
    "_nf": "nF",
    "_ohm": "ohm",
    "_percent": "%",
}
VOLTS = {"nominal", "min", "max", "mv", "min_mv", "max_mv", "setting_mv"}
"""Fields in mV that people say in volts; `min` and `max` of a power jack and of the mains."""

WORDS = {
    "on": "normally engaged",
    "use": "stepped on, 0 to 5",
    "together": "pressed together with",
    "turns": "may be turned to",
    "settings": "knob settings",
    "unit": "serial",
    "switches": "foot switches",
    "entry": "where the instrument's lead comes in",
    "exit": "where the amp's lead goes out",
    "under": "room underneath",
    "lid": "room below the lid",
    "toe_height": "height with the toe up",
    "screw_length": "bottom screws",
    "plate_thickness": "thickness of the plate",
    "outlet_side": "side of the outlets",
    "inlet_side": "side of the mains inlet",
    "keepouts": "keep-outs",
    "members": "parts of the frame under its top",
    "made": "made as",
    "made_test": "test of its made cable",
    "length": "length of the given cable",
    "tone_nf": "tone capacitor",
    "tone_ohm": "tone pot",
    "volume_ohm": "volume pot",
    "group_max_ma": "limit of its group",
    "parallel_ok": "parallel permitted",
    "series_ok": "series permitted",
    "ground_pole": "ground pole",
    "protection_class": "protection class",
    "limit_mw": "limit of the whole",
    "mm2": "conductor",
    "awg": "conductor, AWG",
    "hz": "frequency",
    "mv": "mains voltage",
    "plug": "mains plug",
    "from_y": "from",
    "to_y": "to",
    "pf_per_m": "capacitance",
    "min_bend": "smallest bend",
    "contact_ohm": "contacts of a DC lead",
    "together_mm": "switches pressed together",
}
"""What a field is called where its own name, with spaces, would not do."""


def name_field(name: str) -> str:
    """`headroom_percent` is `headroom`, `input_ohm` is `input`."""
    if name in WORDS:
        return WORDS[name]
    ending = next((end for end in ENDINGS if name.endswith(end)), "")
    return name.removesuffix(ending).replace("_", " ")


def say(name: str, value: Any) -> str:
    """A value of that field as a person reads it; None is `not recorded`."""
    if value is None or value == "":
        return "not recorded"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return ", ".join(say(name, item) for item in value) or "none"
    if is_dataclass(value):
        return " ".join(f"{name_field(f.name)} {say(f.name, getattr(value, f.name))}" for f in fields(value))
    if name in VOLTS:
        return f"{volts(value)} V"
    unit = UNITS.get(name) or next((unit for end, unit in ENDINGS.items() if name.endswith(end)), "")
    text = figure(value) if isinstance(value, float) else str(value)
    return text + (unit if unit == "°" else f" {unit}" if unit else "")


def volts(mv: int) -> str:
    """To the last millivolt: two figures that differ must not read alike."""
    return f"{Decimal(mv).scaleb(-3).normalize():f}"


def figure(value: float) -> str:
    """All its decimals, never with an exponent."""
    return f"{Decimal(repr(value)).normalize():f}"


def tell_fields(of: str, before: Any, after: Any, names: Iterable[str]) -> Iterator[str]:
    """A sentence for each of these fields that differs: `Low Ember (P4): rated 45 mA instead of 40 mA.`"""
    for name in names:
        old, new = getattr(before, name), getattr(after, name)
        if old != new:
            yield f"{of}: {name_field(name)} {say(name, new)} instead of {say(name, old)}."


def field_names(kind: type, *without: str) -> tuple[str, ...]:
    """Every field of a dataclass but these, so that none is forgotten when one is added."""
    return tuple(field.name for field in fields(kind) if field.name not in without)


def tell_named(of: str, before: Iterable[Any], after: Iterable[Any], what: str) -> Iterator[str]:
    """How two lists of records differ that are told apart by `name`: jacks, outlets."""
    old = {one.name.casefold(): one for one in before}
    new = {one.name.casefold(): one for one in after}
    for key in (key for key in new if key not in old):
        yield f"{of} has {what} {new[key].name} now."
    for key in (key for key in old if key not in new):
        yield f"{of} has no {what} {old[key].name} any more."
    for key, one in new.items():
        if key in old and one != old[key]:
            yield from tell_fields(f"{of}, {what} {one.name}", old[key], one, field_names(type(one)))


def tell_counts(where: str, before: Iterable[SupplyLead | DrawerItem], after: Iterable[Any]) -> Iterator[str]:
    """How two heaps of leads and adapters differ: `In the drawer: 2 × reverser, before 1.`"""
    old, new = _count_alike(before), _count_alike(after)
    for one in dict.fromkeys((*new, *old)):
        if old[one] != new[one]:
            yield f"{where} {new[one]} × {say_spare(one)}, before {old[one]}."


def _count_alike(heap: Iterable[SupplyLead | DrawerItem]) -> Counter[SupplyLead | DrawerItem]:
    counted: Counter[SupplyLead | DrawerItem] = Counter()
    for one in heap:
        counted[replace(one, count=1)] += one.count
    return counted
