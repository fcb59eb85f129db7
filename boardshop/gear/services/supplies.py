"""Keeping the data sheets of power supplies."""

from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from django.db import transaction

from boardshop.crew.constraints import refusals_by
from boardshop.crew.models import Shop
from boardshop.gear.checks import check_supply
from boardshop.gear.constraints import GEAR_REFUSALS
from boardshop.gear.models import Outlet, OutletSetting, SupplyLead, SupplyModel
from boardshop.gear.records import SupplyRecord
from boardshop.gear.services.keeping import check_name_free, check_seen, columns_of, save_changes
from boardshop.gear.services.rows import write_named_rows
from boardshop.gear.shelves import supply_record


@transaction.atomic
def add_supply_model(shop: Shop, record: SupplyRecord) -> SupplyModel:
    """Raises NameTaken, or what else the data sheet is refused for."""
    check_supply(record)
    check_name_free(SupplyModel.objects.filter(shop=shop), record.name, record.maker)
    with refusals_by(GEAR_REFUSALS, name=str(record)):
        model = SupplyModel.objects.create(shop=shop, **_columns(record))
        _write_outlets(model, record, {})
        _write_leads(model, record)
    return model


@transaction.atomic
def change_supply_model(
    model: SupplyModel,
    record: SupplyRecord,
    *,
    seen: str | None = None,
    renamed: Mapping[str, str] | None = None,
) -> SupplyModel:
    """Make the data sheet read as `record`; outlets keep their rows, found by name or by `renamed`.

    Raises ChangedMeanwhile, PieceInUse when an outlet that a board uses is to go, NameTaken and the like.
    """
    check_supply(record)
    model = SupplyModel.objects.select_for_update().get(pk=model.pk)
    check_seen(seen, supply_record(model), record)
    others = SupplyModel.objects.filter(shop=model.shop_id).exclude(pk=model.pk)
    check_name_free(others, record.name, record.maker)
    with refusals_by(GEAR_REFUSALS, name=str(record)):
        save_changes(model, _columns(record))
        _write_outlets(model, record, renamed or {})
        _write_leads(model, record)
    return model


def _write_outlets(model: SupplyModel, record: SupplyRecord, renamed: Mapping[str, str]) -> None:
    wanted = [asdict(outlet) for outlet in record.outlets]
    for columns in wanted:
        del columns["settings"]
    rows = write_named_rows(
        model.outlets.all(), wanted, Outlet(supply=model), owner=str(record), renamed=renamed
    )
    stored: dict[int, list[tuple[int, int, int | None]]] = {row.pk: [] for row in rows}
    for setting in OutletSetting.objects.filter(outlet__in=rows):
        stored[setting.outlet_id].append((setting.min_mv, setting.max_mv, setting.max_ma))
    for row, outlet in zip(rows, record.outlets, strict=True):
        values = [(setting.min_mv, setting.max_mv, setting.max_ma) for setting in outlet.settings]
        if stored[row.pk] != values:
            row.settings.all().delete()
            OutletSetting.objects.bulk_create(
                OutletSetting(outlet=row, position=n, min_mv=low, max_mv=high, max_ma=limit)
                for n, (low, high, limit) in enumerate(values)
            )


def _write_leads(model: SupplyModel, record: SupplyRecord) -> None:
    """Nothing points to a lead, so other leads are other rows."""
    if supply_record(model).leads == record.leads:
        return
    model.leads.all().delete()
    SupplyLead.objects.bulk_create(
        SupplyLead(supply=model, position=n, **asdict(lead) | {"connector": lead.connector or ""})
        for n, lead in enumerate(record.leads)
    )


def _columns(record: SupplyRecord) -> dict[str, Any]:
    return columns_of(record, without=("outlets", "leads")) | {"mains_hz": list(record.mains_hz)}
