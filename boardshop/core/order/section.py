"""The order section of the report."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import prod

from boardshop.core.findings import Finding, sort_findings
from boardshop.core.index import fold, index_plan, split_end
from boardshop.core.order.graph import CONTROL_KINDS, signal_graph, signal_links
from boardshop.core.order.pairs import check_pairs
from boardshop.core.order.parallel import check_parallel
from boardshop.core.order.paths import MOST_PATHS, SignalPath, signal_paths, trace_paths
from boardshop.core.order.places import check_places
from boardshop.core.order.suggestion import MOST_ANSWERS, Suggestion, suggest_order
from boardshop.core.order.wording import say_refs
from boardshop.core.plan import BoardPlan

type ChainKey = tuple[bool, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class OrderSection:
    """``chain`` and ``suggested`` hold the refs of pedals, one tuple for each path; paths that pass the same
    pedals in the same order are one.

    ``moved`` has each ref once, however many paths it is moved on, and ``moves`` is their number;
    ``answers`` multiplies the paths' numbers of equally good sets, up to 1,000; ``links_changed`` counts the
    joins of two neighbours, or of a path's lead in or lead out, that the suggestion newly makes, each once.
    """

    chain: tuple[tuple[str, ...], ...]
    suggested: tuple[tuple[str, ...], ...]
    moves: int
    moved: tuple[str, ...]
    answers: int
    more: bool
    links_changed: int
    findings: tuple[Finding, ...]


def compute_order(plan: BoardPlan) -> OrderSection:
    chains = list_chains(plan)
    suggestions = {_chain_key(path): suggest_order(path, plan.rules.school) for path in chains}
    moved = tuple(dict.fromkeys(ref for one in suggestions.values() for ref in one.moved))
    answers = prod(one.answers for one in suggestions.values())
    return OrderSection(
        chain=tuple(path.refs for path in chains),
        suggested=tuple(one.suggested for one in suggestions.values()),
        moves=len(moved),
        moved=moved,
        answers=min(answers, MOST_ANSWERS),
        more=answers > MOST_ANSWERS or any(one.more for one in suggestions.values()),
        links_changed=_count_new_links(plan, suggestions),
        findings=sort_findings(
            (*check_pairs(plan), *check_places(plan), *check_parallel(plan), *check_wiring(plan))
        ),
    )


def _count_new_links(plan: BoardPlan, suggestions: dict[ChainKey, Suggestion]) -> int:
    """Joins are told apart by their two pedals, leads by their pedal and what they come from or lead to."""
    joins: dict[tuple[str, str, str | None], None] = {}
    for path in signal_paths(plan):
        for one, other in suggestions[_chain_key(path)].new_joins:
            lead = None if one and other else path.end if one else path.start
            joins[one, other, lead] = None
    return len(joins)


def list_chains(plan: BoardPlan) -> tuple[SignalPath, ...]:
    """The paths that differ in their pedals or in lying in an amp's loop, in the plan's order."""
    chains: dict[ChainKey, SignalPath] = {}
    for path in signal_paths(plan):
        chains.setdefault(_chain_key(path), path)
    return tuple(chains.values())


def _chain_key(path: SignalPath) -> ChainKey:
    return path.in_loop, path.refs


def check_wiring(plan: BoardPlan) -> tuple[Finding, ...]:
    """What keeps the order from being judged: pedals not linked, signals in a circle, too many ways."""
    return (*_unlinked(plan), *_silent(plan), *_cycles(plan), *_left_off(plan))


def _silent(plan: BoardPlan) -> Iterator[Finding]:
    """O04: a board with an amp whose instrument reaches none; a chain that ends in a di leads elsewhere."""
    if not plan.amps or not signal_links(plan):
        return
    onward: dict[str, list[str]] = {}
    for link in signal_links(plan):
        onward.setdefault(fold(split_end(link.source)[0]), []).append(fold(split_end(link.target)[0]))
    goals = {fold(amp.ref) for amp in plan.amps}
    goals |= {fold(pedal.ref) for pedal in plan.pedals if pedal.kind == "di"}
    for source in plan.sources:
        if not _reaches(onward, fold(source.ref), goals):
            yield Finding(
                "O04",
                "fault",
                (source.ref,),
                f"The signal of {source.ref} reaches no amp: a link is missing, so it is not heard.",
                "Follow the line from the instrument, and link what is open.",
                "calculation",
            )


def _reaches(onward: dict[str, list[str]], start: str, goals: set[str]) -> bool:
    seen, waiting = {start}, [start]
    while waiting:
        ref = waiting.pop()
        if ref in goals:
            return True
        fresh = [other for other in onward.get(ref, ()) if other not in seen]
        seen.update(fresh)
        waiting += fresh
    return False


def _unlinked(plan: BoardPlan) -> Iterator[Finding]:
    linked = {fold(split_end(end)[0]) for link in signal_links(plan) for end in (link.source, link.target)}
    audio = (pedal.ref for pedal in plan.pedals if pedal.kind not in CONTROL_KINDS)
    refs = tuple(ref for ref in audio if fold(ref) not in linked)
    if refs:
        yield Finding(
            "O01",
            "unknown",
            refs,
            f"No signal link leads to or from {say_refs(index_plan(plan), refs)}, so the place in the order "
            "cannot be checked.",
            "Link what is played; take the rest off the board, or keep this if it waits as a spare.",
            "common practice",
        )


def _cycles(plan: BoardPlan) -> Iterator[Finding]:
    for refs in signal_graph(plan).cycles:
        yield Finding(
            "O02",
            "fault",
            refs,
            f"The signal of {say_refs(index_plan(plan), refs)} comes back to itself: it howls, or passes "
            "nothing on.",
            "Take out the link that leads back, or keep it if the feedback is played on purpose.",
            "common practice",
        )


def _left_off(plan: BoardPlan) -> Iterator[Finding]:
    for ref in trace_paths(plan).left_off:
        yield Finding(
            "O03",
            "unknown",
            (ref,),
            f"The signal from {ref} can take more ways than the {MOST_PATHS} that are checked here.",
            "Check the other branches by ear, or plan them as a board of their own.",
            "calculation",
        )
