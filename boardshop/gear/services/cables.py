"""Keeping cable types, plug types and the cable on the shelf."""

from django.db import transaction

from boardshop.crew.constraints import refusals_by
from boardshop.crew.models import Shop
from boardshop.gear.constraints import GEAR_REFUSALS
from boardshop.gear.errors import NoSuchCable
from boardshop.gear.models import CableStock, CableType, PlugType
from boardshop.gear.records import CableRecord, PlugRecord, StockRecord
from boardshop.gear.services.keeping import check_name_free, check_seen, columns_of, save_changes
from boardshop.gear.shelves import cable_record, plug_record, stock_record


@transaction.atomic
def add_cable_type(shop: Shop, record: CableRecord) -> CableType:
    check_name_free(CableType.objects.filter(shop=shop), record.name)
    with refusals_by(GEAR_REFUSALS, name=str(record)):
        return CableType.objects.create(shop=shop, **columns_of(record))


@transaction.atomic
def change_cable_type(cable: CableType, record: CableRecord, *, seen: str | None = None) -> CableType:
    cable = CableType.objects.select_for_update().get(pk=cable.pk)
    check_seen(seen, cable_record(cable), record)
    check_name_free(CableType.objects.filter(shop=cable.shop_id).exclude(pk=cable.pk), record.name)
    with refusals_by(GEAR_REFUSALS, name=str(record)):
        save_changes(cable, columns_of(record))
    return cable


@transaction.atomic
def add_plug_type(shop: Shop, record: PlugRecord) -> PlugType:
    check_name_free(PlugType.objects.filter(shop=shop), record.name)
    with refusals_by(GEAR_REFUSALS, name=str(record)):
        return PlugType.objects.create(shop=shop, **columns_of(record))


@transaction.atomic
def change_plug_type(plug: PlugType, record: PlugRecord, *, seen: str | None = None) -> PlugType:
    plug = PlugType.objects.select_for_update().get(pk=plug.pk)
    check_seen(seen, plug_record(plug), record)
    check_name_free(PlugType.objects.filter(shop=plug.shop_id).exclude(pk=plug.pk), record.name)
    with refusals_by(GEAR_REFUSALS, name=str(record)):
        save_changes(plug, columns_of(record))
    return plug


@transaction.atomic
def add_stock(shop: Shop, record: StockRecord) -> CableStock:
    cable = _cable_named(shop.pk, record.cable)
    with refusals_by(GEAR_REFUSALS, name=str(record)):
        return CableStock.objects.create(shop=shop, **columns_of(record) | {"cable": cable})


@transaction.atomic
def change_stock(stock: CableStock, record: StockRecord, *, seen: str | None = None) -> CableStock:
    stock = CableStock.objects.select_related("cable").select_for_update(of=("self",)).get(pk=stock.pk)
    check_seen(seen, stock_record(stock), record)
    cable = _cable_named(stock.shop_id, record.cable)
    with refusals_by(GEAR_REFUSALS, name=str(record)):
        save_changes(stock, columns_of(record, without=("cable",)) | {"cable_id": cable.pk})
    return stock


def _cable_named(shop_id: int, name: str) -> CableType:
    cable = CableType.objects.filter(shop=shop_id, name__iexact=name).first()
    if cable is None:
        raise NoSuchCable(name=name)
    return cable
