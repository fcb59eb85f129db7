"""When and by whom the draws that count on a board were measured."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from boardshop.boards.models import Board
from boardshop.core.index import fold
from boardshop.gear.models import UnitDraw


@dataclass(frozen=True)
class Measuring:
    """None and blank where nobody recorded it."""

    on: date | None
    by: str


def list_measurings(board: Board) -> dict[str, Measuring]:
    """By folded power jack (`p4.dc`), in one query."""
    rows = UnitDraw.objects.filter(unit__placements__board=board)
    values = rows.values_list("unit__placements__ref", "jack", "on", "by")
    return {fold(f"{ref}.{jack}"): Measuring(on, by) for ref, jack, on, by in values}
