"""Keeping units: the physical pedals and supplies with their serials, owners and measured draws."""

from typing import Any

from django.db import transaction
from django.db.models import QuerySet

from boardshop.crew.constraints import refusals_by, uses_of
from boardshop.crew.models import Client, Shop
from boardshop.gear.checks import check_unit
from boardshop.gear.constraints import GEAR_REFUSALS
from boardshop.gear.errors import NoSuchModel, NoSuchOwner, NoSuchPowerJack, SerialTaken, UnitStandsOnBoard
from boardshop.gear.models import PedalModel, SupplyModel, Unit, UnitDraw
from boardshop.gear.records import Draw, UnitRecord
from boardshop.gear.services.keeping import check_seen, columns_of, save_changes
from boardshop.gear.shelves import unit_record, whole_units

_ELSEWHERE = ("what", "maker", "model", "owner", "draws")


@transaction.atomic
def add_unit(shop: Shop, record: UnitRecord) -> Unit:
    """Raises NoSuchModel, NoSuchOwner, SerialTaken, NoSuchPowerJack."""
    check_unit(record)
    columns = _columns(shop.pk, record)
    _check_serial_free(Unit.objects.filter(shop=shop), record)
    with refusals_by(GEAR_REFUSALS, name=str(record)):
        unit = Unit.objects.create(shop=shop, **columns)
        _write_draws(unit, record)
    return unit


@transaction.atomic
def change_unit(unit: Unit, record: UnitRecord, *, seen: str | None = None) -> Unit:
    """Raises ChangedMeanwhile and UnitStandsOnBoard besides what `add_unit` raises."""
    check_unit(record)
    unit = whole_units(Unit.objects.select_for_update(of=("self",))).get(pk=unit.pk)
    check_seen(seen, unit_record(unit), record)
    _check_serial_free(Unit.objects.filter(shop=unit.shop_id).exclude(pk=unit.pk), record)
    columns = _columns(unit.shop_id, record)
    _check_model_free(unit, columns)
    with refusals_by(GEAR_REFUSALS, name=str(record)):
        save_changes(unit, columns)
        _write_draws(unit, record)
    return unit


@transaction.atomic
def measure_draw(unit: Unit, draw: Draw) -> UnitDraw:
    """Record what one power jack of this unit draws; a newer figure replaces the older one.

    Raises NoSuchPowerJack.
    """
    unit = Unit.objects.select_for_update(of=("self",)).get(pk=unit.pk)
    _check_jacks(unit, [draw])
    UnitDraw.objects.filter(unit=unit, jack__iexact=draw.jack).exclude(jack=draw.jack).delete()
    row, _ = UnitDraw.objects.update_or_create(
        unit=unit, jack=draw.jack, defaults={"measured": draw.measured, "on": draw.on, "by": draw.by}
    )
    return row


def _write_draws(unit: Unit, record: UnitRecord) -> None:
    stored = tuple(
        Draw(jack=d.jack, measured=d.measured, on=d.on, by=d.by) for d in UnitDraw.objects.filter(unit=unit)
    )
    if stored == record.draws:
        return
    _check_jacks(unit, record.draws)
    UnitDraw.objects.filter(unit=unit).delete()
    UnitDraw.objects.bulk_create(
        UnitDraw(unit=unit, jack=d.jack, measured=d.measured, on=d.on, by=d.by) for d in record.draws
    )


def _check_jacks(unit: Unit, draws: list[Draw] | tuple[Draw, ...]) -> None:
    names = list(unit.pedal.power_jacks.values_list("name", flat=True)) if unit.pedal else []
    for draw in draws:
        if draw.jack.upper() not in [name.upper() for name in names]:
            model = str(unit.pedal or unit.supply)
            raise NoSuchPowerJack(name=model, jack=draw.jack, known=", ".join(names) or "none")


def _check_serial_free(others: QuerySet[Unit], record: UnitRecord) -> None:
    same = others.filter(
        **{
            f"{record.what}__maker__iexact": record.maker,
            f"{record.what}__name__iexact": record.model,
            "serial__iexact": record.serial,
        }
    )
    if record.serial and same.exists():
        raise SerialTaken(name=str(record))


def _check_model_free(unit: Unit, columns: dict[str, Any]) -> None:
    """A board keeps the model beside the unit, and its jacks are those that are linked and fed there."""
    if (columns["pedal"], columns["supply"]) == (unit.pedal, unit.supply):
        return
    users = uses_of(unit)
    if users:
        raise UnitStandsOnBoard(name=str(unit), users=users)


def _columns(shop_id: int, record: UnitRecord) -> dict[str, Any]:
    models: QuerySet[Any] = (PedalModel if record.what == "pedal" else SupplyModel).objects.filter(
        shop=shop_id, maker__iexact=record.maker, name__iexact=record.model
    )
    model = models.first()
    if model is None:
        raise NoSuchModel(what=record.what, name=f"{record.maker} {record.model}".strip())
    owner = Client.objects.filter(shop=shop_id, name__iexact=record.owner).first() if record.owner else None
    if record.owner and owner is None:
        raise NoSuchOwner(name=record.owner)
    pair = {"pedal": None, "supply": None} | {record.what: model}
    return columns_of(record, without=_ELSEWHERE) | pair | {"owner": owner}
