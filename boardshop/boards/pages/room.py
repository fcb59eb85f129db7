"""The rows of a board in words: how wide each is at least, and what is left."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils.translation import gettext as _

from boardshop.core.layout.row_width import RowWidth, measure_rows
from boardshop.core.layout.rows import FRONT, REAR
from boardshop.core.lengths import length_figure
from boardshop.core.plan import BoardPlan


@dataclass(frozen=True)
class RoomRow:
    """One row of the board: `542 of 560 mm, 18 spare`."""

    label: str
    said: str
    is_over: bool


def tell_rows(plan: BoardPlan, unit: str) -> list[RoomRow]:
    return [RoomRow(_name(row.name), _say(row, unit), (row.spare_mm or 0) < 0) for row in measure_rows(plan)]


def _say(row: RowWidth, unit: str) -> str:
    if row.needed_mm is None or row.spare_mm is None:
        return _("not known for want of %(ends)s") % {"ends": ", ".join(row.lacks)}
    figures = {"needed": row.needed_mm, "room": row.room_mm, "left": abs(row.spare_mm)}
    said = {name: length_figure(value, unit) for name, value in figures.items()} | {"unit": unit}
    if row.spare_mm < 0:
        # Staggered plugs and bodies may fit all the same: what does not is a finding, this is none.
        return (
            _("%(needed)s %(unit)s if all stood in one line, %(left)s more than the frame’s %(room)s") % said
        )
    return _("%(needed)s of %(room)s %(unit)s, %(left)s spare") % said


def _name(row: str) -> str:
    if row == FRONT:
        return _("Front row")
    if row == REAR:
        return _("Rear row")
    number = row[1:].rstrip("-")
    return _("Middle row %(number)s") % {"number": number} if number else _("Middle row")
