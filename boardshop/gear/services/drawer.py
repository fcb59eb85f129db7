"""Keeping the shop's drawer of leads and adapters."""

from django.db import transaction
from django.db.models import QuerySet

from boardshop.crew.constraints import refusals_by
from boardshop.crew.models import Shop
from boardshop.gear.checks import check_gauges
from boardshop.gear.constraints import GEAR_REFUSALS
from boardshop.gear.errors import SameInDrawer
from boardshop.gear.models import DrawerItem
from boardshop.gear.records import DrawerRecord
from boardshop.gear.services.keeping import check_seen, columns_of, save_changes
from boardshop.gear.shelves import drawer_record


@transaction.atomic
def add_drawer_item(shop: Shop, record: DrawerRecord) -> DrawerItem:
    """Raises GaugesDiffer, SameInDrawer, or what else it is refused for."""
    check_gauges(record)
    _check_apart(DrawerItem.objects.filter(shop=shop), record)
    with refusals_by(GEAR_REFUSALS, name=str(record)):
        return DrawerItem.objects.create(shop=shop, **columns_of(record))


@transaction.atomic
def change_drawer_item(item: DrawerItem, record: DrawerRecord, *, seen: str | None = None) -> DrawerItem:
    """Raises ChangedMeanwhile, GaugesDiffer, SameInDrawer, or what else it is refused for."""
    check_gauges(record)
    item = DrawerItem.objects.select_for_update().get(pk=item.pk)
    check_seen(seen, drawer_record(item), record)
    _check_apart(DrawerItem.objects.filter(shop=item.shop_id).exclude(pk=item.pk), record)
    with refusals_by(GEAR_REFUSALS, name=str(record)):
        save_changes(item, columns_of(record))
    return item


def _check_apart(others: QuerySet[DrawerItem], record: DrawerRecord) -> None:
    """Things of one sort are one entry with a count, so that each has one line of a table."""
    if others.filter(**columns_of(record, without=("count",))).exists():
        raise SameInDrawer(name=str(record))
