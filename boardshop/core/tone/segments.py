"""From a driver to whatever loads it next: the cables, bypassed pedals and inputs that hang on one output.

A pedal that is true-bypass and not engaged is a piece of wire; any other one loads what is before it and
drives what follows.  A wire passes from `in` to `out`; where both jacks of a loop are linked, from `in` to
`send` and from `return` on, as it is wired.  Where a wire leads to several outputs, all of them hang on the
driver at once: their capacitances add and their inputs are in parallel.  An amp ends the signal; what its own
loop drives is not computed, because an amp's send has no recorded impedance.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from boardshop.core.index import PlanIndex, fold, split_end
from boardshop.core.plan import Amp, Link, Pedal, Source
from boardshop.core.tone.circuit import parallel

type Stage = Pedal | Amp

LEAD, PATCH, WIRING, INPUT, UNDECIDED = "lead", "patch", "bypass wiring", "input", "bypass not recorded"
"""What may add capacitance: a cable that leaves the board, one that does not, a true-bypass pedal's own
wiring, the input at the end; and a pedal of which nobody knows whether it passes or loads."""


@dataclass(frozen=True, slots=True)
class Addition:
    """What one thing adds to a segment, pF; None where that is not known.

    An amp's input of unknown capacitance counts as nothing, as the board-file format says.
    """

    ref: str
    kind: str
    pf: int | None

    @property
    def leaves_total_open(self) -> bool:
        return self.pf is None and self.kind != INPUT


@dataclass(frozen=True, slots=True)
class WalkRules:
    """What a walk needs to know besides the plan: `bypass_pf`, pF per link, and which pedals are engaged."""

    bypass_pf: int
    link_pf: Mapping[str, int | None]
    engaged: frozenset[str] = frozenset()
    """Folded refs."""

    def loads(self, pedal: Pedal) -> bool | None:
        """Whether the pedal loads and drives; None where its bypass is not recorded."""
        if fold(pedal.ref) in self.engaged:
            return True
        return None if pedal.bypass is None else pedal.bypass != "true"


@dataclass(frozen=True, slots=True)
class Segment:
    """``pf`` is None where a part of it is not known, ``into_ohm`` where an input is not or there is none.

    ``additions`` are what ``pf`` is the sum of, as the signal meets them.
    """

    driver: Source | Pedal
    links: tuple[Link, ...]
    passed: tuple[Pedal, ...]
    stages: tuple[Stage, ...]
    undecided: tuple[Pedal, ...]
    """Pedals of which nobody knows whether they pass or load."""
    open_ends: tuple[str, ...]
    """Outputs of passed pedals, or of the driver, that lead nowhere."""
    unknown_links: tuple[str, ...]
    """Refs of links whose capacitance is not known."""
    additions: tuple[Addition, ...]
    pf: int | None
    into_ohm: float | None

    @property
    def known_pf(self) -> int:
        """What is known of the total, which is at least that."""
        return sum(one.pf or 0 for one in self.additions)


@dataclass(slots=True)
class _Found:
    links: list[Link] = field(default_factory=list)
    passed: list[Pedal] = field(default_factory=list)
    stages: list[Stage] = field(default_factory=list)
    undecided: list[Pedal] = field(default_factory=list)
    open_ends: list[str] = field(default_factory=list)
    additions: list[Addition] = field(default_factory=list)

    def add(self, ref: str, kind: str, pf: int | None) -> None:
        self.additions.append(Addition(ref, kind, pf))


def list_segments(index: PlanIndex, source: Source, rules: WalkRules) -> tuple[Segment, ...]:
    """The source's segment, then those of each stage in the order the signal meets them."""
    segments: list[Segment] = []
    started: set[str] = set()
    waiting: list[tuple[Source | Pedal, str]] = [(source, f"{source.ref}.OUT")]
    while waiting:
        driver, output = waiting.pop(0)
        if fold(output) in started:
            continue
        started.add(fold(output))
        segment = _follow(index, driver, output, rules)
        segments.append(segment)
        following = [
            (stage, end)
            for stage in segment.stages
            if isinstance(stage, Pedal)
            for end in _outputs(index, stage)
        ]
        waiting = following + waiting
    return tuple(segments)


def _follow(index: PlanIndex, driver: Source | Pedal, output: str, rules: WalkRules) -> Segment:
    found = _Found()
    waiting, met = [output], {fold(output)}
    while waiting:
        end = waiting.pop(0)
        links = _signal_links(index, end)
        if not links:
            found.open_ends.append(end)
        onward: list[str] = []
        for link in links:
            found.links.append(link)
            found.add(link.ref, _sort_of(index, link), rules.link_pf[fold(link.ref)])
            onward += _arrive(index, link.target, rules, found)
        fresh = [e for e in dict.fromkeys(onward) if fold(e) not in met]
        met.update(fold(e) for e in fresh)
        waiting = fresh + waiting
    return Segment(
        driver=driver,
        links=tuple(found.links),
        passed=tuple(found.passed),
        stages=tuple(found.stages),
        undecided=tuple(found.undecided),
        open_ends=tuple(found.open_ends),
        unknown_links=tuple(x.ref for x in found.links if rules.link_pf[fold(x.ref)] is None),
        additions=tuple(found.additions),
        pf=_sum_pf(found.additions),
        into_ohm=_load_of(found),
    )


def _arrive(index: PlanIndex, end: str, rules: WalkRules, found: _Found) -> Iterator[str]:
    """Note what is at this input; the outputs on which the signal goes on through a wire."""
    ref, name = split_end(end)
    part = index.signal_parts[fold(ref)]
    if isinstance(part, Amp):
        found.stages.append(part)
        found.add(part.ref, INPUT, part.input_pf)
    elif isinstance(part, Pedal):
        loads = rules.loads(part)
        if loads is None:
            found.undecided.append(part)
            found.add(part.ref, UNDECIDED, None)
        elif loads:
            found.stages.append(part)
            found.add(part.ref, INPUT, part.input_pf)
        else:
            if part.ref not in [pedal.ref for pedal in found.passed]:
                found.passed.append(part)
                found.add(part.ref, WIRING, rules.bypass_pf)
            yield from _wired_outputs(index, part, name)


def _signal_links(index: PlanIndex, end: str) -> list[Link]:
    return [link for link in index.links_from.get(fold(end), ()) if link.carries == "signal"]


def _outputs(index: PlanIndex, pedal: Pedal) -> list[str]:
    """Linked outputs of a stage: each drives for itself."""
    ends = [f"{pedal.ref}.{jack.name}" for jack in pedal.jacks if jack.role in ("send", "out")]
    return [end for end in ends if _signal_links(index, end)]


def _wired_outputs(index: PlanIndex, pedal: Pedal, entered: str) -> list[str]:
    """The outputs that a bypassed pedal joins to the input ``entered``."""
    named: dict[str, list[str]] = {role: [] for role in ("in", "out", "send", "return")}
    for jack in pedal.jacks:
        named.get(jack.role, []).append(jack.name)
    loops = [
        (send, back)
        for send, back in zip(named["send"], named["return"], strict=False)
        if _signal_links(index, f"{pedal.ref}.{send}") and index.links_to.get(fold(f"{pedal.ref}.{back}"))
    ]
    in_loops = {fold(send) for send, _ in loops}
    position = next((i for i, (_, back) in enumerate(loops) if fold(back) == fold(entered)), -1)
    if position + 1 < len(loops):
        return [f"{pedal.ref}.{loops[position + 1][0]}"]
    outs = _own_side(named["in"], named["out"], entered)
    taps = [send for send in named["send"] if fold(send) not in in_loops]
    linked = [f"{pedal.ref}.{name}" for name in (*outs, *taps) if _signal_links(index, f"{pedal.ref}.{name}")]
    return linked or [f"{pedal.ref}.{name}" for name in outs[:1]]


def _own_side(ins: list[str], outs: list[str], entered: str) -> list[str]:
    """Of as many outputs as inputs the one beside ``entered``; else all of them."""
    sides = [out for name, out in zip(ins, outs, strict=False) if fold(name) == fold(entered)]
    return sides if sides and len(ins) == len(outs) else outs


def _sort_of(index: PlanIndex, link: Link) -> str:
    """A lead comes from an instrument or goes to an amp; every other cable stays on the board."""
    ends = (index.signal_parts[fold(split_end(end)[0])] for end in (link.source, link.target))
    return LEAD if any(isinstance(part, Source | Amp) for part in ends) else PATCH


def _sum_pf(additions: Sequence[Addition]) -> int | None:
    """Links, bypass wiring and the inputs at the end; an amp's unrecorded capacitance counts as nothing."""
    if any(one.leaves_total_open for one in additions):
        return None
    return sum(one.pf or 0 for one in additions)


def _load_of(found: _Found) -> float | None:
    inputs = [stage.input_ohm for stage in found.stages]
    known = [ohm for ohm in inputs if ohm is not None]
    if not known or len(known) < len(inputs) or found.undecided:
        return None
    return known[0] if len(known) == 1 else parallel(known)
