"""The score of a placing, by the board-file format: 4 x cable, and each step's use x its depth."""

from collections.abc import Mapping

from boardshop.core.index import fold, index_plan, split_end
from boardshop.core.layout.geometry import switch_points
from boardshop.core.placing.problem import CABLE_WEIGHT, lead_point
from boardshop.core.placing.things import end_point
from boardshop.core.plan import BoardPlan, Place, Point


def score_places(plan: BoardPlan, places: Mapping[str, Place]) -> tuple[int, int]:
    """(score, mm of cable) of the pedals that have a place, by folded ref; links to others do not count."""
    cable = 0
    for link in plan.links:
        ends = (link.source, link.plug_from), (link.target, link.plug_to)
        points = [_point(plan, places, end, plug) for end, plug in ends]
        if points[0] is not None and points[1] is not None:
            cable += abs(points[0].x - points[1].x) + abs(points[0].y - points[1].y)
    steps = 0
    for pedal in plan.pedals:
        place = places.get(fold(pedal.ref))
        if place is not None and pedal.switches:
            steps += pedal.use * min(point.y for point in switch_points(pedal, place))
    return CABLE_WEIGHT * cable + steps, cable


def _point(plan: BoardPlan, places: Mapping[str, Place], end: str, plug: str | None) -> Point | None:
    ref = fold(split_end(end)[0])
    pedal = index_plan(plan).pedals.get(ref)
    if pedal is None:
        return lead_point(plan, ref)
    place = places.get(ref)
    if place is None:
        return None
    point = end_point(plan, pedal, end, plug, place.turn)
    return Point(place.x + point.x, place.y + point.y)
