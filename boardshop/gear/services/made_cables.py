"""Keeping the register of made cables: added, corrected, scrapped, taken from the scrap again."""

from datetime import date
from typing import Any

from django.db import transaction

from boardshop.core.cables.register_words import LONGEST_MM, SHORTEST_MM
from boardshop.crew.constraints import refusals_by, uses_of
from boardshop.crew.models import Shop
from boardshop.crew.trash import Trashable
from boardshop.gear.constraints import GEAR_REFUSALS
from boardshop.gear.errors import (
    CableLengthImpossible,
    CableNotScrapped,
    CableOnBoard,
    CableScrapped,
    NoSuchCable,
    NoSuchPlug,
    WholeInTrash,
)
from boardshop.gear.models import CableType, MadeCable, PlugType
from boardshop.gear.models.made_cables import new_cable_code
from boardshop.gear.records import MadeCableRecord
from boardshop.gear.services.keeping import check_seen, columns_of, save_changes

FACTS = ("kind", "cable_id", "plug_a_id", "plug_b_id", "length")
"""What a cable is; its tests are of these, and its board counts on them."""
DRAWS = 20
"""So often an id is drawn; of 810000 ids a shop uses a few hundred."""


@transaction.atomic
def add_made_cable(shop: Shop, record: MadeCableRecord) -> MadeCable:
    """Under an id that no cable of the shop ever had.

    Raises CableLengthImpossible, NoSuchCable, NoSuchPlug.
    """
    columns = _columns(shop.pk, record)
    with refusals_by(GEAR_REFUSALS, name=str(record)):
        return MadeCable.objects.create(shop=shop, code=_free_code(shop), **columns)


@transaction.atomic
def change_made_cable(cable: MadeCable, record: MadeCableRecord, *, seen: str | None = None) -> MadeCable:
    """Raises CableOnBoard where what it is would change under a board, CableScrapped, ChangedMeanwhile.

    One that is something else than was tested counts as not tested; one that failed has failed all the same.
    """
    cable = locked(cable)
    check_not_scrapped(cable)
    check_seen(seen, made_cable_record(cable), record)
    columns = _columns(cable.shop_id, record)
    if any(columns[fact] != getattr(cable, fact) for fact in FACTS):
        there = uses_of(cable)
        if there:
            raise CableOnBoard(name=cable.code, there=there)
        if cable.verdict != "failed":
            columns |= {"verdict": "", "tested_on": None}
    with refusals_by(GEAR_REFUSALS, name=cable.code):
        save_changes(cable, columns)
    return cable


@transaction.atomic
def scrap(cable: MadeCable, on: date, why: str) -> MadeCable:
    """Its row and id stay, and no board may have it: take it off there first."""
    cable = locked(cable)
    check_not_scrapped(cable)
    save_changes(cable, {"scrapped_on": on, "scrapped_why": why})
    return cable


@transaction.atomic
def take_from_scrap(cable: MadeCable) -> MadeCable:
    """To the bench, to be tested anew; one that failed has failed all the same.

    Raises CableNotScrapped, or WholeInTrash where what it is made of lies in the trash.
    """
    cable = locked(cable)
    if not cable.is_scrapped:
        raise CableNotScrapped(name=cable.code)
    wholes: tuple[Trashable | None, ...] = (cable.cable, cable.plug_a, cable.plug_b)
    for whole in wholes:
        if whole is not None and whole.trashed_at is not None:
            raise WholeInTrash(name=cable.code, whole=str(whole))
    verdict = cable.verdict if cable.verdict == "failed" else ""
    columns = {"scrapped_on": None, "scrapped_why": "", "place": "bench", "where": "", "verdict": verdict}
    save_changes(cable, columns)
    return cable


def made_cable_record(cable: MadeCable) -> MadeCableRecord:
    """Reads its type and plugs: bring them with the row."""
    return MadeCableRecord(
        length=cable.length,
        kind=cable.kind,
        cable=cable.cable.name if cable.cable else "",
        reel=cable.reel,
        plug_a=cable.plug_a.name if cable.plug_a else "",
        plug_b=cable.plug_b.name if cable.plug_b else "",
        made_by=cable.made_by,
        made_on=cable.made_on,
        place=cable.place,
        where=cable.where,
        note=cable.note,
    )


def locked(cable: MadeCable) -> MadeCable:
    """As it is now, with what it is made of; whoever would put it to use at this moment waits."""
    rows = MadeCable.objects.select_related("shop", "cable", "plug_a", "plug_b")
    return rows.select_for_update(of=("self",)).get(pk=cable.pk)


def check_not_scrapped(cable: MadeCable) -> None:
    if cable.is_scrapped:
        raise CableScrapped(name=cable.code, on=cable.scrapped_on)


def _free_code(shop: Shop) -> str:
    """Postgres has the last word where two are drawn at once."""
    code = new_cable_code()
    for _draw in range(DRAWS):
        if not MadeCable.objects.filter(shop=shop, code=code).exists():
            break
        code = new_cable_code()
    return code


def _columns(shop_id: int, record: MadeCableRecord) -> dict[str, Any]:
    if not SHORTEST_MM <= record.length <= LONGEST_MM:
        raise CableLengthImpossible
    keys = {"cable_id": _cable_named(shop_id, record.cable)}
    keys |= {f"{end}_id": _plug_named(shop_id, end, getattr(record, end)) for end in ("plug_a", "plug_b")}
    return columns_of(record, without=("cable", "plug_a", "plug_b")) | keys


def _cable_named(shop_id: int, name: str) -> int | None:
    found = CableType.objects.filter(shop=shop_id, name__iexact=name).first() if name else None
    if name and found is None:
        raise NoSuchCable(name=name)
    return found.pk if found else None


def _plug_named(shop_id: int, end: str, name: str) -> int | None:
    found = PlugType.objects.filter(shop=shop_id, name__iexact=name).first() if name else None
    if name and found is None:
        raise NoSuchPlug(field=end, name=name)
    return found.pk if found else None
