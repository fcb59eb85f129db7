"""What lies between two states: each touched row as it was before and after."""

from __future__ import annotations

from boardshop.boards.history.state import HEAD, IDENTITY, Columns, State

type Pair = list[Columns | None]
"""The row before and after; None where there is none."""
type Patch = dict[str, dict[str, Pair]]


def make_patch(before: State, after: State) -> Patch:
    """The rows that differ, by table and key; empty for equal states."""
    patch: Patch = {}
    for table in {**before, **after}:
        old, new = before.get(table, {}), after.get(table, {})
        pairs = {key: [old.get(key), new.get(key)] for key in {**old, **new} if old.get(key) != new.get(key)}
        if pairs:
            patch[table] = pairs
    return patch


def reverse(patch: Patch) -> Patch:
    """What takes it back."""
    return {table: {key: [new, old] for key, (old, new) in rows.items()} for table, rows in patch.items()}


def without_identity(patch: Patch) -> Patch:
    """The same, leaving the board's name and owner as they are now."""
    heads: dict[str, Pair] = {
        key: [old, new | {name: old[name] for name in IDENTITY}]
        for key, (old, new) in patch.get(HEAD, {}).items()
        if old is not None and new is not None
    }
    kept = {key: pair for key, pair in heads.items() if pair[0] != pair[1]}
    rest = {table: rows for table, rows in patch.items() if table != HEAD}
    return {HEAD: kept, **rest} if kept else rest


def touched(pair: Pair) -> set[str]:
    """The columns that differ; all of them where the row came or went."""
    old, new = pair
    if old is None or new is None:
        return set(new or old or {})
    return {name for name in {**old, **new} if old.get(name) != new.get(name)}


def merge(pair: Pair, now: Columns | None) -> Columns | None:
    """The row that is there now with the columns of the pair's end; columns it does not touch stay."""
    old, new = pair
    if old is None or new is None or now is None:
        return new
    return now | {name: new[name] for name in touched(pair) if name in new}
