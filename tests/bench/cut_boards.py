"""A board with two patches to cut, its leads given, and stock to cut them from."""

from typing import Any

from boardshop.boards.models import Board
from boardshop.boards.plan.write import store_plan
from boardshop.core.plan import StockLength
from boardshop.crew.models import Shop
from boardshop.gear.models import CableStock
from tests.core import builders as b

STOCK = (StockLength("C1", 400, 1, "offcut"), StockLength("C1", 10_000, 2, "reel"))


def make_cut_board(shop: Shop, *, name: str = "Nightjar main", **parts: Any) -> Board:
    """P1, P2 and P3 in a row: W2 and W3 are cut, W1 and W4 are leads of 6 m."""
    pedals = [b.pedal(f"P{n}", at=(700 - 200 * n, 100), name=f"Pedal {n}") for n in (1, 2, 3)]
    links = (
        b.link("W1", "G1.OUT", "P1.IN", length=6000),
        b.link("W2", "P1.OUT", "P2.IN"),
        b.link("W3", "P2.OUT", "P3.IN"),
        b.link("W4", "P3.OUT", "A1.IN", length=6000),
    )
    usual: dict[str, Any] = {
        "links": links,
        "cables": (b.cable_type(price=2.0),),
        "plugs": (b.plug_type(price=4.5, fixing="soldered"),),
        "supplies": (b.supply("S1", b.outlet("1"), model="Ridge 8"),),
        "frame": b.frame(900, 400),
        "stock": STOCK,
    }
    plan = b.board(*pedals, **(usual | parts))
    is_first = not CableStock.objects.filter(shop=shop).exists()
    return store_plan(shop, plan, name=name, with_stock=is_first)


def stock_of(shop: Shop) -> list[tuple[int, str, int, int, str]]:
    """Key, kind, length, count and tag of every row, by key."""
    rows = CableStock.objects.filter(shop=shop).order_by("pk")
    return list(rows.values_list("pk", "kind", "length", "count", "tag"))


def total_mm(shop: Shop) -> int:
    return sum(length * count for _pk, _kind, length, count, _tag in stock_of(shop))
