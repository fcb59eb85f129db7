"""What if a cable were of another type or length, or a buffer stood somewhere: tried on a copy of the plan.

The board itself is never touched.
A buffer stands at the far end of an instrument's lead, or right behind a pedal, and takes no cable itself.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from boardshop.core.cables.runs import measure_runs
from boardshop.core.findings import Finding
from boardshop.core.index import fold, index_plan, split_end
from boardshop.core.moves import list_brought, list_settled
from boardshop.core.plan import BoardPlan, CableType, Jack, Link, Pedal, Source
from boardshop.core.printing import round_whole
from boardshop.core.tone.checks import check_tone
from boardshop.core.tone.comparing import Against, compare_levels
from boardshop.core.tone.segments import Segment
from boardshop.core.tone.states import ToneState, compute_state, list_states

BUFFER_OHM, BUFFER_PF, BUFFER_OUTPUT_OHM = 1_000_000, 10, 1_000
"""A usual buffer: what it puts on the pickup, and what it drives from; common practice."""


class NothingBehind(ValueError):
    """No cable leaves this part, so there is nowhere to put a buffer."""


@dataclass(frozen=True, slots=True)
class OtherCable:
    """Another type for one link, or with ``link`` None for every signal link."""

    cable: CableType
    link: str | None = None


@dataclass(frozen=True, slots=True)
class OtherLength:
    """One link as a given cable of that length."""

    link: str
    length_mm: int


@dataclass(frozen=True, slots=True)
class AddedBuffer:
    """``behind`` is the ref of an instrument, for the entry of the board, or of a pedal."""

    behind: str
    input_ohm: int = BUFFER_OHM
    input_pf: int = BUFFER_PF
    output_ohm: int = BUFFER_OUTPUT_OHM


type ToneChange = OtherCable | OtherLength | AddedBuffer


@dataclass(frozen=True, slots=True)
class StateFigures:
    """``state`` is None where the input at the end is not known, ``against`` where there is no response."""

    segment: Segment
    state: ToneState | None
    against: tuple[Against, ...] | None


@dataclass(frozen=True, slots=True)
class StateChange:
    name: str
    is_scene: bool
    before: StateFigures
    after: StateFigures


@dataclass(frozen=True, slots=True)
class TooShort:
    """A length that was tried and does not reach along the run as it is placed."""

    link: str
    tried_mm: int
    needed_mm: int


@dataclass(frozen=True, slots=True)
class ToneTrial:
    """``states`` by the instrument's ref; only findings of tone are in ``settles`` and ``brings``."""

    plan: BoardPlan
    states: dict[str, tuple[StateChange, ...]]
    settles: tuple[Finding, ...]
    brings: tuple[Finding, ...]
    too_short: tuple[TooShort, ...]


def try_tone(plan: BoardPlan, changes: Sequence[ToneChange]) -> ToneTrial:
    """All changes at once, in their order: what each state is now and what it would be.

    Raises KeyError for a link or part that is not on the board, NothingBehind where a buffer has no place.
    """
    tried = plan
    for change in changes:
        tried = _apply(tried, change)
    before, after = check_tone(plan), check_tone(tried)
    lengths = [change for change in changes if isinstance(change, OtherLength)]
    return ToneTrial(
        plan=tried,
        states={source.ref: _compare_states(plan, tried, source) for source in plan.sources},
        settles=list_settled(before, after),
        brings=list_brought(before, after),
        too_short=tuple(_list_too_short(plan, lengths)),
    )


def tell_states(plan: BoardPlan, source: Source) -> tuple[StateFigures, ...]:
    """The figures of every state of one instrument, in the order of `list_states`."""
    return tuple(
        StateFigures(state.first, compute_state(source, state.first), compare_levels(source, state.first))
        for state in list_states(plan)[source.ref]
    )


def _compare_states(plan: BoardPlan, tried: BoardPlan, source: Source) -> tuple[StateChange, ...]:
    named = list_states(plan)[source.ref]
    pairs = zip(named, tell_states(plan, source), tell_states(tried, source), strict=True)
    return tuple(StateChange(state.name, state.is_scene, before, after) for state, before, after in pairs)


def _apply(plan: BoardPlan, change: ToneChange) -> BoardPlan:
    if isinstance(change, OtherCable):
        return _swap_cable(plan, change)
    if isinstance(change, OtherLength):
        link = _find_link(plan, change.link)
        return _with_links(plan, {link.ref: replace(link, length=change.length_mm)})
    return _add_buffer(plan, change)


def _swap_cable(plan: BoardPlan, change: OtherCable) -> BoardPlan:
    plan, ref = _with_cable(plan, change.cable)
    if change.link is not None:
        links = [_find_link(plan, change.link)]
    else:
        links = [link for link in plan.links if link.carries == "signal"]
    return _with_links(plan, {link.ref: replace(link, cable=ref) for link in links})


def _with_cable(plan: BoardPlan, cable: CableType) -> tuple[BoardPlan, str]:
    """The plan with this type among its own, and the type's ref there."""
    for known in plan.cables:
        if replace(cable, ref=known.ref) == known:
            return plan, known.ref
    ref = _free_ref("C", (known.ref for known in plan.cables))
    return replace(plan, cables=(*plan.cables, replace(cable, ref=ref))), ref


def _add_buffer(plan: BoardPlan, change: AddedBuffer) -> BoardPlan:
    part = index_plan(plan).signal_parts[fold(change.behind)]
    if not isinstance(part, Source | Pedal):
        raise NothingBehind(part.ref)
    if isinstance(part, Source):
        leads = [link for link in plan.links if fold(split_end(link.source)[0]) == fold(part.ref)]
        if not leads:
            raise NothingBehind(part.ref)
        for lead in leads:
            plan = _insert(plan, change, lead.target, [lead])
        return plan
    outs = [f"{part.ref}.{jack.name}" for jack in part.jacks if jack.role == "out"]
    linked = [end for end in outs if index_plan(plan).links_from.get(fold(end))]
    if not linked:
        raise NothingBehind(part.ref)
    for end in linked:
        plan = _insert_behind(plan, change, end)
    return plan


def _insert(plan: BoardPlan, change: AddedBuffer, target: str, leads: Sequence[Link]) -> BoardPlan:
    """A buffer right before ``target``, on which these links end."""
    plan, ref, join = _prepare(plan, change)
    plan = _with_links(plan, {lead.ref: replace(lead, target=f"{ref}.IN") for lead in leads})
    return replace(plan, links=(*plan.links, replace(join, source=f"{ref}.OUT", target=target)))


def _insert_behind(plan: BoardPlan, change: AddedBuffer, end: str) -> BoardPlan:
    """A buffer right behind the output ``end``, from which its links go on."""
    plan, ref, join = _prepare(plan, change)
    moved = index_plan(plan).links_from[fold(end)]
    plan = _with_links(plan, {link.ref: replace(link, source=f"{ref}.OUT") for link in moved})
    return replace(plan, links=(*plan.links, replace(join, source=end, target=f"{ref}.IN")))


def _prepare(plan: BoardPlan, change: AddedBuffer) -> tuple[BoardPlan, str, Link]:
    """The plan with a buffer that nothing is linked to yet, its ref, and a link of no length for it."""
    index = index_plan(plan)
    ref = _free_ref("B", (*index.signal_parts, *index.supplies))
    buffer = Pedal(
        ref,
        "buffer",
        1,
        1,
        jacks=(Jack("IN", "in"), Jack("OUT", "out")),
        bypass="always-on",
        on=True,
        circuit="analog",
        input_ohm=change.input_ohm,
        input_pf=change.input_pf,
        output_ohm=change.output_ohm,
    )
    plan, cable = _with_cable(plan, CableType("", pf_per_m=0))
    join = Link(_free_ref("W", (link.ref for link in plan.links)), "", "", cable=cable, length=0)
    return replace(plan, pedals=(*plan.pedals, buffer)), ref, join


def _find_link(plan: BoardPlan, ref: str) -> Link:
    found = next((link for link in plan.links if fold(link.ref) == fold(ref)), None)
    if found is None:
        raise KeyError(ref)
    return found


def _with_links(plan: BoardPlan, changed: dict[str, Link]) -> BoardPlan:
    return replace(plan, links=tuple(changed.get(link.ref, link) for link in plan.links))


def _free_ref(letter: str, taken: Iterable[str]) -> str:
    known = {fold(ref) for ref in taken}
    number = 1
    while fold(f"{letter}{number}") in known:
        number += 1
    return f"{letter}{number}"


def _list_too_short(plan: BoardPlan, changes: Sequence[OtherLength]) -> list[TooShort]:
    """Of given leads nobody knows how far they have to reach."""
    needed = {fold(run.link.ref): run.needed_mm for run in measure_runs(plan)}
    found = []
    for change in changes:
        least = needed.get(fold(change.link))
        if least is not None and change.length_mm < least:
            found.append(TooShort(_find_link(plan, change.link).ref, change.length_mm, round_whole(least)))
    return found
