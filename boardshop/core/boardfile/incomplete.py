"""Entries that lack a key without which they mean nothing: set aside when read, put back when written.

Only the format's required keys are refused for being absent, and unknown is never treated as fine.
So a keep-out without a depth, or a setting without a voltage, is kept in the plan as what it is and reported.
"""

import json
from collections.abc import Iterator

from boardshop.core.boardfile import power_tables, tables
from boardshop.core.boardfile.directory import members
from boardshop.core.boardfile.shapes import Record
from boardshop.core.boardfile.walker import Cleaned
from boardshop.core.plan import Incomplete

type Spot = tuple[str, Cleaned, str, Record]
"""What the spot is called, the object and key it stands in, and the shape of an entry."""


def spots(document: Cleaned) -> Iterator[Spot]:
    """Every place of a document where an entry may be incomplete, in the format's order."""
    frame = document.get("frame")
    if isinstance(frame, dict):
        yield "frame/rails", frame, "rails", tables.RAIL
        yield "frame/tiers", frame, "tiers", tables.TIER
        yield "frame/under", frame, "under", tables.UNDER
        yield "frame/keepouts", frame, "keepouts", tables.KEEPOUT
        yield "frame/members", frame, "members", tables.MEMBER
    for _, pedal in _records(document, "pedals"):
        yield f"{pedal['ref']}/switches", pedal, "switches", tables.POINT
        yield f"{pedal['ref']}/place", pedal, "place", tables.PLACE
    for _, supply in _records(document, "supplies"):
        for _, outlet in _records(supply, "outlets"):
            yield f"{supply['ref']}.{outlet['name']}/settings", outlet, "settings", power_tables.SETTING
        yield f"{supply['ref']}/place", supply, "place", power_tables.SUPPLY_PLACE
    yield "stock", document, "stock", tables.STOCK
    yield "pieces", document, "pieces", tables.PIECE


def set_aside(document: Cleaned) -> tuple[Incomplete, ...]:
    """Take the incomplete entries out of a cleaned document."""
    found: list[Incomplete] = []
    for where, owner, key, shape in spots(document):
        value = owner[key]
        if isinstance(value, list):
            owner[key] = [item for item in value if not _lacks(item, shape)]
            found += [_incomplete(where, item, shape) for item in value if _lacks(item, shape)]
        elif isinstance(value, dict) and _lacks(value, shape):
            owner[key] = None
            found.append(_incomplete(where, value, shape))
    return tuple(found)


def put_back(document: Cleaned, incomplete: tuple[Incomplete, ...]) -> None:
    """Write the entries into a dumped document again, after the complete ones of their list.

    What was recorded since, or whose owner has left the board, is left out.
    """
    if not incomplete:
        return
    places = {where: (owner, key) for where, owner, key, _ in spots(document)}
    for entry in incomplete:
        if entry.where not in places:
            continue
        owner, key = places[entry.where]
        value = json.loads(entry.text)
        if key in ("under", "place"):
            owner.setdefault(key, value)
        else:
            listed = owner.setdefault(key, [])
            assert isinstance(listed, list)
            listed.append(value)


def _records(record: Cleaned, key: str) -> Iterator[tuple[object, Cleaned]]:
    yield from members({key: None} | record, key, ())


def _lacks(item: object, shape: Record) -> tuple[str, ...]:
    if not isinstance(item, dict):
        return ()
    if shape is power_tables.SETTING:
        range_given = item["min_mv"] is not None and item["max_mv"] is not None
        return () if range_given or item["mv"] is not None else ("mv",)
    return tuple(key for key in shape.needed if item[key] is None)


def _incomplete(where: str, item: Cleaned, shape: Record) -> Incomplete:
    known = {key: value for key, value in item.items() if value is not None}
    return Incomplete(where, _lacks(item, shape), json.dumps(known, ensure_ascii=False))
