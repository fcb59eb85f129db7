"""Made cables for tests: a patch of the board's own cable and plugs that was tested and passed."""

from datetime import date
from decimal import Decimal
from typing import Any

from django.db import connection
from django.test import Client as Browser
from django.test.utils import CaptureQueriesContext

from boardshop.bench.services.cable_tests import record_test
from boardshop.boards.access import get_board_for
from boardshop.boards.models import Board, Link
from boardshop.boards.services.made_cables import put_cable
from boardshop.core.cables.testing import Reading
from boardshop.crew.models import Person, Shop
from boardshop.gear.models import CableType, MadeCable, PlugType
from boardshop.gear.records import MadeCableRecord
from boardshop.gear.services.made_cables import add_made_cable

DAY = date(2026, 3, 1)
GOOD: dict[str, Reading] = {
    "tug": True,
    "tip_ohm": Decimal("0.05"),
    "sleeve_ohm": Decimal("0.03"),
    "insulation_mohm": "over",
    "crossed": True,
    "wiggle_ohm": Decimal(0),
    "listened": True,
}
BAD: dict[str, Reading] = GOOD | {"tip_ohm": Decimal(3)}


def make_cable(shop: Shop, length: int = 700, **values: Any) -> MadeCable:
    """A signal patch that nobody tested, of the cable and plugs that the shop's boards have, if any."""
    cable, plug = CableType.objects.filter(shop=shop).first(), PlugType.objects.filter(shop=shop).first()
    types = {"cable": cable.name if cable else "", "plug_a": plug.name if plug else ""}
    record = {"length": length, **types, "plug_b": types["plug_a"]} | values
    return add_made_cable(shop, MadeCableRecord(**record))


def read(cable: MadeCable, readings: dict[str, Reading], by: Person, on: date = DAY, **more: Any) -> Any:
    return record_test(cable, readings, on=on, by=by, **more)


def make_tested(shop: Shop, by: Person, length: int = 700, **values: Any) -> MadeCable:
    return read(make_cable(shop, length, **values), GOOD, by).cable


def put(cable: MadeCable, board: Board, ref: str, by: Person, **options: Any) -> None:
    own = get_board_for(by, board.code, editing=True)
    put_cable(own, own.edit_number, link_row(board, ref), cable, **options)


def link_row(board: Board, ref: str) -> Link:
    return Link.objects.get(board=board, ref=ref)


def fresh(cable: MadeCable) -> MadeCable:
    return MadeCable.objects.get(pk=cable.pk)


def count_queries(browser: Browser, address: str) -> int:
    with CaptureQueriesContext(connection) as queries:
        assert browser.get(address).status_code == 200
    return len(queries)
