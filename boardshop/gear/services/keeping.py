"""What adding and changing any piece of gear have in common."""

from collections.abc import Iterable
from dataclasses import fields
from typing import Any

from django.db import models

from boardshop.crew import seen as seen_by_form
from boardshop.crew.seen import mark_of as mark_of
from boardshop.gear.errors import NameMissing, NameTaken
from boardshop.gear.records import GearRecord


def check_seen(seen: str | None, stored: GearRecord, typed: GearRecord) -> None:
    """Refuse to overwrite what the person has not seen, unless it is what they typed anyway."""
    now, wanted = columns_of(stored), columns_of(typed)
    seen_by_form.check_seen(seen, mark_of(stored), now, wanted, str(stored))


def check_name_free(others: models.QuerySet[Any], name: str, maker: str | None = None) -> None:
    """`others` are the shop's rows of the kind, without the row itself; case does not tell names apart."""
    if not name:
        raise NameMissing
    same = others.filter(name__iexact=name)
    if maker is not None:
        same = same.filter(maker__iexact=maker)
    if same.exists():
        raise NameTaken(name=f"{maker or ''} {name}".strip())


def columns_of(record: GearRecord, *, without: Iterable[str] = ()) -> dict[str, Any]:
    """The record's own columns, without those that are rows elsewhere."""
    left_out = set(without)
    return {f.name: getattr(record, f.name) for f in fields(record) if f.name not in left_out}


def save_changes(row: models.Model, columns: dict[str, Any]) -> None:
    """Write the columns that differ, and only those."""
    changed = [name for name, value in columns.items() if getattr(row, name) != value]
    for name in changed:
        setattr(row, name, columns[name])
    if changed:
        row.save(update_fields=changed)
