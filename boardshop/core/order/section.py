"""The order section of the report."""

from dataclasses import dataclass
from functools import lru_cache
from math import prod

from boardshop.core.findings import Finding
from boardshop.core.order.paths import SignalPath, signal_paths
from boardshop.core.order.scenes import judge_order
from boardshop.core.order.suggestion import MOST_ANSWERS, Suggestion, suggest_order
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
    fewest = suggest_board(plan, plan.rules.school)
    return OrderSection(
        chain=tuple(path.refs for path in fewest.chains),
        suggested=tuple(one.suggested for one in fewest.suggestions),
        moves=len(fewest.moved),
        moved=fewest.moved,
        answers=fewest.answers,
        more=fewest.more,
        links_changed=fewest.links_changed,
        findings=judge_order(plan).findings,
    )


@dataclass(frozen=True, slots=True)
class BoardSuggestion:
    """The fewest moves of all paths in one school; ``suggestions`` stand beside ``chains``.

    The other figures are as in ``OrderSection``.
    """

    chains: tuple[SignalPath, ...]
    suggestions: tuple[Suggestion, ...]
    moved: tuple[str, ...]
    answers: int
    more: bool
    links_changed: int


@lru_cache(maxsize=32)
def suggest_board(plan: BoardPlan, school: str) -> BoardSuggestion:
    chains = list_chains(plan)
    suggestions = {_chain_key(path): suggest_order(path, school) for path in chains}
    answers = prod(one.answers for one in suggestions.values())
    return BoardSuggestion(
        chains=chains,
        suggestions=tuple(suggestions.values()),
        moved=tuple(dict.fromkeys(ref for one in suggestions.values() for ref in one.moved)),
        answers=min(answers, MOST_ANSWERS),
        more=answers > MOST_ANSWERS or any(one.more for one in suggestions.values()),
        links_changed=_count_new_links(plan, suggestions),
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
