"""Keeping the shop's list of cables that are bought with their plugs on."""

from django.db import transaction

from boardshop.crew.constraints import refusals_by
from boardshop.crew.models import Shop
from boardshop.gear.constraints import GEAR_REFUSALS
from boardshop.gear.models import ReadyMade
from boardshop.gear.records import ReadyMadeRecord
from boardshop.gear.services.keeping import check_name_free, check_seen, columns_of, save_changes
from boardshop.gear.shelves import ready_made_record


@transaction.atomic
def add_ready_made(shop: Shop, record: ReadyMadeRecord) -> ReadyMade:
    check_name_free(ReadyMade.objects.filter(shop=shop), record.name)
    with refusals_by(GEAR_REFUSALS, name=str(record)):
        return ReadyMade.objects.create(shop=shop, **columns_of(record))


@transaction.atomic
def change_ready_made(cable: ReadyMade, record: ReadyMadeRecord, *, seen: str | None = None) -> ReadyMade:
    cable = ReadyMade.objects.select_for_update().get(pk=cable.pk)
    check_seen(seen, ready_made_record(cable), record)
    check_name_free(ReadyMade.objects.filter(shop=cable.shop_id).exclude(pk=cable.pk), record.name)
    with refusals_by(GEAR_REFUSALS, name=str(record)):
        save_changes(cable, columns_of(record))
    return cable
