"""The marks of what would be found, for laying over a drawing that stands already."""

from collections.abc import Sequence

from boardshop.boards.drawing.found import Mark, draw_marks
from boardshop.boards.drawing.shapes import group, number, to_svg
from boardshop.boards.drawing.sheet import lay_out
from boardshop.core.plan import BoardPlan


def draw_live_marks(plan: BoardPlan, marks: Sequence[Mark]) -> str:
    """SVG text with the frame's front left corner at its origin, in mm; blank where there is nothing.

    The drawing beneath says in `data-origin-x` and `data-origin-y` where that corner lies on it.
    """
    if not marks:
        return ""
    sheet = lay_out(plan)
    left, front = sheet.point(0, 0)
    return to_svg(group([draw_marks(marks, sheet)], transform=f"translate({number(-left)} {number(-front)})"))
