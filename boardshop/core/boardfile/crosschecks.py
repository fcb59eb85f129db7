"""What one value alone cannot tell: names that clash or lead nowhere, limits, impossible links and feeds."""

from boardshop.core.boardfile.directory import (
    PART_LISTS,
    Directory,
    make_directory,
    members,
    power_entries,
    power_name,
    records,
)
from boardshop.core.boardfile.faults import FaultList, Pointer
from boardshop.core.boardfile.feedchecks import check_feeds
from boardshop.core.boardfile.linkchecks import check_links
from boardshop.core.boardfile.walker import Cleaned, shown
from boardshop.core.index import fold

REFERENCES = (
    ("links", "cable", "cables"),
    ("links", "plug_from", "plugs"),
    ("links", "plug_to", "plugs"),
) + (
    ("stock", "cable", "cables"),
    ("pieces", "cable", "cables"),
)
"""List, key, and the list that the key's value must name a member of."""


def cross_check(document: Cleaned, faults: FaultList) -> None:
    """Find every such fault, and write each name the way its definition spells it."""
    directory = make_directory(document)
    _check_refs_differ(document, faults)
    _check_inner_names(document, faults)
    _check_jacks_on_sides(document, faults)
    _check_limits(document, faults)
    _check_references(document, directory, faults)
    check_links(document, directory, faults)
    check_feeds(document, directory, faults)


def _check_refs_differ(document: Cleaned, faults: FaultList) -> None:
    taken: dict[str, str] = {}
    for key, kind in PART_LISTS.items():
        for at, record in records(document, key):
            ref = record["ref"]
            if not isinstance(ref, str):
                continue
            if fold(ref) in taken:
                faults.add((*at, "ref"), f"{shown(ref)} is already the ref of {taken[fold(ref)]}")
            else:
                taken[fold(ref)] = f"the {kind} {shown(ref)}"


def _check_inner_names(document: Cleaned, faults: FaultList) -> None:
    """Jacks of one thing, outlets of one supply and scenes have names of their own."""
    for key in ("pedals", "amps", "computers"):
        for at, part in records(document, key):
            jacks = [((*spot, "name"), jack["name"]) for spot, jack in members(part, "jacks", at)]
            _check_differ(jacks, "jack", faults)
    for at, pedal in records(document, "pedals"):
        entries = [((*spot, "name"), spot, entry) for spot, entry in power_entries(pedal, at)]
        named = [(spot if e["name"] is None else name_at, power_name(e)) for name_at, spot, e in entries]
        _check_differ(named, "power jack", faults)
        _check_power_is_power(pedal, named, at, faults)
    for at, supply in records(document, "supplies"):
        outlets = [((*spot, "name"), outlet["name"]) for spot, outlet in members(supply, "outlets", at)]
        _check_differ(outlets, "outlet", faults)
    scenes = [((*at, "name"), scene["name"]) for at, scene in records(document, "scenes")]
    _check_differ(scenes, "scene", faults)


def _check_differ(named: list[tuple[Pointer, object]], what: str, faults: FaultList) -> None:
    seen: set[str] = set()
    for at, name in named:
        if isinstance(name, str) and name:
            if fold(name) in seen:
                faults.add(at, f"{shown(name)} is already the name of another {what} here")
            seen.add(fold(name))


def _check_power_is_power(
    pedal: Cleaned, named: list[tuple[Pointer, object]], at: Pointer, faults: FaultList
) -> None:
    roles = {
        fold(jack["name"]): jack["role"]
        for _, jack in members(pedal, "jacks", at)
        if isinstance(jack["name"], str) and isinstance(jack["role"], str)
    }
    for spot, name in named:
        if isinstance(name, str) and roles.get(fold(name), "power") != "power":
            faults.add(spot, f"{shown(name)} is the name of a jack that is no power jack")


def _check_jacks_on_sides(document: Cleaned, faults: FaultList) -> None:
    for at, pedal in records(document, "pedals"):
        for spot, jack in members(pedal, "jacks", at):
            along = "width" if jack["side"] in ("front", "rear") else "depth"
            length, offset = pedal[along], jack["offset"]
            measured = isinstance(length, int) and isinstance(offset, int) and isinstance(jack["side"], str)
            if measured and offset > length:  # type: ignore[operator]
                faults.add(
                    (*spot, "offset"),
                    f"is beyond the {jack['side']} side: {offset} mm along a {along} of {length} mm",
                )


def _check_limits(document: Cleaned, faults: FaultList) -> None:
    for at, pedal in records(document, "pedals"):
        for spot, entry in power_entries(pedal, at):
            _check_order(entry, "min", "max", spot, faults)
    for at, supply in records(document, "supplies"):
        if isinstance(supply["mains"], dict):
            _check_order(supply["mains"], "min", "max", (*at, "mains"), faults)
        for spot, outlet in members(supply, "outlets", at):
            for place, setting in members(outlet, "settings", spot):
                _check_order(setting, "min_mv", "max_mv", place, faults)
                _check_one_voltage(setting, place, faults)
    if isinstance(document["frame"], dict):
        for key in ("rails", "tiers"):
            for spot, band in members(document["frame"], key, ("frame",)):
                _check_order(band, "from", "to", spot, faults)
                if isinstance(band["to"], int) and band["from"] == band["to"]:
                    faults.add((*spot, "to"), "must be above from: the band has no depth")
    rules = document["rules"]
    together = rules["together_mm"] if isinstance(rules, dict) else None
    if isinstance(together, list):
        pair = {"least": together[0], "most": together[1]}
        _check_order(pair, "least", "most", ("rules", "together_mm"), faults)


def _check_order(record: Cleaned, low: str, high: str, at: Pointer, faults: FaultList) -> None:
    least, most = record[low], record[high]
    if isinstance(least, int) and isinstance(most, int) and least > most:
        named = (*at, low) if at != ("rules", "together_mm") else at
        faults.add(named, f"{low} {least} is above {high} {most}")


def _check_one_voltage(setting: Cleaned, at: Pointer, faults: FaultList) -> None:
    if setting["mv"] is not None and (setting["min_mv"], setting["max_mv"]) != (None, None):
        faults.add(at, "has mv and also min_mv or max_mv: a setting is either fixed or variable")


def _check_references(document: Cleaned, directory: Directory, faults: FaultList) -> None:
    for listed, key, wanted in REFERENCES:
        for at, record in records(document, listed):
            record[key] = _settle(record[key], wanted, (*at, key), directory, faults)
    for at, feed in records(document, "feeds"):
        if isinstance(feed["lead"], dict):
            lead = feed["lead"]
            lead["plug"] = _settle(lead["plug"], "plugs", (*at, "lead", "plug"), directory, faults)
    for listed, key in (("pedals", "with"), ("scenes", "on")):
        for at, record in records(document, listed):
            named = record[key]
            if isinstance(named, list):
                record[key] = [
                    _settle(ref, "pedals", (*at, key, number), directory, faults)
                    for number, ref in enumerate(named)
                ]


def _settle(ref: object, wanted: str, at: Pointer, directory: Directory, faults: FaultList) -> object:
    """The spelling of the definition; a name that leads nowhere stays, and is a fault."""
    if not isinstance(ref, str):
        return ref
    names = directory.parts[wanted]
    found = names.find(ref)
    if found is None and not names.open:
        faults.add(at, _dangling(ref, wanted, directory))
    return found or ref


def _dangling(ref: str, wanted: str, directory: Directory) -> str:
    kind = PART_LISTS[wanted]
    for key, names in directory.parts.items():
        if names.find(ref) is not None:
            return f"{shown(ref)} is a {PART_LISTS[key]}, not a {kind}"
    return f"{shown(ref)} is no {kind} of this board"
