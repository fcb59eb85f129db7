"""Runs: for each link that is not a given lead, its way over or under the frame and the length to cut.

A run stays on the frame (widened to plug ends that stick out over its edge), goes around its own pedals too,
may pass over other plugs, and need not leave a plug straight.
"""

from dataclasses import dataclass
from functools import lru_cache

from boardshop.core.cables.cut_length import capacitance, count_rounded_corners, cut_length, length_along
from boardshop.core.cables.ends import LinkEnd, find_ends
from boardshop.core.cables.lacks import Lack
from boardshop.core.cables.obstacles import ROUTES, Layer, obstacles_of
from boardshop.core.cables.routing import Corner, Way, find_blockers, find_way, floor_around
from boardshop.core.index import PlanIndex, fold, index_plan, split_end
from boardshop.core.plan import Amp, BoardPlan, CableType, Link, Point, Rules, Source


@dataclass(frozen=True, slots=True)
class MeasuredRun:
    """A link's run; ``points`` are its corners with both ends, for drawing.

    ``length_mm`` is along the run with rounded corners, without slack and plugs; ``needed_mm`` what a cable
    must have at the very least, plugs included; ``cut_mm`` what to cut.  None where something is not recorded
    (``missing`` says what) or no way exists (``blocked_by`` says what stands there).
    """

    link: Link
    points: tuple[Corner, ...] = ()
    path_mm: int | None = None
    length_mm: float | None = None
    needed_mm: float | None = None
    cut_mm: int | None = None
    blocked_by: tuple[str, ...] = ()
    missing: tuple[Lack, ...] = ()
    air_line: tuple[Corner, ...] = ()
    """Both ends of a run that has no way."""

    @property
    def corners(self) -> tuple[Corner, ...]:
        return self.points[1:-1]

    @property
    def is_cut(self) -> bool:
        return self.link.made is None


@lru_cache(maxsize=32)
def measure_runs(plan: BoardPlan) -> tuple[MeasuredRun, ...]:
    """Every link without a given `length`, in the plan's order; links made already are measured too."""
    index = index_plan(plan)
    layers = {route: obstacles_of(plan, route) for route in ROUTES}
    return tuple(_measure(plan, index, layers, link) for link in plan.links if link.length is None)


def link_capacitances(plan: BoardPlan) -> dict[str, int | None]:
    """pF of every link by folded ref: of its given or made length, else of its cut; None where not known."""
    index = index_plan(plan)
    cuts = {fold(run.link.ref): run.cut_mm for run in measure_runs(plan)}
    return {fold(link.ref): _link_pf(index, link, cuts.get(fold(link.ref))) for link in plan.links}


def cable_length(link: Link, cut_mm: int | None) -> int | None:
    """The length of cable in a link, mm: a given lead's, else the made one's, else the cut."""
    if link.length is not None:
        return link.length
    return cut_mm if link.made is None else link.made


def _link_pf(index: PlanIndex, link: Link, cut_mm: int | None) -> int | None:
    length, cable = cable_length(link, cut_mm), cable_type_of(index, link)
    if length is None or cable is None or cable.pf_per_m is None:
        return None
    return capacitance(length, cable.pf_per_m)


def cable_type_of(index: PlanIndex, link: Link) -> CableType | None:
    """The type of cable a link is made of, if one is chosen."""
    return index.cables.get(fold(link.cable)) if link.cable else None


def _measure(plan: BoardPlan, index: PlanIndex, layers: dict[str, Layer], link: Link) -> MeasuredRun:
    start, end = find_ends(plan, index, link)
    missing = (*start.missing, *end.missing, *_unstated_lead(index, link))
    if start.spot is None or end.spot is None:
        return MeasuredRun(link, missing=missing)
    layer = layers[link.route]
    floor = floor_around(plan.frame.width, plan.frame.depth, (start.spot, end.spot))
    way = find_way(start.spot, end.spot, layer.boxes, floor)
    if way is None:
        blockers = find_blockers(start.spot, end.spot, layer.boxes, floor)
        names = tuple(layer.names[i] for i in blockers)
        ends = (_pair(start.spot), _pair(end.spot))
        return MeasuredRun(link, blocked_by=names, missing=missing, air_line=ends)
    return _measure_way(plan.rules, cable_type_of(index, link), link, (start, end), way, missing)


def _measure_way(
    rules: Rules,
    cable: CableType | None,
    link: Link,
    ends: tuple[LinkEnd, LinkEnd],
    way: Way,
    missing: tuple[Lack, ...],
) -> MeasuredRun:
    spots = [end.spot for end in ends if end.spot is not None]
    points = (_pair(spots[0]), *way.corners, _pair(spots[1]))
    path = way.length + (2 * rules.pass_mm if link.route == "under" else 0)
    length = _length_of(cable, path, points)
    inside = _inside_both(ends)
    missing += _cut_unknown(cable, link, ends, points)
    if length is None or inside is None:
        return MeasuredRun(link, points, path, length, missing=missing)
    cut = cut_length(length, inside, rules)
    return MeasuredRun(link, points, path, length, length + inside, cut, missing=missing)


def _pair(point: Point) -> Corner:
    return point.x, point.y


def _length_of(cable: CableType | None, path: int, points: tuple[Corner, ...]) -> float | None:
    if len(points) == 2:
        return path
    if cable is None or cable.min_bend is None:
        return None
    return length_along(path, count_rounded_corners(points, cable.min_bend), cable.min_bend)


def _inside_both(ends: tuple[LinkEnd, LinkEnd]) -> int | None:
    taken = [None if end.plug is None else end.plug.inside for end in ends]
    return None if None in taken else sum(mm for mm in taken if mm is not None)


def _unstated_lead(index: PlanIndex, link: Link) -> tuple[Lack, ...]:
    """An instrument's or amp's lead that is measured only as far as the frame's edge."""
    parts = (index.signal_parts[fold(split_end(end)[0])] for end in (link.source, link.target))
    is_lead = any(isinstance(part, Source | Amp) for part in parts)
    return (Lack("lead", link.ref),) if is_lead and link.made is None else ()


def _cut_unknown(
    cable: CableType | None, link: Link, ends: tuple[LinkEnd, LinkEnd], points: tuple[Corner, ...]
) -> tuple[Lack, ...]:
    """What a cut length needs, once there is a way."""
    lacks: list[Lack] = []
    if cable is None:
        lacks.append(Lack("cable", link.ref))
    elif cable.min_bend is None and len(points) > 2:
        lacks.append(Lack("bend", cable.ref))
    for end in ends:
        if end.plug is None:
            lacks.append(Lack("plug", f"{link.ref} at {end.jack}"))
        elif end.plug.inside is None:
            lacks.append(Lack("inside", end.plug.ref))
    return tuple(lacks)
