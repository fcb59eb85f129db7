"""The suggested order of one path: the fewest pedals moved, and what that does to the cabling."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from boardshop.core.order.antichains import find_largest_antichains
from boardshop.core.order.paths import SignalPath
from boardshop.core.order.precedence import precedence_of, wrong_pairs
from boardshop.core.order.relations import bits_of

MOST_ANSWERS = 1_000
"""Equally good sets are counted up to here, as the report prints them."""

LEAD_IN = LEAD_OUT = ""


@dataclass(frozen=True, slots=True)
class Suggestion:
    """``suggested`` and ``moved`` are refs; ``new_joins`` the pairs of refs that would be newly joined.

    The lead in and the lead out are joins too; a pair's end is "" there.  ``answers`` counts the equally
    good sets of pedals that could stay; ``more`` tells that it stopped counting.
    """

    suggested: tuple[str, ...]
    kept: tuple[str, ...]
    moved: tuple[str, ...]
    answers: int
    more: bool
    new_joins: tuple[tuple[str, str], ...]


def suggest_order(path: SignalPath, school: str) -> Suggestion:
    """Keep the most pedals that need not pass each other, those first that stand first, and sort the rest in.

    Among what may come next, the pedal that now stands first comes first.
    """
    precedence = precedence_of(path, school)
    stay = find_largest_antichains(wrong_pairs(precedence), MOST_ANSWERS)
    refs = path.refs
    suggested = tuple(refs[i] for i in sort_around(precedence, stay.first))
    kept = set(stay.first)
    return Suggestion(
        suggested=suggested,
        kept=tuple(refs[i] for i in stay.first),
        moved=tuple(ref for i, ref in enumerate(refs) if i not in kept),
        answers=stay.count,
        more=stay.more,
        new_joins=_new_joins(refs, suggested),
    )


def sort_around(precedence: Sequence[int], kept: Sequence[int]) -> tuple[int, ...]:
    """The positions in an order that obeys ``precedence`` and leaves ``kept`` in sequence (Kahn 1962).

    Pedals that must both come first (two buffered vintage fuzzes) do not block each other.
    """
    blockers = [0] * len(precedence)
    for i, row in enumerate(precedence):
        for j in bits_of(row & ~(1 << i)):
            if not precedence[j] >> i & 1:
                blockers[j] |= 1 << i
    for one, other in pairwise(kept):
        blockers[other] |= 1 << one
    waiting = list(range(len(precedence)))
    order: list[int] = []
    placed = 0
    while waiting:
        chosen = next(i for i in waiting if not blockers[i] & ~placed)
        waiting.remove(chosen)
        order.append(chosen)
        placed |= 1 << chosen
    return tuple(order)


def _new_joins(present: Sequence[str], suggested: Sequence[str]) -> tuple[tuple[str, str], ...]:
    before = dict.fromkeys(pairwise((LEAD_IN, *present, LEAD_OUT)))
    return tuple(join for join in pairwise((LEAD_IN, *suggested, LEAD_OUT)) if join not in before)
