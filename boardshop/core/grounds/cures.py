"""Which cures apply to a board's loops, in the order in which they are tried, and what each leaves.

A cure is counted by opening its joins: a transformer, an isolator or an isolated outlet takes them away.
No cure opens a join to earth, whatever that would count.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from boardshop.core.grounds.cure_steps import CURE_STEPS, CureStep
from boardshop.core.grounds.graph import GroundGraph, Join, map_grounds
from boardshop.core.grounds.own_outlets import OwnOutlet, find_own_outlets
from boardshop.core.index import PlanIndex, fold, index_plan
from boardshop.core.plan import BoardPlan, Pedal
from boardshop.core.power.sharing import HIGH_GAIN_KINDS


@dataclass(frozen=True, slots=True)
class Opening:
    """One join that a cure opens, and how many loops are left with that one alone."""

    ref: str
    loops: int
    outlet: OwnOutlet | None = None
    """Where the join is a return: the isolated outlet that would take its place."""


@dataclass(frozen=True, slots=True)
class Cure:
    """One step as far as this board has something for it; it concerns refs of units, links or jacks."""

    step: CureStep
    concerns: tuple[str, ...]
    openings: tuple[Opening, ...]
    alone: int
    """Loops left with this cure and no other."""
    after: int
    """Loops left with this cure and all those before it."""
    note: str = ""
    name: str = ""
    """The step's own, unless it comes a second time for others."""

    @property
    def opens(self) -> tuple[str, ...]:
        return tuple(opening.ref for opening in self.openings)


@dataclass(frozen=True, slots=True)
class _Found:
    """What a finder has for its step: whom it concerns, and of these what is opened."""

    concerns: tuple[str, ...]
    opens: tuple[str, ...] = ()
    note: str = ""
    name: str = ""


def list_cures(plan: BoardPlan) -> tuple[Cure, ...]:
    """The steps that have something to do here, in their order; none on a board without loops."""
    graph, index = map_grounds(plan), index_plan(plan)
    looped = graph.list_looped()
    found = [
        (step, one)
        for step in CURE_STEPS
        for one in FINDERS[step.number](index, graph, looped)
        if one.concerns
    ]
    jacks = [ref for step, one in found if step.number == 3 for ref in one.opens]
    outlets = find_own_outlets(plan, jacks)
    cures: list[Cure] = []
    opened: list[str] = []
    for step, one in found:
        opened += one.opens
        openings = tuple(
            Opening(ref, graph.without((ref,)).loops, outlets.get(fold(ref))) for ref in one.opens
        )
        alone, after = graph.without(one.opens).loops, graph.without(opened).loops
        cures.append(Cure(step, one.concerns, openings, alone, after, one.note, one.name or step.name))
    return tuple(cures)


def _find_leads(index: PlanIndex, graph: GroundGraph, looped: Sequence[Join]) -> Iterable[_Found]:
    yield _Found(_refs(join for join in looped if join.sort not in ("earth", "return")))


def _find_returns(index: PlanIndex, graph: GroundGraph, looped: Sequence[Join]) -> Iterable[_Found]:
    """The digital and the high-gain pedals, and what circuit nobody recorded; then what else still loops."""
    returns = [join for join in looped if join.sort == "return"]
    first = _refs(join for join in returns if _needs_its_own(index.pedals[fold(join.one)]))
    yield _Found(first, first)
    left = graph.without(first)
    rest: list[str] = []
    for join in returns:
        if join.ref not in first and left.without((*rest, join.ref)).loops < left.without(rest).loops:
            rest.append(join.ref)
    yield _Found(
        tuple(rest), tuple(rest), name="An isolated outlet for other pedals that loop through a shared return"
    )


def _find_earthed(index: PlanIndex, graph: GroundGraph, looped: Sequence[Join]) -> Iterable[_Found]:
    yield _Found(_refs(join for join in looped if join.sort == "earth"))


def _find_amps(index: PlanIndex, graph: GroundGraph, looped: Sequence[Join]) -> Iterable[_Found]:
    """Every amp but the first whose leads close a loop through earth; the first, too, if it still does.

    What a computer's leads close is left to their own cures.
    """
    left = graph.without(join.ref for join in graph.joins if join.sort in ("usb", "midi"))
    amps = [join.one for join in looped if join.sort == "earth"]
    opens: list[str] = []
    for amp in (*amps[1:], *amps[:1]):
        leads = _refs(join for join in looped if join.sort == "lead" and amp in (join.one, join.other))
        if leads and _closes_through_earth(left, leads):
            left = left.without(leads)
            opens += leads
    yield _Found(tuple(opens), tuple(opens))


def _find_sort(sort: str) -> "Finder":
    def find(index: PlanIndex, graph: GroundGraph, looped: Sequence[Join]) -> Iterable[_Found]:
        refs = _refs(join for join in looped if join.sort == sort)
        yield _Found(refs, refs)

    return find


def _find_housings(index: PlanIndex, graph: GroundGraph, looped: Sequence[Join]) -> Iterable[_Found]:
    on_loops = {fold(node) for join in looped for node in (join.one, join.other)}
    yield _Found(tuple(pedal.ref for ref, pedal in index.pedals.items() if ref in on_loops))


def _find_boxes(index: PlanIndex, graph: GroundGraph, looped: Sequence[Join]) -> Iterable[_Found]:
    """The leads of a DI box that lie on a loop; the desk's own are not on the board."""
    boxes = {ref for ref, pedal in index.pedals.items() if pedal.kind == "di"}
    opens = _refs(join for join in looped if join.sort in ("signal", "lead") and fold(join.one) in boxes)
    if opens:
        yield _Found(opens, opens)
    elif looped:
        names = tuple(pedal.ref for ref, pedal in index.pedals.items() if ref in boxes)
        yield _Found(
            names, (), "The count stays: the lead from the box to the desk is not recorded on the board."
        )


def _find_all(index: PlanIndex, graph: GroundGraph, looped: Sequence[Join]) -> Iterable[_Found]:
    on_loops = {node for join in looped for node in (join.one, join.other)}
    yield _Found(tuple(node for node in graph.nodes[:-1] if node in on_loops))


type Finder = Callable[[PlanIndex, GroundGraph, Sequence[Join]], Iterable[_Found]]

FINDERS: dict[int, Finder] = {
    1: _find_leads,
    2: _find_leads,
    3: _find_returns,
    4: _find_earthed,
    5: _find_amps,
    6: _find_sort("usb"),
    7: _find_sort("midi"),
    8: _find_housings,
    9: _find_boxes,
    10: _find_all,
}
"""What each step of `CURE_STEPS` finds to do, by its number."""


def _refs(joins: Iterable[Join]) -> tuple[str, ...]:
    return tuple(join.ref for join in joins)


def _needs_its_own(pedal: Pedal) -> bool:
    return pedal.circuit in ("digital", None) or (
        pedal.kind in HIGH_GAIN_KINDS and pedal.circuit in ("analog", "tube")
    )


def _closes_through_earth(graph: GroundGraph, refs: Sequence[str]) -> bool:
    """Whether opening these opens more loops than it would if nothing were earthed."""
    floating = graph.without(join.ref for join in graph.joins if join.sort == "earth")
    opened = graph.loops - graph.without(refs).loops
    return opened > floating.loops - floating.without(refs).loops
