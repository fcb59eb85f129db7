"""The table of pedals: one power jack has columns of its own; several stand in one cell."""

import re
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from boardshop.core import plan as core
from boardshop.core import vocabulary as words
from boardshop.gear import amounts
from boardshop.gear.csv_import import columns as c
from boardshop.gear.csv_import.columns import CellError, Column
from boardshop.gear.notation import jacks, power
from boardshop.gear.notation.scanning import read_facts
from boardshop.gear.records import USUAL_JACKS, PedalRecord

POWER = "power."
"""Before the name of a column that holds one fact of the only power jack."""


def read_volts(text: str, unit: str) -> dict[str, Any]:
    """`9`, `9V DC`, `9-18 V`: facts of the power jack."""
    if amounts.is_unknown(text):
        return {"nominal": None}
    if re.fullmatch(amounts.FIGURE, text):
        return {"nominal": amounts.parse_volts(text)}
    plain = re.sub(rf"^({amounts.FIGURE}\s*(?:-|–|to)\s*{amounts.FIGURE})$", r"\1 V", text)
    accepted = gettext("write volts such as 9, 9.6 V, 9000 mV, 9 V DC or 9-18 V.")
    facts = read_facts(plain, power.volt_facts(), accepted)
    return power.without_range(facts)


def read_polarity(text: str, unit: str) -> str:
    """The word of the list; only here does `neg` alone speak of the plug, elsewhere it may be the ground."""
    sign = text.strip(" ()")
    if sign in ("-", "–", "−", "+"):
        raise CellError(
            gettext(
                "“%(text)s” can be a pole or a mark for nothing; write centre-negative or centre-positive, "
                "or leave it blank."
            )
            % {"text": text[:40]}
        )
    named = {"neg": "centre-negative", "negative": "centre-negative"}
    named |= {"pos": "centre-positive", "positive": "centre-positive"}
    return named.get(sign.lower().rstrip("."), "") or str(_POLARITY.read(text, unit))


def _fact(column: Column) -> Column:
    """A column of one fact of the power jack; its reader gives a dictionary of facts."""
    name = column.name.removeprefix(POWER)
    return replace(
        column, read=lambda text, unit: {name: column.read(text, unit) or _nothing(column, text, unit)}
    )


def _nothing(column: Column, text: str, unit: str) -> Any:
    value = column.read(text, unit)
    return None if value == "" else value


_POLARITY = c.word(
    f"{POWER}polarity",
    "polarity",
    "polarity",
    _("Of the plug: centre-negative, C-, neg, centre-positive, C+, pos."),
    synonyms=("plug polarity",),
)

POWER_COLUMNS = (
    Column(
        f"{POWER}nominal",
        "volts V",
        read_volts,
        lambda mv: "" if mv is None else amounts.volts_text(mv),
        _("What the label says: 9, 9 V, 9000 mV; 9-18 V is label and most; DC or AC may follow."),
        "9",
        ("volts", "voltage", "supply voltage", "v"),
    ),
    _fact(
        c.amount(
            f"{POWER}min",
            "least V",
            amounts.parse_volts,
            _("Least volts it runs on."),
            show=amounts.volts_text,
            synonyms=("least volts", "min voltage", "least"),
        )
    ),
    _fact(
        c.amount(
            f"{POWER}max",
            "most V",
            amounts.parse_volts,
            _("Most volts it stands."),
            show=amounts.volts_text,
            synonyms=("most volts", "max voltage", "most"),
        )
    ),
    _fact(
        c.amount(
            f"{POWER}rated",
            "current mA",
            amounts.parse_milliamps,
            _("What it draws: 100, 100mA, 0.1 A."),
            example="12",
            synonyms=("current", "ma", "draw", "current draw", "consumption"),
        )
    ),
    _fact(
        c.amount(
            f"{POWER}peak",
            "peak mA",
            amounts.parse_milliamps,
            _("The most it draws for a moment."),
            synonyms=("peak", "peak current"),
        )
    ),
    _fact(
        c.word(f"{POWER}current", "dc or ac", "current", _("Kind of current."), synonyms=("ac/dc", "dc/ac"))
    ),
    _fact(replace(_POLARITY, read=read_polarity)),
    _fact(
        c.word(
            f"{POWER}ground_pole",
            "ground pole",
            "ground_pole",
            _("The pole its audio ground is tied to; not the same as the plug's polarity."),
            synonyms=("ground",),
        )
    ),
    _fact(
        c.word(
            f"{POWER}connector",
            "power connector",
            "connector",
            _("Of the power jack."),
            example="barrel 5.5/2.1",
            synonyms=("dc connector", "dc jack", "power jack"),
        )
    ),
    _fact(
        c.flag(
            f"{POWER}sag", "may be starved", _("Runs on less voltage on purpose."), synonyms=("starve", "sag")
        )
    ),
    _fact(c.word(f"{POWER}share", "shares an outlet", "share", _("ok, poor or never."), synonyms=("share",))),
)

PEDAL_COLUMNS = (
    c.text(
        "maker",
        "maker",
        80,
        _("Who makes it."),
        example="Example Works",
        synonyms=("make", "brand", "manufacturer"),
    ),
    c.text(
        "name",
        "name",
        80,
        _("What it is called."),
        needed=True,
        example="Example Drive",
        synonyms=("model", "pedal", "product"),
    ),
    c.word(
        "kind",
        "kind",
        "kind",
        _("What it does."),
        needed=True,
        example="overdrive",
        synonyms=("type", "effect", "category"),
    ),
    c.word("role", "role", "role", _("Where the kind stands in several places.")),
    c.length("width", "width", _("Along the player's feet, unturned."), needed=True, example="73"),
    c.length("depth", "depth", _("Front to rear, unturned."), needed=True, example="129"),
    c.length("height", "height", _("With its knobs."), example="55"),
    c.amount(
        "weight",
        "weight g",
        amounts.parse_grams,
        _("310, 310 g, 0.31 kg, 11 oz."),
        example="310",
        synonyms=("weight", "mass"),
    ),
    Column(
        "jacks",
        "jacks",
        lambda text, unit: read_jacks(text, unit),
        lambda found: jacks.show_jacks(found) or "none",
        _(
            "Name, role, side, offset, height, connector, mono or stereo; a semicolon between jacks. "
            "Blank = IN and OUT for a new pedal, what is recorded for any other; the word none where it has "
            "none."
        ),
        "IN in right 60mm; OUT out left 60mm; DC power rear 20mm",
    ),
    c.notation(
        "switches",
        "foot switches",
        jacks.read_switches,
        jacks.show_switches,
        _("x from the left and y from the front of each."),
        example="x 36mm y 20mm",
        synonyms=("switches", "footswitches", "foot switch", "footswitch"),
    ),
    *POWER_COLUMNS,
    Column(
        "power",
        "power jacks",
        lambda text, unit: read_listed(text),
        str,
        _("Only for several power jacks: each with its name, a colon and its facts; or the word none."),
        "",
        (),
    ),
    c.word("bypass", "bypass", "bypass", _("true, buffered or always-on."), synonyms=("true bypass",)),
    c.word(
        "circuit",
        "circuit",
        "circuit",
        _("analog, clocked, digital, tube or passive."),
        synonyms=("technology",),
    ),
    c.word("level", "level", "level", _("instrument or line.")),
    c.amount(
        "input_ohm",
        "input ohm",
        amounts.parse_ohms,
        _("1000000, 1M, 500k."),
        example="1M",
        synonyms=("input", "input impedance", "zin"),
    ),
    c.amount(
        "input_pf", "input pF", amounts.parse_picofarads, _("Blank = 0."), synonyms=("input capacitance",)
    ),
    c.amount(
        "output_ohm",
        "output ohm",
        amounts.parse_ohms,
        _("As the input."),
        synonyms=("output", "output impedance", "zout"),
    ),
    c.word("tracker", "follows notes", "tracker", _("mono, poly or none."), synonyms=("tracker", "tracking")),
    c.flag("inverts", "inverts", _("yes or no."), synonyms=("inverts the signal", "inverted")),
    c.flag("kills_dry", "dry off", _("yes or no."), synonyms=("kill dry", "kills dry")),
    c.flag("tails", "tails", _("yes or no."), synonyms=("keeps tails", "trails")),
    c.amount(
        "latency_ms", "latency ms", amounts.parse_milliseconds, _("1.5, 1.5 ms."), synonyms=("latency",)
    ),
    c.flag("treadle", "treadle", _("yes or no.")),
    c.length("toe_height", "height toe up", _("Of a treadle as it is parked under the lid.")),
    c.length("screw_length", "bottom screws", _("Length of those that hold its bottom plate."), example="8"),
    c.flag("battery", "battery only", _("yes where a battery is its only source."), synonyms=("battery",)),
    Column(
        "turns",
        "turns",
        lambda text, unit: read_turns(text),
        lambda turns: "/".join(map(str, turns)),
        _("Allowed turns in degrees; blank = 0."),
        "0/180",
        ("allowed turns", "rotation"),
    ),
    c.text("note", "note", 4000, _("Free text."), synonyms=("notes", "remark", "remarks", "comment")),
)


def read_jacks(text: str, unit: str) -> tuple[core.Jack, ...] | None:
    """None where nobody wrote down which it has; the word none says that it has none."""
    if text.lower() == "none":
        return ()
    return None if amounts.is_unknown(text) else jacks.read_jacks(text, unit)


def read_listed(text: str) -> tuple[core.PowerJack, ...] | None:
    """None for a blank cell: then the columns of the only power jack speak."""
    if not text:
        return None
    return () if text.lower() == "none" else power.read_power_jacks(text)


def read_turns(text: str) -> tuple[int, ...]:
    if amounts.is_unknown(text):
        return (0,)
    found = [amounts.parse_whole(part) for part in re.split(r"[°\s/,;]+", text) if part]
    if not found or any(turn not in words.TURNS for turn in found):
        raise CellError(gettext("Turns are 0, 90, 180 and 270 degrees; write such as 0/180."))
    return tuple(sorted(set(found)))


def build_pedal(record: type[PedalRecord], base: PedalRecord | None, values: dict[str, Any]) -> PedalRecord:
    """The record of a row; raises CellError when the power columns contradict each other."""
    plain = {name: value for name, value in values.items() if not name.startswith(POWER) and name != "power"}
    if plain.get("input_pf", 0) is None:
        plain["input_pf"] = 0
    if plain.get("jacks") is None:
        plain["jacks"] = USUAL_JACKS if base is None else base.jacks
    plain["power"] = _power(base.power if base else None, values)
    return replace(base, **plain) if base is not None else record(**plain)


def _power(stored: tuple[core.PowerJack, ...] | None, values: dict[str, Any]) -> tuple[core.PowerJack, ...]:
    facts = _merged(values)
    says_something = any(value is not None for value in facts.values())
    if values.get("power") is not None:
        if says_something:
            raise CellError(
                gettext("Power stands in its own columns and in power jacks; keep one of the two.")
            )
        listed: tuple[core.PowerJack, ...] = values["power"]
        return listed
    if stored is None:
        # Nobody said that it needs none: a jack of which nothing is known will be reported as such.
        return (replace(core.PowerJack(), **facts),)
    if not facts or (len(stored) != 1 and not says_something):
        return stored
    if len(stored) > 1:
        raise CellError(gettext("This pedal has several power jacks; write them in the cell power jacks."))
    return (replace(stored[0] if stored else core.PowerJack(), **facts),)


def _merged(values: dict[str, Any]) -> dict[str, Any]:
    """The facts of the power columns; what two columns say differently is refused."""
    merged: dict[str, Any] = {}
    for name, facts in values.items():
        if not name.startswith(POWER):
            continue
        for fact, value in facts.items():
            if value is not None and merged.get(fact) not in (None, value):
                raise CellError(
                    gettext("Two columns say different things about the power jack; correct one.")
                )
            merged[fact] = merged.get(fact) if value is None else value
    return merged


def pedal_cells(record: PedalRecord, columns: Sequence[Column]) -> dict[str, str]:
    """Column name -> text; the power columns speak of the only jack, if it is called DC."""
    only = record.power[0] if len(record.power) == 1 and record.power[0].name == "DC" else None
    listed = "" if only else power.show_power_jacks(record.power) or "none"
    cells = {}
    for column in columns:
        if column.name.startswith(POWER):
            cells[column.name] = column.show(getattr(only, column.name.removeprefix(POWER))) if only else ""
        else:
            cells[column.name] = (
                listed if column.name == "power" else column.show(getattr(record, column.name))
            )
    return cells
