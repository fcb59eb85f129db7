"""What lies between two states of a board."""

from __future__ import annotations

from typing import Any

from django.utils.safestring import mark_safe

from boardshop.boards.access import last_released
from boardshop.boards.drawing.comparison import draw_comparison
from boardshop.boards.models import Board
from boardshop.boards.pages.sides import REVISION, WORKING, list_sums, name_sides, read_side
from boardshop.core.diff import compare_cuts, compare_plans, in_order


def describe_comparison(board: Board, one: str, other: str) -> dict[str, Any]:
    """The context of the page; blank keys stand for what is on stage and the working copy.

    404 for a key that names nothing of this board.
    """
    names = name_sides(board)
    released = last_released(board)
    keys = (one or (f"{REVISION}{released.number}" if released else WORKING), other or WORKING)
    sides = [read_side(board, key, names) for key in keys]
    context: dict[str, Any] = {
        "board": board,
        "shop": board.shop,
        "tab": "history",
        "names": names,
        "sides": sides,
        "sums": list_sums(sides),
    }
    before, after = (side.sheet for side in sides)
    if before is None or after is None:
        return context | {"drawing": None}
    plans = before.plan, after.plan
    svg = draw_comparison(*plans, length_unit=board.shop.length_unit)
    return context | {
        "differences": in_order((*compare_plans(*plans), *compare_cuts(*plans))),
        "drawing": mark_safe(svg),  # noqa: S308 - draw_comparison escapes every text
    }
