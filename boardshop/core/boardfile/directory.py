"""Who is called what in a cleaned document: the look-ups behind the checks of refs and ends.

Names compare without case; a look-up gives the spelling of the definition.  Where a name could not be read, a
look-up that fails may have meant it: such a list is *open*, and nothing is called dangling for it.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field

from boardshop.core.boardfile.faults import Pointer
from boardshop.core.boardfile.walker import BAD, Cleaned
from boardshop.core.index import SOURCE_JACK, fold
from boardshop.core.plan import Amp, PowerJack

DEFAULT_POWER_NAME = PowerJack().name

PART_LISTS = {
    "pedals": "pedal",
    "sources": "source",
    "amps": "amp",
    "computers": "computer",
    "cables": "cable type",
    "plugs": "plug type",
    "links": "link",
    "supplies": "supply",
    "pieces": "piece",
}
"""Every list whose members have a ref, with what one of them is called."""

WITH_JACKS = ("pedals", "sources", "amps", "computers")


@dataclass
class Names:
    """Some names by their folded spelling; ``open`` when one of them could not be read."""

    known: dict[str, str] = field(default_factory=dict)
    open: bool = False

    def add(self, name: object) -> None:
        if isinstance(name, str):
            self.known.setdefault(fold(name), name)
        else:
            self.open = True

    def find(self, name: str) -> str | None:
        return self.known.get(fold(name))


@dataclass
class Jacks:
    """The jacks of everything that has this ref: names, and each one's role (None where it is BAD)."""

    names: Names = field(default_factory=Names)
    roles: dict[str, str | None] = field(default_factory=dict)

    def add(self, name: object, role: object) -> None:
        self.names.add(name)
        if isinstance(name, str):
            self.roles.setdefault(fold(name), role if isinstance(role, str) else None)


@dataclass
class Directory:
    parts: dict[str, Names] = field(default_factory=dict)
    """By list name, as `cables`."""
    jacks: dict[str, Jacks] = field(default_factory=dict)
    """Signal and power jacks, by folded ref."""
    power_jacks: dict[str, Names] = field(default_factory=dict)
    outlets: dict[str, Names] = field(default_factory=dict)


def records(document: Cleaned, key: str) -> Iterator[tuple[Pointer, Cleaned]]:
    """The readable members of one of the document's lists, each with its pointer."""
    yield from members(document, key, ())


def members(record: Cleaned, key: str, at: Pointer) -> Iterator[tuple[Pointer, Cleaned]]:
    """The readable objects of a list inside a record, each with its pointer."""
    value = record[key]
    if isinstance(value, list):
        for number, item in enumerate(value):
            if isinstance(item, dict):
                yield (*at, key, number), item


def has_unreadable(record: Cleaned, key: str) -> bool:
    """Whether the list, or one of its members, could not be read."""
    value = record[key]
    return value is BAD or (isinstance(value, list) and BAD in value)


def make_directory(document: Cleaned) -> Directory:
    found = Directory()
    for key in PART_LISTS:
        names = found.parts.setdefault(key, Names(open=has_unreadable(document, key)))
        for _, record in records(document, key):
            names.add(record["ref"])
    for key in WITH_JACKS:
        for _, part in records(document, key):
            _add_jacks(found, key, part)
    for _, supply in records(document, "supplies"):
        if isinstance(supply["ref"], str):
            outlets = found.outlets.setdefault(fold(supply["ref"]), Names())
            outlets.open |= has_unreadable(supply, "outlets")
            for _, outlet in members(supply, "outlets", ()):
                outlets.add(outlet["name"])
    return found


def power_entries(pedal: Cleaned, at: Pointer) -> Iterator[tuple[Pointer, Cleaned]]:
    """What the pedal says of its power jacks: one object, or a list of them."""
    if isinstance(pedal["power"], dict):
        yield (*at, "power"), pedal["power"]
    else:
        yield from members(pedal, "power", at)


def power_name(entry: Cleaned) -> object:
    """A power jack without a name is the pedal's one power jack."""
    return DEFAULT_POWER_NAME if entry["name"] is None else entry["name"]


def _add_jacks(found: Directory, key: str, part: Cleaned) -> None:
    if not isinstance(part["ref"], str):
        return
    jacks = found.jacks.setdefault(fold(part["ref"]), Jacks())
    if key == "sources":
        jacks.add(SOURCE_JACK.name, SOURCE_JACK.role)
        return
    jacks.names.open |= has_unreadable(part, "jacks")
    own = [(jack["name"], jack["role"]) for _, jack in members(part, "jacks", ())]
    if key == "amps" and part["jacks"] is None:
        own = [(jack.name, jack.role) for jack in Amp(ref="").jacks]
    for name, role in own:
        jacks.add(name, role)
    if key == "pedals":
        _add_power_jacks(found, jacks, part)


def _add_power_jacks(found: Directory, jacks: Jacks, pedal: Cleaned) -> None:
    """A pedal's power jacks are those it describes and every other jack of that role."""
    power = found.power_jacks.setdefault(fold(str(pedal["ref"])), Names())
    power.open |= has_unreadable(pedal, "power") or has_unreadable(pedal, "jacks")
    for _, entry in power_entries(pedal, ()):
        power.add(power_name(entry))
        jacks.add(power_name(entry), "power")
    for _, jack in members(pedal, "jacks", ()):
        if jack["role"] == "power":
            power.add(jack["name"])
        elif jack["role"] is BAD:
            power.open = True
