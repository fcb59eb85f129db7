"""Where things are on a frame: bodies after their turn, jacks, plug rectangles.

Whole mm, player's view from above, origin at the frame's front left corner, turns counter-clockwise.
Every function takes another place than the recorded one through ``place``, so that a placing can be tried.
``None`` comes back where the place, the jack's side or offset, or the plug's size is not recorded.
"""

from dataclasses import dataclass
from math import isqrt

from boardshop.core.plan import Jack, Pedal, Place, PlugType, Point, Supply, Turn


@dataclass(frozen=True, slots=True)
class Box:
    """An upright rectangle from (x0, y0) front left to (x1, y1) rear right; touching is no overlap."""

    x0: int
    y0: int
    x1: int
    y1: int

    @property
    def width(self) -> int:
        return self.x1 - self.x0

    @property
    def depth(self) -> int:
        return self.y1 - self.y0

    @property
    def area(self) -> int:
        return self.width * self.depth

    def moved(self, x: int, y: int) -> "Box":
        return Box(self.x0 + x, self.y0 + y, self.x1 + x, self.y1 + y)


def overlaps(one: Box, other: Box) -> bool:
    """Whether the two share some area; touching edges do not."""
    return one.x0 < other.x1 and other.x0 < one.x1 and one.y0 < other.y1 and other.y0 < one.y1


def clearance(one: Box, other: Box) -> int:
    """Free mm between two boxes along the axis that parts them most; negative by how much they overlap.

    A gap g is kept when this is at least g: the same measure as "the larger of the x and y distances".
    """
    in_x = max(other.x0 - one.x1, one.x0 - other.x1)
    in_y = max(other.y0 - one.y1, one.y0 - other.y1)
    return max(in_x, in_y)


def is_nearer(one: Box, other: Box, gap: int) -> bool:
    """Whether the clearance is less than the gap; told from the first free side, as most pairs are."""
    return (
        other.x0 - one.x1 < gap
        and one.x0 - other.x1 < gap
        and other.y0 - one.y1 < gap
        and one.y0 - other.y1 < gap
    )


def straight_distance(one: Box, other: Box) -> int:
    """Whole mm of the straight line between two boxes in plan, rounded down; 0 where they meet."""
    in_x = max(other.x0 - one.x1, one.x0 - other.x1, 0)
    in_y = max(other.y0 - one.y1, one.y0 - other.y1, 0)
    return isqrt(in_x * in_x + in_y * in_y)


def room_inside(inner: Box, outer: Box) -> int:
    """Free mm from the inner box to the nearest edge of the outer one; negative by how far it sticks out."""
    return min(inner.x0 - outer.x0, inner.y0 - outer.y0, outer.x1 - inner.x1, outer.y1 - inner.y1)


def turned_size(width: int, depth: int, turn: Turn) -> tuple[int, int]:
    """Width along x and depth along y after the turn."""
    return (depth, width) if turn in (90, 270) else (width, depth)


def turn_point(x: int, y: int, width: int, depth: int, turn: Turn) -> Point:
    """A point of an unturned width x depth box, seen from the front left corner of the turned one."""
    match turn:
        case 0:
            return Point(x, y)
        case 90:
            return Point(depth - y, x)
        case 180:
            return Point(width - x, depth - y)
        case 270:
            return Point(y, width - x)


def turn_box(box: Box, width: int, depth: int, turn: Turn) -> Box:
    """A part of an unturned width x depth box (or something standing out from it) after the turn."""
    one = turn_point(box.x0, box.y0, width, depth, turn)
    other = turn_point(box.x1, box.y1, width, depth, turn)
    return Box(min(one.x, other.x), min(one.y, other.y), max(one.x, other.x), max(one.y, other.y))


def turned_side(side: str, turn: Turn) -> str:
    """Where a side of the unturned box looks after the turn."""
    return _ROUND[(_ROUND.index(side) + turn // 90) % 4]


def beside_box(box: Box, side: str, reach: int) -> Box:
    """What lies within `reach` of one side of a box, over that side's whole length."""
    out_x, out_y = _OUTWARD[side]
    return Box(
        box.x1 if out_x > 0 else box.x0 + reach * min(out_x, 0),
        box.y1 if out_y > 0 else box.y0 + reach * min(out_y, 0),
        box.x0 if out_x < 0 else box.x1 + reach * max(out_x, 0),
        box.y0 if out_y < 0 else box.y1 + reach * max(out_y, 0),
    )


def body_box(pedal: Pedal, place: Place | None = None) -> Box | None:
    """The pedal's body on the frame, without its plugs."""
    spot = place or pedal.place
    if spot is None:
        return None
    width, depth = turned_size(pedal.width, pedal.depth, spot.turn)
    return Box(spot.x, spot.y, spot.x + width, spot.y + depth)


def supply_box(supply: Supply) -> Box | None:
    """The supply's outline in plan, on the frame or under it."""
    spot = supply.place
    if spot is None or supply.width is None or supply.depth is None:
        return None
    width, depth = turned_size(supply.width, supply.depth, spot.turn)
    return Box(spot.x, spot.y, spot.x + width, spot.y + depth)


def switch_points(pedal: Pedal, place: Place | None = None) -> tuple[Point, ...]:
    """The foot switches on the frame; empty when the pedal has no place."""
    return tuple(
        _on_frame(pedal, point.x, point.y, spot) for spot in _spots(pedal, place) for point in pedal.switches
    )


def jack_point(pedal: Pedal, jack: Jack, place: Place | None = None) -> Point | None:
    """The middle of the jack on the body's edge."""
    spot = place or pedal.place
    own = _own_jack_point(pedal, jack)
    return None if spot is None or own is None else _on_frame(pedal, own.x, own.y, spot)


def plug_box(pedal: Pedal, jack: Jack, plug: PlugType, place: Place | None = None) -> Box | None:
    """What the mated plug needs: `reach` out from the jack's middle, `width` across, odd widths outward."""
    spot = place or pedal.place
    own = _own_plug_box(pedal, jack, plug)
    if spot is None or own is None:
        return None
    return turn_box(own, pedal.width, pedal.depth, spot.turn).moved(spot.x, spot.y)


def plug_end(pedal: Pedal, jack: Jack, plug: PlugType, place: Place | None = None) -> Point | None:
    """The outer end of the plug's rectangle, where a run starts."""
    spot = place or pedal.place
    own = _own_jack_point(pedal, jack)
    if spot is None or own is None or plug.reach is None or jack.side is None:
        return None
    out_x, out_y = _OUTWARD[jack.side]
    return _on_frame(pedal, own.x + out_x * plug.reach, own.y + out_y * plug.reach, spot)


_OUTWARD = {"left": (-1, 0), "right": (1, 0), "front": (0, -1), "rear": (0, 1)}
_ROUND = ("right", "rear", "left", "front")
"""The sides counter-clockwise."""


def _spots(pedal: Pedal, place: Place | None) -> tuple[Place, ...]:
    spot = place or pedal.place
    return () if spot is None else (spot,)


def _on_frame(pedal: Pedal, x: int, y: int, spot: Place) -> Point:
    turned = turn_point(x, y, pedal.width, pedal.depth, spot.turn)
    return Point(spot.x + turned.x, spot.y + turned.y)


def _own_jack_point(pedal: Pedal, jack: Jack) -> Point | None:
    if jack.offset is None:
        return None
    match jack.side:
        case "left":
            return Point(0, jack.offset)
        case "right":
            return Point(pedal.width, jack.offset)
        case "front":
            return Point(jack.offset, 0)
        case "rear":
            return Point(jack.offset, pedal.depth)
        case _:
            return None


def _own_plug_box(pedal: Pedal, jack: Jack, plug: PlugType) -> Box | None:
    middle = _own_jack_point(pedal, jack)
    if middle is None or jack.side is None or plug.reach is None or plug.width is None:
        return None
    half = (plug.width + 1) // 2
    out_x, out_y = _OUTWARD[jack.side]
    end_x, end_y = middle.x + out_x * plug.reach, middle.y + out_y * plug.reach
    wide_x, wide_y = (0, half) if out_x else (half, 0)
    return Box(
        min(middle.x, end_x) - wide_x,
        min(middle.y, end_y) - wide_y,
        max(middle.x, end_x) + wide_x,
        max(middle.y, end_y) + wide_y,
    )
