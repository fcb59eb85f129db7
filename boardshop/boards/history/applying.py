"""Putting rows back: a patch becomes statements, and what it needs of the shop's gear is looked for first."""

from __future__ import annotations

import json
from collections import defaultdict
from typing import Any

from django.db import IntegrityError, connection, models
from psycopg.errors import ForeignKeyViolation

from boardshop.boards.errors import GearGone, GearInTrash, UnitElsewhere
from boardshop.boards.history.conflicts import Spot, refs_of
from boardshop.boards.history.kept_cables import leave_out_cables
from boardshop.boards.history.patch import Patch, merge
from boardshop.boards.history.state import BY_NAME, HEAD, HEAD_COLUMNS, Columns, State, Table, complete
from boardshop.boards.models import Board, Placement, SupplyPlacement
from boardshop.boards.units import say_unit


def apply_patch(board: Board, patch: Patch, now: State) -> list[str]:
    """Write the rows at the patch's end; call it inside a transaction, on a patch without conflicts.

    Returns in sentences which links are left without the made cable that they had.

    Raises GearGone or GearInTrash where a row uses gear that the shop has no more, UnitElsewhere for a unit
    that stands on another board.  A touched row is taken
    away and written anew, so that rows that swap what only one may have do not meet in the middle.
    """
    rows = {table: _merged(changed, now.get(table, {})) for table, changed in patch.items()}
    _check_gear(rows, now)
    _check_units(board, rows)
    said = leave_out_cables(rows, now)
    with connection.cursor() as cursor:
        for name, changed in rows.items():
            if name != HEAD:
                _delete(cursor, BY_NAME[name], [key for key in changed if key in now.get(name, {})])
        for name, changed in rows.items():
            written = [columns for columns in changed.values() if columns is not None]
            if name != HEAD:
                _insert(cursor, BY_NAME[name], written)
            elif written:
                _write_head(cursor, board, written[0])
        _check_keys(cursor)
    return said


def check_state(state: State) -> None:
    """Raises GearGone where rows that are kept aside use gear that the shop no longer has at all."""
    rows: dict[str, dict[str, Columns | None]] = {name: dict(kept) for name, kept in state.items()}
    missing = [
        spot
        for model, uses in _uses(rows).items()
        for found in [_found(model, {use[3] for use in uses})]
        for _columns, field, spot, key in uses
        if key not in found and not _may_be_blank(field)
    ]
    if missing:
        raise GearGone(things=", ".join(refs_of(missing, state)) or "Something on this board")


def _merged(changed: dict[str, Any], now: dict[str, Columns]) -> dict[str, Columns | None]:
    return {key: merge(pair, now.get(key)) for key, pair in changed.items()}


def _delete(cursor: Any, table: Table, keys: list[str]) -> None:
    if keys:
        numbers = [int(key) for key in keys]
        cursor.execute(f'DELETE FROM {table.name} WHERE "{table.key}" = ANY(%s)', [numbers])  # noqa: S608


def _insert(cursor: Any, table: Table, rows: list[Columns]) -> None:
    if rows:
        text = json.dumps([complete(table, row) for row in rows])
        record = f"jsonb_populate_recordset(NULL::{table.name}, %s::jsonb)"
        cursor.execute(f"INSERT INTO {table.name} SELECT * FROM {record}", [text])  # noqa: S608


def _write_head(cursor: Any, board: Board, columns: Columns) -> None:
    names = ", ".join(HEAD_COLUMNS)
    cursor.execute(
        f"UPDATE {HEAD} SET ({names}) = (SELECT {names} FROM jsonb_populate_record(NULL::{HEAD}, %s::jsonb))"  # noqa: S608
        " WHERE id = %s",
        [json.dumps(columns), board.pk],
    )


def _check_keys(cursor: Any) -> None:
    """Foreign keys are checked at the end of a transaction; here a broken one can still be told apart."""
    try:
        cursor.execute("SET CONSTRAINTS ALL IMMEDIATE")
        cursor.execute("SET CONSTRAINTS ALL DEFERRED")
    except IntegrityError as error:
        if isinstance(error.__cause__, ForeignKeyViolation):
            raise GearGone(things="Something") from error
        raise


def _check_gear(rows: dict[str, dict[str, Columns | None]], now: State) -> None:
    """Blanks what may be unknown, such as the catalogue's frame; refuses what the board cannot do without."""
    wanted = _uses(rows)
    missing: list[Spot] = []
    for model, uses in wanted.items():
        found = _found(model, {use[3] for use in uses})
        for columns, field, spot, key in uses:
            if found.get(key) is None and _may_be_blank(field):
                columns[field.column] = None
            elif found.get(key) is None:
                missing.append(spot)
        trashed = sorted(str(row) for row in found.values() if getattr(row, "trashed_at", None) is not None)
        if trashed:
            raise GearInTrash(things=", ".join(trashed))
    if missing:
        after = {table: {k: c for k, c in changed.items() if c} for table, changed in rows.items()}
        items = {"boards_item": now.get("boards_item", {}) | after.get("boards_item", {})}
        raise GearGone(things=", ".join(refs_of(missing, after | items)) or "Something on this board")


type _Use = tuple[Columns, Any, Spot, int]


def _check_units(board: Board, rows: dict[str, dict[str, Columns | None]]) -> None:
    """Raises UnitElsewhere for a unit that stands on another board now: one thing is in one place."""
    for model in (Placement, SupplyPlacement):
        written = rows.get(model._meta.db_table, {}).values()
        units = {columns["unit_id"] for columns in written if columns and columns.get("unit_id")}
        if units:
            elsewhere = model._default_manager.filter(unit__in=units).exclude(board=board)
            item = elsewhere.select_related("board", "unit").first()
            if item is not None and item.unit is not None:
                raise UnitElsewhere(unit=say_unit(item.unit), there=item.described_use())


def _uses(rows: dict[str, dict[str, Columns | None]]) -> dict[type[models.Model], list[_Use]]:
    """Which rows of the shop these rows use, by model."""
    wanted: dict[type[models.Model], list[_Use]] = defaultdict(list)
    for name, changed in rows.items():
        model = Board if name == HEAD else BY_NAME[name].model
        fields = [field for field in model._meta.local_concrete_fields if _is_outside(field)]
        for key, columns in changed.items():
            for field in fields:
                used = columns.get(str(field.column)) if columns else None
                if columns is not None and used is not None:
                    wanted[field.related_model].append((columns, field, (name, key), used))  # type: ignore[index]
    return wanted


def _may_be_blank(field: Any) -> bool:
    """A key that may be unknown, such as the catalogue's frame or the person who kept a finding."""
    return bool(field.null) and field.remote_field.on_delete is models.SET_NULL


def _is_outside(field: Any) -> bool:
    """A key of something that is no row of a board."""
    return bool(field.related_model) and field.related_model._meta.app_label != "boards"


def _found(model: type[models.Model], keys: set[int]) -> dict[int, models.Model]:
    return {row.pk: row for row in model._base_manager.filter(pk__in=keys)}
