"""The ways of DC, AC and mains leads, which nobody records: each is taken as the shortest.

A DC or AC lead leaves the middle of its supply's outlet side, keeps to the supply's side of the frame's top
and ends at the plug in the pedal's power jack, in plan; the mains lead runs from the middle of the inlet side
to the nearest edge of the frame.  Around the same things as runs.  No way where the side is not recorded.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from boardshop.core.cables.obstacles import obstacles_of
from boardshop.core.cables.routing import Corner, find_way, floor_around
from boardshop.core.index import PlanIndex, fold, index_plan, split_end
from boardshop.core.layout.geometry import jack_point, plug_end, supply_box, turned_side
from boardshop.core.plan import BoardPlan, Feed, Jack, Outlet, Point, Supply

DC, AC, MAINS = "dc", "ac", "mains"


@dataclass(frozen=True, slots=True)
class LeadRun:
    """``end`` is the power jack, or the supply's ref for its mains lead.

    ``kind`` is None where nobody recorded whether the outlet gives direct or alternating current.
    """

    kind: str | None
    supply: str
    end: str
    route: str
    points: tuple[Corner, ...]


@lru_cache(maxsize=32)
def list_lead_runs(plan: BoardPlan) -> tuple[LeadRun, ...]:
    """Every lead that has a way; feeds in the plan's order, then the mains leads."""
    index = index_plan(plan)
    found = [run for feed in plan.feeds for run in feed_runs(plan, index, feed)]
    mains = (
        mains_run(plan, supply, supply.inlet_side)
        for supply in plan.supplies
        if supply.mains is not None and supply.inlet_side is not None
    )
    return (*found, *(run for run in mains if run is not None))


def mains_run(plan: BoardPlan, supply: Supply, side: str) -> LeadRun | None:
    """From the middle of that side of the unturned box to the nearest edge of the frame that it can reach."""
    start = middle_of(supply, side)
    if start is None or supply.place is None:
        return None
    frame, route = plan.frame, _route_of(supply)
    edges = (Point(0, start.y), Point(frame.width, start.y), Point(start.x, 0), Point(start.x, frame.depth))
    boxes, floor = obstacles_of(plan, route).boxes, floor_around(frame.width, frame.depth, (start,))
    ways = [(edge, way) for edge in edges if (way := find_way(start, edge, boxes, floor)) is not None]
    if not ways:
        return None
    edge, way = min(ways, key=lambda one: one[1].length)
    return LeadRun(MAINS, supply.ref, supply.ref, route, ((start.x, start.y), *way.corners, (edge.x, edge.y)))


def middle_of(supply: Supply, side: str) -> Point | None:
    """The middle of a side of the unturned box, where it is on the frame; None without a place or a size."""
    box = supply_box(supply)
    if box is None or supply.place is None:
        return None
    middle_x, middle_y = (box.x0 + box.x1) // 2, (box.y0 + box.y1) // 2
    return {
        "left": Point(box.x0, middle_y),
        "right": Point(box.x1, middle_y),
        "front": Point(middle_x, box.y0),
        "rear": Point(middle_x, box.y1),
    }[turned_side(side, supply.place.turn)]


def feed_runs(
    plan: BoardPlan, index: PlanIndex, feed: Feed, outlet_side: str | None = None
) -> Iterator[LeadRun]:
    """The leads of one feed; ``outlet_side`` tries a side for supplies of which none is recorded."""
    for name in feed.outlets:
        supply, outlet = index.outlets[fold(name)]
        side = supply.outlet_side or outlet_side
        start = None if side is None else middle_of(supply, side)
        for jack in feed.jacks:
            end = power_end(index, feed, jack)
            if start is not None and end is not None:
                yield from _lead(plan, supply, outlet, jack, start, end)


def _lead(
    plan: BoardPlan, supply: Supply, outlet: Outlet, jack: str, start: Point, end: Point
) -> Iterator[LeadRun]:
    route, frame = _route_of(supply), plan.frame
    floor = floor_around(frame.width, frame.depth, (start, end))
    way = find_way(start, end, obstacles_of(plan, route).boxes, floor)
    if way is not None:
        points = ((start.x, start.y), *way.corners, (end.x, end.y))
        yield LeadRun(outlet.current, supply.ref, jack, route, points)


def power_end(index: PlanIndex, feed: Feed, end: str) -> Point | None:
    """The outer end of the plug in a power jack, or its face where the plug's reach is not recorded."""
    pedal, jack = index.pedals[fold(split_end(end)[0])], index.jacks.get(fold(end))
    if not isinstance(jack, Jack):
        return None
    plug = index.plugs.get(fold(feed.lead.plug)) if feed.lead and feed.lead.plug else None
    return (plug_end(pedal, jack, plug) if plug is not None else None) or jack_point(pedal, jack)


def _route_of(supply: Supply) -> str:
    return "under" if supply.place is not None and supply.place.under else "top"
