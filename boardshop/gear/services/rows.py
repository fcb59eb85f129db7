"""Writing the rows that belong to a data sheet, such that whatever points to one of them lives on."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from django.db import models
from django.db.models import ProtectedError, RestrictedError

from boardshop.crew.constraints import users_of, uses_of
from boardshop.gear.errors import PieceInUse

type Columns = dict[str, Any]

BLANK_WORDS = frozenset(
    {"role", "side", "connector", "channels", "current", "polarity", "ground_pole", "share", "group"}
)
FIXED_WHILE_USED = ("role",)
"""What a jack is used as hangs on these, so they stay while a board uses it."""


def as_columns(value: Columns) -> Columns:
    """Columns of a core value: a word that nobody recorded is stored as blank text."""
    return {name: "" if v is None and name in BLANK_WORDS else v for name, v in value.items()}


def write_named_rows[Row: models.Model](
    rows: Iterable[Row],
    wanted: Sequence[Columns],
    new: Row,
    *,
    owner: str,
    renamed: Mapping[str, str],
) -> list[Row]:
    """Make the rows of one owner those in `wanted`, in that order; rows are told apart by `name`.

    A row whose name is still wanted is changed in place, so that foreign keys to it live on; `renamed`
    says old name -> new name.  `new` is an unsaved row that points to the owner.
    Raises PieceInUse when a row that is to go, or to change its role, is used elsewhere.
    """
    aim = {old.upper(): name.upper() for old, name in renamed.items()}
    found = {aim.get(row.name.upper(), row.name.upper()): row for row in rows}  # type: ignore[attr-defined]
    if not found:
        return add_named_rows(wanted, new)
    keys = [columns["name"].upper() for columns in wanted]
    for key, row in found.items():
        if key not in keys:
            _remove(row, owner)
    _step_aside(row for key, row in found.items() if key in keys and key != row.name.upper())  # type: ignore[attr-defined]
    return [
        _write(found.get(key), columns | {"position": n}, new, owner)
        for n, (key, columns) in enumerate(zip(keys, wanted, strict=True))
    ]


def add_named_rows[Row: models.Model](wanted: Sequence[Columns], new: Row) -> list[Row]:
    """The rows of an owner that has none yet, in one query."""
    owners = _owners_of(new)
    return type(new)._default_manager.bulk_create(
        type(new)(**owners, **as_columns(columns), position=n) for n, columns in enumerate(wanted)
    )


def _owners_of(new: models.Model) -> Columns:
    return {f.attname: getattr(new, f.attname) for f in new._meta.fields if f.is_relation}


def _write[Row: models.Model](row: Row | None, columns: Columns, new: Row, owner: str) -> Row:
    columns = as_columns(columns)
    if row is None:
        return type(new)._default_manager.create(**_owners_of(new), **columns)
    changed = [name for name, value in columns.items() if getattr(row, name) != value]
    users = uses_of(row) if any(name in FIXED_WHILE_USED for name in changed) else ""
    if users:
        raise PieceInUse(piece=columns["name"], name=owner, users=users)
    for name in changed:
        setattr(row, name, columns[name])
    if changed:
        row.save(update_fields=changed)
    return row


def _remove(row: models.Model, owner: str) -> None:
    try:
        row.delete()
    except (ProtectedError, RestrictedError) as error:
        raise PieceInUse(piece=str(row), name=owner, users=users_of(error)) from error


def _step_aside(rows: Iterable[Any]) -> None:
    """Names that change places would meet on the way; each goes by its key first."""
    for row in rows:
        row.name = f"~{row.pk}"
        row.save(update_fields=["name"])
