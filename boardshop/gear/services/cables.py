"""Keeping cable types, plug types and the cable on the shelf."""

from django.db import transaction

from boardshop.crew.constraints import refusals_by
from boardshop.crew.models import Shop
from boardshop.gear.constraints import GEAR_REFUSALS
from boardshop.gear.errors import NoSuchCable
from boardshop.gear.models import CableStock, CableType, PlugType
from boardshop.gear.records import CableRecord, PlugRecord, StockRecord
from boardshop.gear.services.keeping import check_seen, columns_of, save_changes
from boardshop.gear.services.named import add_named, change_named
from boardshop.gear.shelves import cable_record, plug_record, stock_record


def add_cable_type(shop: Shop, record: CableRecord) -> CableType:
    return add_named(CableType, shop, record)


def change_cable_type(cable: CableType, record: CableRecord, *, seen: str | None = None) -> CableType:
    return change_named(cable, record, cable_record, seen)


def add_plug_type(shop: Shop, record: PlugRecord) -> PlugType:
    return add_named(PlugType, shop, record)


def change_plug_type(plug: PlugType, record: PlugRecord, *, seen: str | None = None) -> PlugType:
    return change_named(plug, record, plug_record, seen)


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
