"""Where a run under the frame goes down: through the opening that is nearest to each of its plugs.

The openings of a slotted frame are the bands between its rails.  A cable goes down beside bodies and what is
kept free, and comes out beside what stands under the top.  It goes through an opening as wide as itself.
Distances are Manhattan ones, as runs lie.  Nothing is said of a frame whose rails nobody recorded.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import ceil

from boardshop.core.cables.obstacles import obstacles_of
from boardshop.core.cables.routing import Corner
from boardshop.core.cables.runs import MeasuredRun, cable_type_of, measure_runs
from boardshop.core.index import PlanIndex, fold, index_plan
from boardshop.core.layout.geometry import Box
from boardshop.core.plan import BoardPlan, Frame

type Band = tuple[int, int]
"""From y to y."""


@dataclass(frozen=True, slots=True)
class Drop:
    """One end of a run: ``at`` is where its cable goes through the top, None where no opening is free."""

    jack: str
    end: Corner
    at: Corner | None
    away_mm: int | None


@dataclass(frozen=True, slots=True)
class RunDrops:
    """The drops at the two ends of one link, in signal direction."""

    link: str
    drops: tuple[Drop, Drop]


def has_openings_on_record(frame: Frame) -> bool:
    return frame.surface == "slotted" and bool(frame.rails)


def list_openings(frame: Frame) -> tuple[Band, ...]:
    """The bands in depth that no rail covers, from front to rear; none of a closed top."""
    if not has_openings_on_record(frame):
        return ()
    found, reached = [], 0
    for rail in sorted(frame.rails, key=lambda rail: rail.from_y):
        if rail.from_y > reached:
            found.append((reached, min(rail.from_y, frame.depth)))
        reached = max(reached, rail.to_y)
    if reached < frame.depth:
        found.append((reached, frame.depth))
    return tuple((low, high) for low, high in found if low < high)


@lru_cache(maxsize=32)
def list_drops(plan: BoardPlan) -> tuple[RunDrops, ...]:
    """For each run under a slotted frame whose rails are recorded, in the plan's order."""
    if not has_openings_on_record(plan.frame):
        return ()
    index = index_plan(plan)
    boxes = tuple(dict.fromkeys(box for route in ("top", "under") for box in obstacles_of(plan, route).boxes))
    runs = [run for run in measure_runs(plan) if run.link.route == "under" and run.points]
    return tuple(RunDrops(run.link.ref, _drops_of(plan, index, run, boxes)) for run in runs)


def drops_by_link(plan: BoardPlan) -> dict[str, tuple[Drop, Drop]]:
    """The same by folded ref."""
    return {fold(one.link): one.drops for one in list_drops(plan)}


def _drops_of(plan: BoardPlan, index: PlanIndex, run: MeasuredRun, boxes: Sequence[Box]) -> tuple[Drop, Drop]:
    cable = cable_type_of(index, run.link)
    thick = ceil(cable.diameter) if cable is not None and cable.diameter else 1
    bands = [band for band in list_openings(plan.frame) if band[1] - band[0] >= thick]
    ends = ((run.link.source, run.points[0]), (run.link.target, run.points[-1]))
    one, other = (_drop(plan.frame, bands, boxes, jack, end) for jack, end in ends)
    return one, other


def _drop(frame: Frame, bands: Sequence[Band], boxes: Sequence[Box], jack: str, end: Corner) -> Drop:
    at = find_opening(frame.width, bands, boxes, end)
    return Drop(jack, end, at, None if at is None else _apart(end, at))


def find_opening(width: int, bands: Sequence[Band], boxes: Sequence[Box], end: Corner) -> Corner | None:
    """The nearest point of the openings that no box covers; of equally near ones the smallest.

    It lies in line with the end or on an edge of a box or an opening: from any other free point one can go
    nearer, or no farther, until one of these is met.
    """
    nearest: tuple[int, Corner] | None = None
    for y in _heights(bands, boxes, end[1]):
        if nearest is not None and abs(y - end[1]) > nearest[0]:
            break
        closed = [(box.x0, box.x1) for box in boxes if box.y0 < y < box.y1]
        for x in _sides(width, closed, end[0]):
            found = _apart((x, y), end), (x, y)
            nearest = found if nearest is None else min(nearest, found)
    return None if nearest is None else nearest[1]


def _heights(bands: Sequence[Band], boxes: Sequence[Box], near: int) -> list[int]:
    edges = {
        near,
        *(edge for band in bands for edge in band),
        *(y for box in boxes for y in (box.y0, box.y1)),
    }
    return sorted((y for y in edges if any(a <= y <= b for a, b in bands)), key=lambda y: (abs(y - near), y))


def _sides(width: int, closed: Sequence[tuple[int, int]], near: int) -> Iterator[int]:
    """The nearest free places to the left and to the right on one line, or the place itself."""
    inside = min(max(near, 0), width)
    for step in (0, 1):
        at, moved = inside, True
        while moved:
            moved = False
            for low, high in closed:
                if low < at < high:
                    at, moved = (high if step else low), True
        if 0 <= at <= width:
            yield at


def _apart(one: Corner, other: Corner) -> int:
    return abs(one[0] - other[0]) + abs(one[1] - other[1])
