"""Boards for tests: the usual line from an instrument to an amp, one supply, the first pedal fed."""

from typing import Any

from boardshop.boards.models import Board
from boardshop.boards.plan.read import load_plan
from boardshop.boards.plan.write import store_plan
from boardshop.core import plan as core
from boardshop.crew.models import Shop
from tests.core import builders as b

OUTLETS = 8


def make_board(
    shop: Shop, pedals: int | list[core.Pedal] = 2, *, name: str = "Nightjar main", **parts: Any
) -> Board:
    """So many pedals, or these, placed in rows of nine and linked G1 to A1; S1.1 feeds the first."""
    standing = pedals if isinstance(pedals, list) else _pedals(pedals)
    refs = [pedal.ref for pedal in standing]
    parts = {
        "supplies": (b.supply("S1", *(b.outlet(str(n)) for n in range(1, OUTLETS + 1)), model="Ridge 8"),),
        "feeds": (b.feed("S1.1", f"{refs[0]}.DC"),) if refs else (),
        "links": b.chain("G1", *refs, "A1"),
        "frame": b.frame(900, 400),
    } | parts
    return store_plan(shop, b.board(*standing, **parts), name=name)


def _pedals(count: int) -> list[core.Pedal]:
    return [
        b.pedal(f"P{n}", at=(20 + 80 * ((n - 1) % 9), 10 + 180 * ((n - 1) // 9)), name=f"Pedal {n}")
        for n in range(1, count + 1)
    ]


def plan_of(board: Board) -> core.BoardPlan:
    """As it is stored now."""
    return load_plan(Board.objects.get(pk=board.pk))


def links_of(board: Board) -> dict[str, str]:
    """Each link's ends by its ref, as `P1.OUT P2.IN`."""
    return {link.ref: f"{link.source} {link.target}" for link in plan_of(board).links}


def feeds_of(board: Board) -> dict[str, str]:
    """The outlets of each fed jack."""
    return {jack: " ".join(feed.outlets) for feed in plan_of(board).feeds for jack in feed.jacks}
