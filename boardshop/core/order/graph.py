"""The signal's graph: which pedal, at which stage of its own loops, leads to which next one.

A pedal passes from its `in` jacks to its `out` jacks.  Where both the send and the return of a loop are
linked, the signal goes out at the send and the next stage of the pedal begins at the return; loops follow
each other in the order of their jacks, and jacks that differ only in a final L or R are one stereo loop.
A send without its return is a tap.  An amp ends a path at each of its inputs and begins one at each send.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby, zip_longest
from typing import NamedTuple

from boardshop.core.index import PlanIndex, fold, index_plan, split_end
from boardshop.core.order.relations import bits_of, close_transitively, strong_parts
from boardshop.core.plan import BoardPlan, Jack, Link, Pedal
from boardshop.core.vocabulary import OUTPUT_ROLES

CONTROL_KINDS = ("expression", "midi-controller")
SIDE_MARKS = ("LEFT", "RIGHT", "L", "R")


class Stage(NamedTuple):
    """One passage through a pedal: 0 begins at its inputs, n at the return of its nth loop in use."""

    ref: str
    number: int


class Step(NamedTuple):
    """One way on: the link taken (None inside a pedal) and the stage it leads to (None: an amp ends it)."""

    link: Link | None
    stage: Stage | None


@dataclass(frozen=True, slots=True)
class Start:
    """Where a path begins: the jack (None where nothing feeds it) and the first ways on."""

    end: str | None
    steps: tuple[Step, ...]
    is_send: bool = False


@dataclass(frozen=True, slots=True)
class SignalGraph:
    steps: dict[Stage, tuple[Step, ...]]
    starts: tuple[Start, ...]
    cycles: tuple[tuple[str, ...], ...]
    """Refs, in the plan's order, of pedals whose signal comes back to themselves."""


@lru_cache(maxsize=32)
def signal_graph(plan: BoardPlan) -> SignalGraph:
    return _Builder(plan).build()


def signal_links(plan: BoardPlan) -> tuple[Link, ...]:
    """The links that carry audio: `signal` links between audio jacks (a MIDI lead may lack its mark)."""
    jacks = index_plan(plan).jacks
    return tuple(
        link
        for link in plan.links
        if link.carries == "signal"
        and (jack := jacks.get(fold(link.source))) is not None
        and jack.role in OUTPUT_ROLES
    )


class _Builder:
    def __init__(self, plan: BoardPlan) -> None:
        self.plan = plan
        self.index: PlanIndex = index_plan(plan)
        self.links_from: dict[str, list[Link]] = {}
        self.linked: set[str] = set()
        for link in signal_links(plan):
            self.links_from.setdefault(fold(link.source), []).append(link)
            self.linked.update((fold(link.source), fold(link.target)))
        self.entry: dict[str, Stage] = {}
        self.exits: dict[Stage, list[str]] = {}
        self.passes_on: list[tuple[Stage, Stage]] = []

    def build(self) -> SignalGraph:
        for pedal in self.plan.pedals:
            self._lay_out(pedal)
        steps = {stage: self._steps_from(jacks) for stage, jacks in self.exits.items()}
        for stage, following in self.passes_on:
            steps[stage] = (*steps[stage], Step(None, following))
        return SignalGraph(steps, self._starts(steps), self._cycles(steps))

    def _lay_out(self, pedal: Pedal) -> None:
        """Give each linked input its stage and each stage its linked outputs."""
        used = [jack for jack in pedal.jacks if fold(f"{pedal.ref}.{jack.name}") in self.linked]
        if not used:
            return
        stage = Stage(fold(pedal.ref), 0)
        self.exits[stage] = []
        for sends, returns in zip_longest(_groups(pedal, "send"), _groups(pedal, "return"), fillvalue=()):
            sent = [f"{pedal.ref}.{jack.name}" for jack in sends if jack in used]
            returned = [f"{pedal.ref}.{jack.name}" for jack in returns if jack in used]
            self.exits[stage] += sent
            if returned:
                following = Stage(stage.ref, stage.number + 1)
                if not sent and any(jack.role == "in" for jack in used):
                    self.passes_on.append((stage, following))
                stage = following
                self.exits[stage] = []
                self.entry.update((fold(end), stage) for end in returned)
        self.exits[stage] += [f"{pedal.ref}.{jack.name}" for jack in used if jack.role == "out"]
        for jack in used:
            if jack.role == "in":
                self.entry[fold(f"{pedal.ref}.{jack.name}")] = Stage(stage.ref, 0)

    def _steps_from(self, ends: Sequence[str]) -> tuple[Step, ...]:
        """The ways on, each next stage once; a tuner on an output of its own is off the chain."""
        links = [link for end in ends for link in self.links_from.get(fold(end), ())]
        staying = [link for link in links if not self._ends_in_tuner(link)]
        steps: dict[Stage | str, Step] = {}
        for link in staying or links[:1]:
            stage = self.entry.get(fold(link.target))
            steps.setdefault(stage or fold(link.target), Step(link, stage))
        return tuple(steps.values())

    def _ends_in_tuner(self, link: Link) -> bool:
        ref = fold(split_end(link.target)[0])
        pedal = self.index.pedals.get(ref)
        return pedal is not None and pedal.kind == "tuner" and not self.exits.get(Stage(ref, 0))

    def _starts(self, steps: dict[Stage, tuple[Step, ...]]) -> tuple[Start, ...]:
        """Sources, then amps' outputs, then what nothing feeds, then one stage of each ring left over."""
        starts = [self._start_at(f"{source.ref}.OUT") for source in self.plan.sources]
        for amp in self.plan.amps:
            outputs = [jack for jack in amp.jacks if jack.role in OUTPUT_ROLES]
            starts += [self._start_at(f"{amp.ref}.{j.name}", j.role == "send") for j in outputs]
        fed = {step.stage for ways in steps.values() for step in ways}
        fed |= {step.stage for start in starts for step in start.steps}
        starts += [Start(None, (Step(None, stage),)) for stage in steps if steps[stage] and stage not in fed]
        reached = _reach(steps, starts)
        for stage in steps:
            if steps[stage] and stage not in reached:
                starts.append(Start(None, (Step(None, stage),)))
                reached = _reach(steps, starts)
        return tuple(start for start in starts if start.steps)

    def _start_at(self, end: str, is_send: bool = False) -> Start:
        return Start(end, self._steps_from((end,)), is_send)

    def _cycles(self, steps: dict[Stage, tuple[Step, ...]]) -> tuple[tuple[str, ...], ...]:
        stages = list(steps)
        number = {stage: i for i, stage in enumerate(stages)}
        rows = [0] * len(stages)
        for stage, ways in steps.items():
            for step in ways:
                if step.stage is not None:
                    rows[number[stage]] |= 1 << number[step.stage]
        closed = close_transitively(rows)
        found: dict[int, tuple[str, ...]] = {}
        for i, part in enumerate(strong_parts(closed)):
            if closed[i] & 1 << i:
                refs = (self.index.pedals[stages[j].ref].ref for j in bits_of(part))
                found[part] = tuple(dict.fromkeys(refs))
        return tuple(found.values())


def list_loops(pedal: Pedal) -> tuple[tuple[str, str], ...]:
    """The jacks of the pedal's own loops in the order the signal takes them: `("P3.SEND 1", "P3.RETURN 1")`.

    Of a stereo loop the first of each side; a send or return without its partner is no loop.
    """
    pairs = zip(_groups(pedal, "send"), _groups(pedal, "return"), strict=False)
    return tuple((f"{pedal.ref}.{sends[0].name}", f"{pedal.ref}.{backs[0].name}") for sends, backs in pairs)


def _groups(pedal: Pedal, role: str) -> list[tuple[Jack, ...]]:
    jacks = [jack for jack in pedal.jacks if jack.role == role]
    return [tuple(group) for _, group in groupby(jacks, key=_loop_name)]


def _loop_name(jack: Jack) -> str:
    """`SEND 2 L` and `SEND 2 R` are one loop; any other name is a loop of its own."""
    name = jack.name.upper()
    for mark in SIDE_MARKS:
        if name.endswith(mark):
            return name.removesuffix(mark).rstrip(" -_/")
    return f"={name}"


def _reach(steps: dict[Stage, tuple[Step, ...]], starts: Iterable[Start]) -> set[Stage]:
    reached: set[Stage] = set()
    waiting = [step.stage for start in starts for step in start.steps]
    while waiting:
        stage = waiting.pop()
        if stage is not None and stage not in reached:
            reached.add(stage)
            waiting += [step.stage for step in steps[stage]]
    return reached


def iterate_walks(graph: SignalGraph, start: Start) -> Iterator[tuple[Step, ...]]:
    """Every way from ``start`` that meets no stage twice, up to an amp or to where it cannot go on.

    Ways come in the order of jacks and links.  Their number can grow without bound: take as many as needed.
    """
    waiting = [_open_ways(start.steps, ())]
    walk: list[Step] = []
    while waiting:
        step = next(waiting[-1], None)
        if step is None:
            waiting.pop()
            if walk:
                walk.pop()
            continue
        walk.append(step)
        ways = () if step.stage is None else graph.steps[step.stage]
        onward = list(_open_ways(ways, walk))
        if not onward:
            yield tuple(walk)
        waiting.append(iter(onward))


def _open_ways(ways: Iterable[Step], walk: Sequence[Step]) -> Iterator[Step]:
    met = {step.stage for step in walk if step.stage is not None}
    return (step for step in ways if step.stage is None or step.stage not in met)
