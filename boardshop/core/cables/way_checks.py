"""Where runs lie: under a foot, on one way with others, and through which opening they go down."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from boardshop.core.cables.crossings import list_crossings, list_meetings
from boardshop.core.cables.drops import Drop, RunDrops, list_drops
from boardshop.core.cables.foot_paths import list_foot_paths
from boardshop.core.cables.routing import Corner, crosses
from boardshop.core.cables.rules import SHARED_BY, SHARED_FROM_MM, cable_finding
from boardshop.core.cables.runs import measure_runs
from boardshop.core.findings import Finding
from boardshop.core.index import PlanIndex, index_plan
from boardshop.core.layout.geometry import Box
from boardshop.core.naming import called, say_all
from boardshop.core.plan import BoardPlan


def check_ways(plan: BoardPlan) -> Iterator[Finding]:
    index = index_plan(plan)
    yield from _check_crossings(plan, index)
    yield from _check_under_feet(plan, index)
    if plan.frame.surface == "slotted":
        yield from _check_shared(plan)
    for drops in list_drops(plan):
        yield from _check_drops(plan, index, drops)


def _check_crossings(plan: BoardPlan, index: PlanIndex) -> Iterator[Finding]:
    """One finding for each two runs, with every switch whose foot comes down there."""
    paths = list_foot_paths(plan)
    under: dict[tuple[str, str], list[str]] = {}
    for crossing in list_crossings(plan):
        if crossing.route == "top":
            feet = [path.ref for path in paths if _is_within(crossing.at, path.box)]
            under.setdefault((crossing.one, crossing.other), []).extend(feet)
    for (one, other), feet in under.items():
        if feet:
            whom = say_all(called(index, ref) for ref in dict.fromkeys(feet))
            what = f"{one} and {other} cross on top, one over the other, where the foot comes to {whom}."
            yield cable_finding("C12", (one, other), what)


def _check_under_feet(plan: BoardPlan, index: PlanIndex) -> Iterator[Finding]:
    """One finding for each run."""
    paths = list_foot_paths(plan)
    for run in measure_runs(plan):
        if run.link.route == "top" and run.points:
            feet = dict.fromkeys(path.ref for path in paths if _lies_across(run.points, path.box))
            if feet:
                whom = say_all(called(index, ref) for ref in feet)
                what = f"{run.link.ref} lies on top across the way of the foot to {whom}: a toe can catch it."
                yield cable_finding("C13", (run.link.ref, *feet), what)


def _check_shared(plan: BoardPlan) -> Iterator[Finding]:
    """One finding for each set of runs that lie on one way with one of them."""
    beside: dict[str, list[str]] = {}
    for met in list_meetings(plan):
        if met.route == "top" and met.shared_mm >= SHARED_FROM_MM:
            beside.setdefault(met.one, []).append(met.other)
            beside.setdefault(met.other, []).append(met.one)
    order = [link.ref for link in plan.links]
    sets = {frozenset((ref, *others)) for ref, others in beside.items()}
    large = [one for one in sets if len(one) >= SHARED_BY and not any(one < other for other in sets)]
    for together in sorted(sorted(one, key=order.index) for one in large):
        what = f"{say_all(together)} lie on one way on top for {SHARED_FROM_MM} mm and more."
        yield cable_finding("C18", tuple(together), what)


def _check_drops(plan: BoardPlan, index: PlanIndex, run: RunDrops) -> Iterator[Finding]:
    closed = [drop for drop in run.drops if drop.at is None]
    if closed:
        ends = say_all(called(index, drop.jack) for drop in closed)
        what = (
            f"{run.link} is routed under the frame, but no gap between the rails lets it through at {ends}."
        )
        yield cable_finding("C19", (run.link,), what)
    far = [drop for drop in run.drops if _beyond(plan, drop) > 0]
    if far:
        each = say_all(f"{drop.away_mm} mm from {called(index, drop.jack)}" for drop in far)
        short = sum(_beyond(plan, drop) for drop in far)
        what = (
            f"The nearest opening for {run.link} is {each}; {plan.rules.pass_mm} mm are counted for each "
            f"pass, so the cut may be {short} mm too short."
        )
        yield cable_finding("C20", (run.link,), what)


def _beyond(plan: BoardPlan, drop: Drop) -> int:
    return 0 if drop.away_mm is None else drop.away_mm - plan.rules.pass_mm


def _is_within(at: Corner, box: Box) -> bool:
    return box.x0 < at[0] < box.x1 and box.y0 < at[1] < box.y1


def _lies_across(points: Sequence[Corner], path: Box) -> bool:
    """Whether a leg lies across the path: a toe slides along one that leads the way the foot goes."""
    return any(leg[0][1] == leg[1][1] and crosses(leg, path) for leg in pairwise(points))
