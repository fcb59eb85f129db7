"""Taking gear off the shop's lists into the trash, and putting it back."""

from collections.abc import Collection, Mapping
from datetime import datetime
from typing import cast

from django.db import models, transaction
from django.db.models import ProtectedError, RestrictedError

from boardshop.crew.constraints import refusals_by, uses_of
from boardshop.crew.models import Person
from boardshop.crew.trash import Trashable, kept_since, put_in_trash, take_out
from boardshop.gear.errors import GearInUse, GearNotInTrash, NameTakenSince, WholeInTrash
from boardshop.gear.models import (
    CableStock,
    CableType,
    DrawerItem,
    FrameModel,
    PedalModel,
    PlugType,
    ReadyMade,
    SupplyModel,
    Unit,
)

type GearRow = (
    PedalModel | SupplyModel | CableType | PlugType | FrameModel | CableStock | ReadyMade | DrawerItem | Unit
)

PURGED_IN_ORDER: tuple[type[GearRow], ...] = (
    *(Unit, CableStock, ReadyMade, DrawerItem, PedalModel, SupplyModel, CableType, PlugType, FrameModel),
)
"""What points to another kind goes before it."""
_UNIQUE = dict.fromkeys(
    [
        *(f"{kind}_model_once_per_shop" for kind in ("pedal", "supply", "frame")),
        *(f"{kind}_type_once_per_shop" for kind in ("cable", "plug")),
        "ready_made_once_per_shop",
        *(f"unit_serial_once_per_{kind}_model" for kind in ("pedal", "supply")),
    ],
    NameTakenSince,
)


@transaction.atomic
def delete_gear(row: GearRow, person: Person | None = None) -> None:
    """Into the trash; raises GearInUse when a board or a unit outside the trash still needs it.

    Deleted a second time it keeps its day.
    """
    row = _locked(row)
    users = uses_of(row)
    if users:
        raise GearInUse(name=str(row), users=users)
    if row.trashed_at is None:
        put_in_trash(row, person)


@transaction.atomic
def restore_gear(row: GearRow) -> None:
    """Raises GearNotInTrash, WholeInTrash for what belongs to gear in the trash, or NameTakenSince."""
    row = _locked(row)
    if row.trashed_at is None or row.trashed_at < kept_since():
        raise GearNotInTrash(name=str(row))
    for whole in _wholes(row):
        if whole is not None and whole.trashed_at is not None:
            raise WholeInTrash(name=str(row), whole=str(whole))
    with refusals_by(_UNIQUE, name=str(row)):
        take_out(row)


def purge_gear(
    before: datetime, kept: Mapping[type[models.Model], Collection[int]] | None = None
) -> tuple[int, list[str]]:
    """Delete for good what lies in the trash since before that time.

    `kept` are the keys of rows that stay whatever their age, by model.
    Returns how many rows went, and the names of those that something still holds.
    """
    gone, held = 0, list[str]()
    for model in PURGED_IN_ORDER:
        for row in model.with_trash.filter(trashed_at__lt=before).order_by("pk"):
            if row.pk in (kept or {}).get(model, ()):
                held.append(str(row))
                continue
            try:
                with transaction.atomic():
                    row.delete()
            except (ProtectedError, RestrictedError):
                held.append(str(row))
            else:
                gone += 1
    return gone, held


def _wholes(row: GearRow) -> tuple[Trashable | None, ...]:
    """What the row belongs to: its model and its owner, or its cable."""
    if isinstance(row, Unit):
        return row.of, row.owner
    return (row.cable,) if isinstance(row, CableStock) else ()


def _locked[Row: GearRow](row: Row) -> Row:
    """The row as it is now; whoever would put it to use at this moment waits."""
    locked = type(row)._base_manager.select_for_update().get(pk=row.pk)
    return cast("Row", locked)
