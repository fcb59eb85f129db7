"""The distance between any two things of a board in plan: bodies, plugs, keep-outs, rails, edges of each.

A name is a ref (`P3`), a plug by its jack (`P3.IN`), `keepout 1`, `member 1`, `rail 1`; with an edge,
`P3:left`.
The frame has edges alone: `frame edge:front`.  Names are compared without case.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import isqrt

from boardshop.core.index import fold, index_plan
from boardshop.core.layout.geometry import Box, body_box, supply_box
from boardshop.core.layout.standing import frame_box, list_members, list_reserved, list_used_jacks
from boardshop.core.naming import called
from boardshop.core.plan import BoardPlan, Point

EDGES = ("left", "right", "front", "rear")
FRAME = "frame edge"


class UnknownThing(ValueError):
    """Nothing on this board that can be measured is called so; ``name`` is what was asked for."""

    def __init__(self, name: str) -> None:
        self.name = name
        super().__init__(name)


class NeedsEdge(UnknownThing):
    """The thing of that name surrounds the others, so that only its edges have a distance to them."""


@dataclass(frozen=True, slots=True)
class Thing:
    """``label`` is what people call it; ``has_edges_alone`` where only its edges can be measured from."""

    name: str
    label: str
    box: Box
    has_edges_alone: bool = False


@dataclass(frozen=True, slots=True)
class Distance:
    """Between two upright boxes, either of which may be an edge.

    ``x`` and ``y`` are the free mm along each axis; below zero by how much they overlap there, seen along
    the other axis.  ``start`` and ``end`` are the two points that are nearest to each other, in the middle of
    what lies side by side.
    """

    one: Box
    other: Box
    x: int
    y: int
    start: Point
    end: Point

    @property
    def overlap(self) -> bool:
        """Whether the two share some area; an edge has none."""
        return self.x < 0 and self.y < 0 and bool(self.one.area and self.other.area)

    @property
    def least_squared(self) -> int:
        """Of the straight line between the nearest points, exact, in mm²."""
        return max(self.x, 0) ** 2 + max(self.y, 0) ** 2

    @property
    def least_tenths(self) -> int:
        """The straight line in tenths of a mm, downward, so that nothing is said to fit that does not."""
        return isqrt(100 * self.least_squared)


def list_things(plan: BoardPlan) -> tuple[Thing, ...]:
    """All that has a known outline, the frame first."""
    return (Thing(FRAME, "the frame", frame_box(plan), has_edges_alone=True), *_bodies(plan), *_others(plan))


def measure_between(plan: BoardPlan, one: str, other: str) -> Distance:
    """The distance between two things by their names; raises UnknownThing."""
    return measure_boxes(find_box(plan, one), find_box(plan, other))


def find_box(plan: BoardPlan, name: str) -> Box:
    """The outline of a thing, or one edge of it as a box without width or depth; raises UnknownThing."""
    wanted, _, edge = name.partition(":")
    thing = next((one for one in list_things(plan) if fold(one.name) == fold(wanted.strip())), None)
    if thing is None or (edge and edge not in EDGES):
        raise UnknownThing(name)
    if thing.has_edges_alone and not edge:
        raise NeedsEdge(name)
    return edge_of(thing.box, edge) if edge else thing.box


def edge_of(box: Box, edge: str) -> Box:
    match edge:
        case "left":
            return Box(box.x0, box.y0, box.x0, box.y1)
        case "right":
            return Box(box.x1, box.y0, box.x1, box.y1)
        case "front":
            return Box(box.x0, box.y0, box.x1, box.y0)
        case _:
            return Box(box.x0, box.y1, box.x1, box.y1)


def measure_boxes(one: Box, other: Box) -> Distance:
    """Free mm along x and y, and the two nearest points."""
    x, from_x, to_x = _apart((one.x0, one.x1), (other.x0, other.x1))
    y, from_y, to_y = _apart((one.y0, one.y1), (other.y0, other.y1))
    return Distance(one, other, x, y, Point(from_x, from_y), Point(to_x, to_y))


def _apart(one: tuple[int, int], other: tuple[int, int]) -> tuple[int, int, int]:
    """Free between two spans, and from where to where; or the middle of what they share, twice."""
    if one[1] <= other[0]:
        return other[0] - one[1], one[1], other[0]
    if other[1] <= one[0]:
        return one[0] - other[1], one[0], other[1]
    low, high = max(one[0], other[0]), min(one[1], other[1])
    return low - high, (low + high) // 2, (low + high) // 2


def _bodies(plan: BoardPlan) -> Iterator[Thing]:
    index = index_plan(plan)
    for pedal in plan.pedals:
        if (box := body_box(pedal)) is not None:
            yield Thing(pedal.ref, called(index, pedal.ref), box)
    for supply in plan.supplies:
        if (box := supply_box(supply)) is not None:
            yield Thing(supply.ref, f"the supply {supply.ref}", box)


def _others(plan: BoardPlan) -> Iterator[Thing]:
    yield from (Thing(kept.name, kept.label, kept.box) for kept in list_reserved(plan))
    yield from (Thing(member.name, member.label, member.box) for member in list_members(plan))
    for number, rail in enumerate(plan.frame.rails, start=1):
        yield Thing(f"rail {number}", f"rail {number}", Box(0, rail.from_y, plan.frame.width, rail.to_y))
    seen: set[str] = set()
    for used in list_used_jacks(plan):
        box = used.box
        if box is not None and fold(used.end) not in seen:
            seen.add(fold(used.end))
            yield Thing(used.end, f"the plug in {used.end}", box)
