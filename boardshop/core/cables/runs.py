"""Runs: for each link that is not a given lead, its way over or under the frame and the length to cut."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from boardshop.core.cables.cut_length import capacitance, count_rounded_corners, cut_length, length_along
from boardshop.core.cables.ends import LinkEnd, find_ends
from boardshop.core.cables.routing import Corner, Way, find_blockers, find_way, floor_around
from boardshop.core.cables.rules import cable_finding
from boardshop.core.findings import Finding
from boardshop.core.index import PlanIndex, fold, index_plan
from boardshop.core.layout.geometry import Box, body_box, supply_box
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
    missing: tuple[Finding, ...] = ()

    @property
    def corners(self) -> tuple[Corner, ...]:
        return self.points[1:-1]

    @property
    def is_cut(self) -> bool:
        return self.link.made is None


@dataclass(frozen=True, slots=True)
class _Layer:
    """What a run must go around on one side of the frame's top, and how those things are called."""

    boxes: tuple[Box, ...]
    names: tuple[str, ...]


@lru_cache(maxsize=32)
def measure_runs(plan: BoardPlan) -> tuple[MeasuredRun, ...]:
    """Every link without a given `length`, in the plan's order; links made already are measured too."""
    index = index_plan(plan)
    layers = {"top": _top_layer(plan), "under": _under_layer(plan)}
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


def _top_layer(plan: BoardPlan) -> _Layer:
    named = [(pedal.ref, body_box(pedal)) for pedal in plan.pedals]
    named += [(s.ref, supply_box(s)) for s in plan.supplies if s.place is not None and not s.place.under]
    return _layer([*named, *_keepouts(plan)])


def _under_layer(plan: BoardPlan) -> _Layer:
    named = [(s.ref, supply_box(s)) for s in plan.supplies if s.place is not None and s.place.under]
    return _layer([*named, *_keepouts(plan)])


def _keepouts(plan: BoardPlan) -> list[tuple[str, Box | None]]:
    return [
        (f"keepout {number}", Box(k.x, k.y, k.x + k.width, k.y + k.depth))
        for number, k in enumerate(plan.frame.keepouts, start=1)
    ]


def _layer(named: Sequence[tuple[str, Box | None]]) -> _Layer:
    known = [(name, box) for name, box in named if box is not None]
    return _Layer(tuple(box for _, box in known), tuple(name for name, _ in known))


def _measure(plan: BoardPlan, index: PlanIndex, layers: dict[str, _Layer], link: Link) -> MeasuredRun:
    start, end = find_ends(plan, index, link)
    missing = (*start.missing, *end.missing, *_unstated_lead(index, link))
    if start.spot is None or end.spot is None:
        return MeasuredRun(link, missing=missing)
    layer = layers[link.route]
    floor = floor_around(plan.frame.width, plan.frame.depth, (start.spot, end.spot))
    way = find_way(start.spot, end.spot, layer.boxes, floor)
    if way is None:
        blockers = find_blockers(start.spot, end.spot, layer.boxes, floor)
        return MeasuredRun(link, blocked_by=tuple(layer.names[i] for i in blockers), missing=missing)
    return _measure_way(plan.rules, cable_type_of(index, link), link, (start, end), way, missing)


def _measure_way(
    rules: Rules,
    cable: CableType | None,
    link: Link,
    ends: tuple[LinkEnd, LinkEnd],
    way: Way,
    missing: tuple[Finding, ...],
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


def _unstated_lead(index: PlanIndex, link: Link) -> tuple[Finding, ...]:
    """An instrument's or amp's lead that is measured only as far as the frame's edge."""
    ends = (link.source, link.target)
    far = [end for end in ends if isinstance(index.signal_parts[fold(end.partition(".")[0])], Source | Amp)]
    if not far or link.made is not None:
        return ()
    what = f"{link.ref} is the lead to {' and '.join(far)}, but its length is not recorded, "
    what += "so only the run up to where it meets the frame is counted."
    return (cable_finding("C11", (link.ref,), what),)


def _cut_unknown(
    cable: CableType | None, link: Link, ends: tuple[LinkEnd, LinkEnd], points: tuple[Corner, ...]
) -> tuple[Finding, ...]:
    """What a cut length and its capacitance need and nobody recorded."""
    found: list[Finding] = []
    if cable is None:
        what = f"No cable type is chosen for {link.ref}, so its capacitance and its bends are not known."
        found.append(cable_finding("C01", (link.ref,), what, "Choose the cable type."))
    elif cable.min_bend is None and len(points) > 2:
        what = f"Neither bend radius nor diameter of cable {cable.ref} is recorded, "
        what += "so a run with corners cannot be given a length."
        found.append(cable_finding("C01", (cable.ref,), what, "Measure the cable's diameter."))
    for end in ends:
        if end.plug is None and end.spot is not None:
            what = f"No plug type is chosen for {link.ref} at {end.jack}, so the cut cannot be worked out."
            found.append(cable_finding("C01", (link.ref, end.jack), what, "Choose the plug type."))
        elif end.plug is not None and end.plug.inside is None:
            what = (
                f"How much cable plug {end.plug.ref} takes in is not recorded, so no cut can be worked out."
            )
            found.append(
                cable_finding("C01", (end.plug.ref,), what, "Measure five of them and store the mean.")
            )
    return tuple(found)
