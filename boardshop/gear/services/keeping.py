"""What adding and changing any piece of gear have in common."""

import hashlib
from collections.abc import Iterable
from dataclasses import fields
from typing import Any

from django.db import models
from django.utils.translation import gettext

from boardshop.gear.errors import ChangedMeanwhile, NameMissing, NameTaken
from boardshop.gear.records import GearRecord


def mark_of(record: GearRecord) -> str:
    """A short mark of everything recorded; a form carries the one it saw."""
    return hashlib.sha256(repr(record).encode()).hexdigest()[:24]


def check_seen(seen: str | None, stored: GearRecord, typed: GearRecord) -> None:
    """Refuse to overwrite what the person has not seen, unless it is what they typed anyway."""
    if seen is None or seen == mark_of(stored) or stored == typed:
        return
    changes = [
        f.name.replace("_", " ") for f in fields(stored) if getattr(stored, f.name) != getattr(typed, f.name)
    ]
    raise ChangedMeanwhile(
        name=str(stored), changes=gettext("now different from yours: %s") % ", ".join(changes)
    )


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
