"""Whether a patch still fits the rows that are there now, and on whom it would tread."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from boardshop.boards.history.patch import Pair, Patch, merge, touched
from boardshop.boards.history.state import HEAD, TABLES, Columns, State

type Spot = tuple[str, str]
"""A row by its table and key."""


@dataclass(frozen=True)
class Reference:
    """A column that holds the key of another row of the same board."""

    column: str
    target: str


@cache
def references() -> dict[str, tuple[Reference, ...]]:
    """By table, its columns that point to rows of the board."""
    names = {table.name for table in TABLES}
    found: dict[str, tuple[Reference, ...]] = {}
    for table in TABLES:
        fields = [field for field in table.model._meta.local_concrete_fields if field.related_model]
        pairs = [(str(field.column), field.related_model._meta.db_table) for field in fields]  # type: ignore[union-attr]
        found[table.name] = tuple(Reference(column, target) for column, target in pairs if target in names)
    return found


def result_of(patch: Patch, now: State) -> State:
    """The state that the patch makes of this one."""
    result = {table: dict(rows) for table, rows in now.items()}
    for table, rows in patch.items():
        for key, pair in rows.items():
            row = merge(pair, now.get(table, {}).get(key))
            if row is None:
                result[table].pop(key, None)
            else:
                result.setdefault(table, {})[key] = row
    return result


def find_conflicts(patch: Patch, now: State) -> list[Spot]:
    """Rows that somebody has changed since, or that something else hangs on; empty where the patch fits."""
    spots = [
        (table, key)
        for table, rows in patch.items()
        for key, pair in rows.items()
        if not _stands_as_left(pair, now.get(table, {}).get(key))
    ]
    return spots or _left_hanging(result_of(patch, now))


def _stands_as_left(pair: Pair, row: Columns | None) -> bool:
    old = pair[0]
    if old is None or row is None:
        return old is row
    return all(row.get(name) == old.get(name) for name in touched(pair))


def _left_hanging(state: State) -> list[Spot]:
    """Rows that point to one that would not be there."""
    return [
        (table, key)
        for table, rows in state.items()
        if table != HEAD
        for key, row in rows.items()
        if any(_is_missing(row, reference, state) for reference in references()[table])
    ]


def _is_missing(row: Columns, reference: Reference, state: State) -> bool:
    key = row.get(reference.column)
    return key is not None and str(key) not in state.get(reference.target, {})


def refs_of(spots: list[Spot], *states: State) -> list[str]:
    """The refs of what these rows are about, as far as they have one: `P4`, `W7`; each once."""
    found = [ref for spot in spots for state in states for ref in _refs_of(spot, state)]
    return list(dict.fromkeys(found))


def _refs_of(spot: Spot, state: State) -> Iterator[str]:
    table, key = spot
    items = state.get("boards_item", {})
    row = state.get(table, {}).get(key)
    if row is None:
        return
    for candidate in (key if key in items else None, row.get("pedal_id"), row.get("supply_id")):
        if str(candidate) in items:
            yield items[str(candidate)]["ref"]
            return
