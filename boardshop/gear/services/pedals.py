"""Keeping the data sheets of pedals."""

from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from django.db import transaction

from boardshop.crew.constraints import refusals_by
from boardshop.crew.models import Shop
from boardshop.gear.checks import check_pedal
from boardshop.gear.constraints import GEAR_REFUSALS
from boardshop.gear.models import PedalJack, PedalModel, PedalSwitch, PowerJack, UnitDraw
from boardshop.gear.records import PedalRecord
from boardshop.gear.services.keeping import check_name_free, check_seen, columns_of, save_changes
from boardshop.gear.services.rows import add_named_rows, write_named_rows
from boardshop.gear.shelves import pedal_record

_ROWS = ("jacks", "switches", "power")


@transaction.atomic
def add_pedal_model(shop: Shop, record: PedalRecord) -> PedalModel:
    """Raises NameTaken, or what else the data sheet is refused for."""
    check_pedal(record)
    check_name_free(PedalModel.objects.filter(shop=shop), record.name, record.maker)
    with refusals_by(GEAR_REFUSALS, name=str(record)):
        model = PedalModel.objects.create(shop=shop, **_columns(record))
        _add_rows(model, record)
    return model


@transaction.atomic
def change_pedal_model(
    model: PedalModel,
    record: PedalRecord,
    *,
    seen: str | None = None,
    renamed_jacks: Mapping[str, str] | None = None,
    renamed_power: Mapping[str, str] | None = None,
) -> PedalModel:
    """Make the data sheet read as `record`; jacks keep their rows, found by name or by `renamed_...`.

    Raises ChangedMeanwhile when `seen` is not the mark of what is stored, PieceInUse when a jack that a
    board uses is to go, NameTaken and the like.
    """
    check_pedal(record)
    model = PedalModel.objects.select_for_update().get(pk=model.pk)
    check_seen(seen, pedal_record(model), record)
    others = PedalModel.objects.filter(shop=model.shop_id).exclude(pk=model.pk)
    check_name_free(others, record.name, record.maker)
    with refusals_by(GEAR_REFUSALS, name=str(record)):
        save_changes(model, _columns(record))
        _write_rows(model, record, renamed_jacks or {}, renamed_power or {})
    return model


def _add_rows(model: PedalModel, record: PedalRecord) -> None:
    add_named_rows([asdict(jack) for jack in record.jacks], PedalJack(model=model))
    add_named_rows(_needs(record), PowerJack(model=model))
    _add_switches(model, record)


def _write_rows(
    model: PedalModel, record: PedalRecord, renamed_jacks: Mapping[str, str], renamed_power: Mapping[str, str]
) -> None:
    name, jacks = str(record), [asdict(jack) for jack in record.jacks]
    write_named_rows(model.jacks.all(), jacks, PedalJack(model=model), owner=name, renamed=renamed_jacks)
    write_named_rows(
        model.power_jacks.all(), _needs(record), PowerJack(model=model), owner=name, renamed=renamed_power
    )
    _rename_draws(model, renamed_power)
    if [(row.x, row.y) for row in model.switches.all()] != [(at.x, at.y) for at in record.switches]:
        model.switches.all().delete()
        _add_switches(model, record)


def _needs(record: PedalRecord) -> list[dict[str, Any]]:
    """The power jacks as columns; what was measured belongs to units."""
    needs = [asdict(jack) for jack in record.power]
    for need in needs:
        del need["measured"]
    return needs


def _rename_draws(model: PedalModel, renamed: Mapping[str, str]) -> None:
    """What was measured stays with its jack; the draws name it by text."""
    draws = {draw.pk: draw.jack for draw in UnitDraw.objects.filter(unit__pedal=model)} if renamed else {}
    aim = {old.upper(): new for old, new in renamed.items() if old != new}
    moved = {pk: aim[jack.upper()] for pk, jack in draws.items() if jack.upper() in aim}
    for pk in moved:
        UnitDraw.objects.filter(pk=pk).update(jack=f"~{pk}")
    for pk, jack in moved.items():
        UnitDraw.objects.filter(pk=pk).update(jack=jack)


def _add_switches(model: PedalModel, record: PedalRecord) -> None:
    PedalSwitch.objects.bulk_create(
        PedalSwitch(model=model, position=n, x=at.x, y=at.y) for n, at in enumerate(record.switches)
    )


def _columns(record: PedalRecord) -> dict[str, Any]:
    return columns_of(record, without=_ROWS) | {"turns": list(record.turns)}
