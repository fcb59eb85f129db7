"""Where things stand on the side view: the frame as it slopes, seen from the player's right.

Depth runs to the right, from the front edge on; height is square to the frame's top, as it is measured.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import atan2, cos, degrees, sin
from statistics import median_low

from boardshop.boards.drawing.shapes import Area
from boardshop.boards.drawing.sheet import LIST_HEAD, LIST_STEP, LIST_WIDTH, NOTE_STEP
from boardshop.core.layout.geometry import Box
from boardshop.core.layout.rows import group_rows
from boardshop.core.layout.standing import Body, list_bodies, tier_height
from boardshop.core.layout.supply_checks import UnderSupply, list_under
from boardshop.core.plan import BoardPlan, Frame

LEFT, RIGHT, TOP, BOTTOM = 16, 16, 4, 17
"""Room around the frame for heights, balloons and notes, mm on paper."""
DEPTH_ROOM = 9.5
"""From the lid to the balloons, for the dimension of the depth, mm on paper."""
BALLOON_STEP, MOST_IN_LINE = 5.6, 6
ACROSS = 118
"""A drawing for a screen is lettered as if the frame were that deep on paper, mm,"""
UPWARDS = 62
"""and at most that high with its case."""
GUESSED_HEIGHT = 60
"""How high a thing of unknown height is drawn, open, where no other height is known; common practice."""

type Spot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Standing:
    """A body on the frame: from `low` to `high` above its top; `is_known` is false where that is a guess."""

    body: Body
    low: int
    high: int
    is_known: bool

    @property
    def toe(self) -> int | None:
        """A treadle's height with its toe up, where that is recorded."""
        pedal = self.body.pedal
        return pedal.toe_height if pedal is not None and pedal.treadle else None

    @property
    def top(self) -> int:
        """Above the frame's top, the toe counted in."""
        return max(self.high, self.low + (self.toe or 0))


@dataclass(frozen=True, slots=True)
class SideSheet:
    """``unit`` is how many mm of board one mm of paper is; ``slope`` is an angle in radian."""

    frame: Frame
    standing: tuple[Standing, ...]
    """Those on the frame, the farthest from who looks first."""
    under: tuple[UnderSupply, ...]
    rows: tuple[tuple[Standing, ...], ...]
    """Those on the frame, row by row from the front, the nearest first in each."""
    slope: float
    unit: float
    extent: Area
    """All that is drawn to scale, before it is shifted onto the sheet."""
    length_unit: str
    note_rows: int

    @property
    def width(self) -> float:
        return self.extent.width + (LEFT + RIGHT) * self.unit

    @property
    def head(self) -> float:
        """Room above the case: balloons, then the dimension of the depth."""
        return (TOP + DEPTH_ROOM + BALLOON_STEP * self.balloon_lines) * self.unit

    @property
    def balloon_lines(self) -> int:
        return max((-(-len(row) // MOST_IN_LINE) for row in self.rows), default=0)

    @property
    def notes_top(self) -> float:
        return self.head + self.extent.height

    @property
    def list_top(self) -> float:
        return self.notes_top + (BOTTOM + NOTE_STEP * self.note_rows) * self.unit

    @property
    def list_columns(self) -> int:
        return max(1, int((self.width / self.unit - LEFT) // LIST_WIDTH))

    @property
    def height(self) -> float:
        toes = sum(one.toe is not None for one in self.standing)
        rows = -(-(len(self.standing) + toes + len(self.under)) // self.list_columns)
        return self.list_top + (LIST_HEAD + LIST_STEP * rows if rows else 0) * self.unit

    def point(self, y: float, z: float) -> Spot:
        """A point y mm behind the front edge and z mm above the frame's top, on the drawing."""
        along, down = turn(y, z, self.slope)
        return along - self.extent.x + LEFT * self.unit, down - self.extent.y + self.head

    def box(self, y0: float, y1: float, z0: float, z1: float) -> list[Spot]:
        return [self.point(y0, z0), self.point(y1, z0), self.point(y1, z1), self.point(y0, z1)]

    @property
    def slope_degrees(self) -> float:
        return degrees(self.slope)


def turn(y: float, z: float, slope: float) -> Spot:
    """With the floor level; downwards is positive, as SVG has it."""
    return y * cos(slope) - z * sin(slope), -y * sin(slope) - z * cos(slope)


def lay_out_side(
    plan: BoardPlan, scale: int | None = None, length_unit: str = "mm", note_rows: int = 0
) -> SideSheet:
    """The sheet for a board; without a scale, lettered for a screen."""
    frame = plan.frame
    slope = atan2(frame.under.rear - frame.under.front, frame.depth) if frame.under else 0.0
    standing = _stand(plan)
    under = tuple(sorted(list_under(plan), key=lambda one: (one.box.x1, one.supply.ref)))
    corners = _corners(frame, standing, under)
    extent = _extent(turn(y, z, slope) for y, z in corners)
    unit = scale or max(extent.width / ACROSS, extent.height / UPWARDS)
    by_ref = {one.body.ref: one for one in standing}
    rows = _rows(by_ref)
    return SideSheet(frame, standing, under, rows, slope, unit, extent, length_unit, note_rows)


def _stand(plan: BoardPlan) -> tuple[Standing, ...]:
    bodies = list_bodies(plan)
    guess = median_low([body.height for body in bodies if body.height is not None] or [GUESSED_HEIGHT])
    found = []
    for body in bodies:
        low = tier_height(body, plan.frame)
        high = low + (guess if body.height is None else body.height)
        found.append(Standing(body, low, high, body.height is not None))
    return tuple(sorted(found, key=lambda one: (one.body.box.x1, one.body.ref)))


def _rows(standing: Mapping[str, Standing]) -> tuple[tuple[Standing, ...], ...]:
    boxes: dict[str, Box] = {ref: one.body.box for ref, one in standing.items()}
    return tuple(tuple(standing[ref] for ref in reversed(refs)) for refs in group_rows(boxes))


def _corners(
    frame: Frame, standing: Iterable[Standing], under: Iterable[UnderSupply]
) -> list[tuple[float, float]]:
    corners: list[tuple[float, float]] = [(0, 0), (frame.depth, 0)]
    if frame.lid is not None:
        corners += [(0, frame.lid), (frame.depth, frame.lid)]
    if frame.under is not None:
        corners += [(0, -frame.under.front), (frame.depth, -frame.under.rear)]
    for one in standing:
        corners += [(y, z) for y in (one.body.box.y0, one.body.box.y1) for z in (one.low, one.top)]
    for tier in frame.tiers:
        corners += [(tier.from_y, tier.height), (tier.to_y, tier.height)]
    for placed in under:
        deep = -(placed.supply.height or GUESSED_HEIGHT)
        corners += [(placed.box.y0, deep), (placed.box.y1, deep)]
    return corners


def _extent(points: Iterable[Spot]) -> Area:
    kept = list(points)
    left, upper = min(x for x, _ in kept), min(y for _, y in kept)
    return Area(left, upper, max(x for x, _ in kept) - left, max(y for _, y in kept) - upper)
