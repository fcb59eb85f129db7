"""Where the frame stands on the drawing: margins, the unit of lettering, scales, the turn of the y axis."""

from collections.abc import Iterable
from dataclasses import dataclass
from statistics import median_low

from boardshop.boards.drawing.shapes import Area
from boardshop.core.hashing import HashedOnce
from boardshop.core.layout.geometry import Box, body_box, supply_box
from boardshop.core.lengths import length_figure
from boardshop.core.plan import BoardPlan, Frame, Point

LEFT, RIGHT, TOP, BOTTOM = 15, 12, 9, 19
"""Room around the frame for dimensions, leads and notes, mm on paper."""
NOTE_STEP = 3.6
"""From one line of notes to the next, mm on paper."""
LIST_WIDTH, LIST_STEP, LIST_HEAD = 40, 6.5, 5
"""Columns and rows of the list of what is not placed, below the notes, mm on paper."""
SCREEN_WIDTH, SCREEN_DEPTH = 130, 88
"""A drawing that is only shown on a screen is lettered as if its frame were at most this large on paper,"""
PEDAL_WIDTH = 12.5
"""and as if a pedal of middling width were at least this wide, for its name and the pennants beside it."""
SCALES = (1, 2, 5, 10, 20, 50)
"""Full size and the reductions that ISO 5455 recommends."""


@dataclass(frozen=True, slots=True)
class Sheet(HashedOnce):
    """``unit`` is how many mm of board one mm of paper is; ``reach`` holds the frame and what sticks out."""

    frame: Frame
    reach: Box
    unit: float
    listed: int = 0
    length_unit: str = "mm"
    """In which dimensions are written: mm, cm or in."""
    is_mirrored: bool = False
    """Seen from below, turned over sideways: the player's right is on the left, the front stays in front."""
    note_rows: int = 0
    """Lines of notes beyond the usual one."""

    __hash__ = HashedOnce.__hash__

    @property
    def width(self) -> float:
        return self.reach.width + (LEFT + RIGHT) * self.unit

    @property
    def height(self) -> float:
        return self.list_top + (LIST_HEAD + LIST_STEP * rows if (rows := self.list_rows) else 0) * self.unit

    @property
    def list_top(self) -> float:
        return self.reach.depth + (TOP + BOTTOM + NOTE_STEP * self.note_rows) * self.unit

    @property
    def list_columns(self) -> int:
        return max(1, int((self.width / self.unit - LEFT) // LIST_WIDTH))

    @property
    def list_rows(self) -> int:
        return -(-self.listed // self.list_columns)

    def point(self, x: float, y: float) -> tuple[float, float]:
        """A point of the frame in the player's view, on the drawing."""
        along = self.reach.x1 - x if self.is_mirrored else x - self.reach.x0
        return along + LEFT * self.unit, self.reach.y1 - y + TOP * self.unit

    def area(self, box: Box) -> Area:
        left, upper = self.point(box.x1 if self.is_mirrored else box.x0, box.y1)
        return Area(left, upper, box.width, box.depth)

    def measure(self, mm: int) -> str:
        """A dimension without its unit, which the notes name."""
        return length_figure(mm, self.length_unit)

    @property
    def flag_room(self) -> Area:
        """The whole width, and from the upper edge to what lies below the frame."""
        return Area(0, 0, self.width, self.reach_area.bottom + self.unit)

    @property
    def frame_area(self) -> Area:
        return self.area(Box(0, 0, self.frame.width, self.frame.depth))

    @property
    def reach_area(self) -> Area:
        return self.area(self.reach)


def lay_out(
    plan: BoardPlan,
    corners: Iterable[tuple[int, int]] = (),
    scale: int | None = None,
    length_unit: str = "mm",
    *,
    is_mirrored: bool = False,
    note_rows: int = 0,
    lists: bool = True,
) -> Sheet:
    """The sheet for a board; without a scale, lettered for a screen.

    ``lists`` whether what is not placed is listed below.
    """
    reach = _reach(plan, corners)
    unit = scale or _screen_unit(plan, reach)
    listed = sum(1 for pedal in plan.pedals if pedal.place is None) if lists else 0
    return Sheet(plan.frame, reach, unit, listed, length_unit, is_mirrored, note_rows)


def drawing_size(plan: BoardPlan, scale: int) -> tuple[float, float]:
    """Width and height in mm on paper of the board drawn 1:scale, with its dimensions and notes."""
    sheet = lay_out(plan, scale=scale)
    return sheet.width / scale, sheet.height / scale


def choose_scale(plan: BoardPlan, width_mm: float, height_mm: float) -> int:
    """The largest drawing that fits the room on paper, 1:n with n of ISO 5455; else the smallest."""
    for scale in SCALES:
        width, height = drawing_size(plan, scale)
        if width <= width_mm and height <= height_mm:
            return scale
    return SCALES[-1]


def entry_point(frame: Frame) -> Point:
    return frame.entry or Point(frame.width, frame.depth)


def exit_point(frame: Frame) -> Point:
    return frame.exit or Point(0, frame.depth)


def _screen_unit(plan: BoardPlan, reach: Box) -> float:
    unit = max(reach.width / SCREEN_WIDTH, reach.depth / SCREEN_DEPTH)
    widths = [box.width for pedal in plan.pedals if (box := body_box(pedal))]
    return min(unit, median_low(widths) / PEDAL_WIDTH) if widths else unit


def _reach(plan: BoardPlan, corners: Iterable[tuple[int, int]]) -> Box:
    boxes = [Box(0, 0, plan.frame.width, plan.frame.depth)]
    boxes += [box for pedal in plan.pedals if (box := body_box(pedal))]
    boxes += [box for supply in plan.supplies if (box := supply_box(supply))]
    boxes += [Box(k.x, k.y, k.x + k.width, k.y + k.depth) for k in plan.frame.keepouts]
    boxes += [Box(x, y, x, y) for x, y in corners]
    return Box(
        min(b.x0 for b in boxes), min(b.y0 for b in boxes), max(b.x1 for b in boxes), max(b.y1 for b in boxes)
    )
