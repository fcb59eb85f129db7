"""Keeping the shop's list of cables that are bought with their plugs on."""

from boardshop.crew.models import Shop
from boardshop.gear.models import ReadyMade
from boardshop.gear.records import ReadyMadeRecord
from boardshop.gear.services.named import add_named, change_named
from boardshop.gear.shelves import ready_made_record


def add_ready_made(shop: Shop, record: ReadyMadeRecord) -> ReadyMade:
    return add_named(ReadyMade, shop, record)


def change_ready_made(cable: ReadyMade, record: ReadyMadeRecord, *, seen: str | None = None) -> ReadyMade:
    return change_named(cable, record, ready_made_record, seen)
