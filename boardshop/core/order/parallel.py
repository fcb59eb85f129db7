"""Findings about several ways of the signal side by side: stereo pairs, and branches that meet in a mixer."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import combinations
from math import fsum

from boardshop.core.findings import Finding
from boardshop.core.index import PlanIndex, fold, index_plan, split_end
from boardshop.core.naming import called
from boardshop.core.order.conditions import Missing
from boardshop.core.order.engaged import Acting, acts
from boardshop.core.order.graph import signal_links
from boardshop.core.order.paths import SignalPath, signal_paths
from boardshop.core.order.ranks import TAILS
from boardshop.core.order.standing_rules import STANDING_RULES
from boardshop.core.order.wording import Gap, say_gaps, say_refs
from boardshop.core.plan import BoardPlan, Jack, Link, Pedal

type Remark = Finding | Gap
type Joins = dict[tuple[str, str], list[Link]]

COMB_BELOW_HZ = 10_000
"""Two equal signals d ms apart cancel first at 1000 / 2d Hz; above this a guitar speaker gives nothing."""


@dataclass(frozen=True, slots=True)
class Branches:
    """Two ways that part and meet again in ``mixer``; the pedals that only one of them passes."""

    one: tuple[Pedal, ...]
    other: tuple[Pedal, ...]
    mixer: Pedal

    def only(self, acting: Acting) -> "Branches":
        """As heard in a scene: what is bypassed passes the sound on unchanged."""
        one, other = (tuple(p for p in way if acts(acting, p)) for way in (self.one, self.other))
        return Branches(one, other, self.mixer)


def check_parallel(plan: BoardPlan, acting: Acting = None) -> tuple[Finding, ...]:
    """Of the whole board, or of the pedals that act in a scene: a bypassed one neither inverts nor delays."""
    index = index_plan(plan)
    paths = signal_paths(plan)
    remarks: list[Remark] = []
    joins: Joins = {}
    for link in signal_links(plan):
        joins.setdefault(_hop(link), []).append(link)
    for path in paths:
        remarks += _lost_side(index, joins, path)
    for branches in (each.only(acting) for each in find_branches(paths)):
        remarks += [*_polarity(index, branches), *_combing(index, branches), *_doubled_dry(index, branches)]
    findings = dict.fromkeys(remark for remark in remarks if isinstance(remark, Finding))
    return (*findings, *say_gaps(index, (remark for remark in remarks if isinstance(remark, Gap))))


def find_branches(paths: Iterable[SignalPath]) -> tuple[Branches, ...]:
    """Every pair of ways from one start, or one parting, that meet in a mixer, each pair once."""
    heads: dict[tuple[str, str], dict[tuple[str, ...], tuple[Pedal, ...]]] = {}
    for path in paths:
        for position, pedal in enumerate(path.pedals):
            if pedal.kind == "mixer" and path.start is not None:
                way = path.pedals[:position]
                heads.setdefault((path.start, pedal.ref), {}).setdefault(path.refs[:position], way)
    found: dict[tuple[tuple[str, ...], tuple[str, ...], str], Branches] = {}
    mixers = {pedal.ref: pedal for path in paths for pedal in path.pedals}
    for (_, mixer), ways in heads.items():
        for one, other in combinations(ways.values(), 2):
            branches = _apart(one, other, mixers[mixer])
            key = tuple(p.ref for p in branches.one), tuple(p.ref for p in branches.other), mixer
            found.setdefault(key, branches)
    return tuple(found.values())


def _apart(one: tuple[Pedal, ...], other: tuple[Pedal, ...], mixer: Pedal) -> Branches:
    in_one, in_other = {p.ref for p in one}, {p.ref for p in other}
    return Branches(
        tuple(p for p in one if p.ref not in in_other),
        tuple(p for p in other if p.ref not in in_one),
        mixer,
    )


def _polarity(index: PlanIndex, branches: Branches) -> Iterator[Remark]:
    """R40; a branch that passes no dry sound cannot cancel the other."""
    pedals = (*branches.one, *branches.other)
    if any(pedal.kills_dry for pedal in pedals):
        return
    refs = (*(pedal.ref for pedal in pedals), branches.mixer.ref)
    why = STANDING_RULES["R40"].why
    unknown = [pedal for pedal in pedals if pedal.inverts is None]
    for pedal in unknown:
        yield Gap("R40", Missing(pedal.ref, "inverts"), refs, why, "add up in equal polarity")
    inverting = tuple(pedal.ref for pedal in pedals if pedal.inverts)
    if not unknown and len(inverting) % 2:
        yield STANDING_RULES["R40"].finding(
            (*inverting, branches.mixer.ref),
            f"{say_refs(index, inverting)} turn the polarity of one branch into "
            f"{called(index, branches.mixer.ref)}, and nothing turns the other: {why}.",
            "Invert one branch at the mixer, or give the other branch a pedal that inverts too.",
        )


def _combing(index: PlanIndex, branches: Branches) -> Iterator[Remark]:
    """R40, the other half: the branches' difference in delay makes a comb."""
    pedals = (*branches.one, *branches.other)
    if any(pedal.kills_dry for pedal in pedals):
        return
    refs = (*(pedal.ref for pedal in pedals), branches.mixer.ref)
    why = "a branch that arrives later combs the sum and leaves it hollow"
    unknown = [p for p in pedals if p.latency_ms is None and p.circuit in (None, "digital")]
    for pedal in unknown:
        yield Gap("R40", Missing(pedal.ref, "latency_ms"), refs, why, "arrive at the same time")
    apart = abs(_latency(branches.one) - _latency(branches.other))
    if unknown or not apart or 500 / apart > COMB_BELOW_HZ:
        return
    late = tuple(pedal.ref for pedal in pedals if pedal.latency_ms)
    yield STANDING_RULES["R40"].finding(
        (*late, branches.mixer.ref),
        f"{say_refs(index, late)} make one branch into {called(index, branches.mixer.ref)} arrive "
        f"{apart:g} ms after the other: {why}, with a first gap at {500 / apart:.0f} Hz.",
        "Switch the dry sound off in the late branch, or give both branches the same delay.",
    )


def _latency(pedals: Iterable[Pedal]) -> float:
    return fsum(pedal.latency_ms or 0 for pedal in pedals)


def _doubled_dry(index: PlanIndex, branches: Branches) -> Iterator[Remark]:
    """R41: beside a dry branch, a delay or reverb must pass only its own sound."""
    for wet, dry in ((branches.one, branches.other), (branches.other, branches.one)):
        if any(pedal.kind in TAILS for pedal in dry):
            continue
        for pedal in wet:
            if pedal.kind not in TAILS or pedal.kills_dry:
                continue
            subjects = (pedal.ref, branches.mixer.ref)
            why = STANDING_RULES["R41"].why
            if pedal.kills_dry is None:
                yield Gap("R41", Missing(pedal.ref, "kills_dry"), subjects, why, "suit each other")
                continue
            yield STANDING_RULES["R41"].finding(
                subjects,
                f"{called(index, pedal.ref)} passes its dry sound into {called(index, branches.mixer.ref)} "
                f"beside a dry branch: {why}.",
                f"Switch off the dry sound of {called(index, pedal.ref)}.",
            )


def _lost_side(index: PlanIndex, joins: Joins, path: SignalPath) -> Iterator[Remark]:
    """R38: behind the first stereo output both sides go on, up to a mixer or to branches of their own."""
    stereo: Pedal | None = None
    for start, end in dict.fromkeys(_hop(link) for link in path.links):
        links, one, other = joins[start, end], index.pedals.get(start), index.pedals.get(end)
        if one is None or other is None:
            continue
        leaves = _side_count(index, one, links)
        if stereo is not None and leaves == 1 and not _parts(joins, one):
            if one.kind != "mixer":
                yield _collapse(index, stereo, one, _missing(index, one, links))
            return
        if leaves == 2 and stereo is None:
            stereo = one
        if stereo is None:
            continue
        if leaves == 1 or other.kind == "mixer":
            return
        if len(links) == 1 and _channels(index, links[0].target) != "stereo":
            unknown = _channels(index, links[0].target) is None
            yield _collapse(index, stereo, other, unknown)
            return


def _hop(link: Link) -> tuple[str, str]:
    return fold(split_end(link.source)[0]), fold(split_end(link.target)[0])


def _side_count(index: PlanIndex, pedal: Pedal, links: list[Link]) -> int:
    """2 where both sides leave for the next pedal, by one stereo jack or by two jacks."""
    return 2 if len(links) > 1 or any(_channels(index, link.source) == "stereo" for link in links) else 1


def _parts(joins: Joins, pedal: Pedal) -> bool:
    """Whether the pedal's outputs lead to several places, each side on a branch of its own."""
    return sum(1 for start, _ in joins if start == fold(pedal.ref)) > 1


def _missing(index: PlanIndex, pedal: Pedal, links: list[Link]) -> bool:
    return any(_channels(index, link.source) is None for link in links)


def _channels(index: PlanIndex, end: str) -> str | None:
    jack = index.jacks.get(fold(end))
    return jack.channels if isinstance(jack, Jack) else None


def _collapse(index: PlanIndex, stereo: Pedal, mono: Pedal, unknown: bool) -> Remark:
    subjects = (stereo.ref, mono.ref)
    why = STANDING_RULES["R38"].why
    if unknown:
        return Gap("R38", Missing(mono.ref, "channels"), subjects, why, "may follow each other in stereo")
    return STANDING_RULES["R38"].finding(
        subjects,
        f"{called(index, stereo.ref)} gives stereo, but {called(index, mono.ref)} behind it carries only "
        f"one side: {why}.",
        f"Move {called(index, mono.ref)} in front of {called(index, stereo.ref)}, use one for each side, or "
        "join the sides in a mixer on purpose.",
    )
