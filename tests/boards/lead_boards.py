"""Boards whose feeds wait for leads: two fed pedals before a supply that brings some along."""

from dataclasses import replace
from typing import Any

from boardshop.boards.models import Board
from boardshop.core.plan import Feed, Supply, SupplyLead, SupplyPlace
from boardshop.crew.models import Shop
from tests.board_factories import OUTLETS, make_board
from tests.core import builders as b

BARREL = "barrel 5.5/2.1"
SHORT, LONG = (SupplyLead(mm, awg=22, connector=BARREL, count=9) for mm in (500, 1200))


def supply_with(*leads: SupplyLead) -> Supply:
    outlets = (b.outlet(str(n)) for n in range(1, OUTLETS + 1))
    return replace(b.supply("S1", *outlets, model="Ridge 8", leads=leads), place=SupplyPlace(0, 300))


def waiting_board(shop: Shop, pedals: int = 2, *leads: SupplyLead, **parts: Any) -> Board:
    """Every pedal fed, all of a row from one outlet, and no lead recorded on any feed."""
    feeds = tuple(Feed((f"S1.{1 + n % OUTLETS}",), (f"P{n + 1}.DC",), (None,)) for n in range(pedals))
    parts = {"supplies": (supply_with(*(leads or (SHORT, LONG))),), "feeds": feeds} | parts
    return make_board(shop, pedals, **parts)
