"""The rows of a board in words: how wide each is at least, and what is left."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.translation import gettext as _

from boardshop.core.layout.row_width import RowWidth, measure_rows
from boardshop.core.layout.rows import FRONT, REAR
from boardshop.core.plan import BoardPlan


@dataclass(frozen=True)
class RoomRow:
    label: str
    width: RowWidth

    @property
    def spare_mm(self) -> int | None:
        return self.width.spare_mm

    @property
    def over_mm(self) -> int:
        """By how much it does not fit; 0 where it does or is not known."""
        return max(0, -(self.width.spare_mm or 0))


def tell_rows(plan: BoardPlan) -> list[RoomRow]:
    return [RoomRow(_name(row.name), row) for row in measure_rows(plan)]


def _name(row: str) -> str:
    if row == FRONT:
        return _("Front row")
    if row == REAR:
        return _("Rear row")
    number = row[1:].rstrip("-")
    return _("Middle row %(number)s") % {"number": number} if number else _("Middle row")
