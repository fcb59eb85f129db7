"""The suggested order of one path: the fewest pedals moved, and what that does to the cabling."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise

from boardshop.core.order.antichains import find_largest_antichains, list_largest_antichains
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
    return _suggest(path, precedence, stay.first, stay.count, stay.more)


def list_suggestions(path: SignalPath, school: str, most: int) -> tuple[Suggestion, ...]:
    """The equally good ones, up to ``most``, that of ``suggest_order`` first, then in dictionary order."""
    precedence = precedence_of(path, school)
    wrong = wrong_pairs(precedence)
    stay = find_largest_antichains(wrong, MOST_ANSWERS)
    return tuple(
        _suggest(path, precedence, kept, stay.count, stay.more)
        for kept in list_largest_antichains(wrong, MOST_ANSWERS)[:most]
    )


def _suggest(
    path: SignalPath, precedence: Sequence[int], kept: Sequence[int], answers: int, more: bool
) -> Suggestion:
    refs, staying = path.refs, set(kept)
    suggested = tuple(refs[i] for i in sort_around(precedence, kept))
    return Suggestion(
        suggested=suggested,
        kept=tuple(refs[i] for i in kept),
        moved=tuple(ref for i, ref in enumerate(refs) if i not in staying),
        answers=answers,
        more=more,
        new_joins=new_joins(refs, suggested),
    )


def move_one(
    present: Sequence[str], suggestion: Suggestion, ref: str, done: Sequence[str] = ()
) -> tuple[str, ...]:
    """The present sequence with ``ref`` alone moved to where the suggestion has it among those that stay.

    ``done`` are the refs that were moved already.

    It goes no farther than it must: towards the source right in front of the next pedal that stays, away
    from it right behind the last one.  The fewest moves of the result are one less.  A pedal with others in
    its own loops is not moved without them: the sequence comes back as it is.
    """
    if list(present).count(ref) > 1:
        return tuple(present)
    stays = {*suggestion.kept, *done, ref}
    anchored = [other for other in suggestion.suggested if other in stays]
    place = anchored.index(ref)
    others = [other for other in present if other != ref]
    after = anchored[place + 1] if place + 1 < len(anchored) else None
    before = anchored[place - 1] if place else None
    goes_forward = after is not None and present.index(after) < present.index(ref)
    if goes_forward or before is None:
        position = others.index(after) if after is not None else len(others)
    else:
        position = others.index(before) + 1
    return (*others[:position], ref, *others[position:])


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


def move_all(present: Sequence[str], suggestion: Suggestion) -> tuple[str, ...]:
    """The sequence with all its moves made; where a switcher is passed several times, one after the other."""
    if len(set(present)) == len(present):
        return suggestion.suggested
    for number, ref in enumerate(suggestion.moved):
        present = collapse(move_one(present, suggestion, ref, done=suggestion.moved[:number]))
    return tuple(present)


def collapse(stops: Sequence[str]) -> tuple[str, ...]:
    """A switcher whose loop was left empty is passed once there."""
    return tuple(stop for stop, _ in groupby(stops))


def new_joins(present: Sequence[str], suggested: Sequence[str]) -> tuple[tuple[str, str], ...]:
    """The pairs of neighbours, leads included, that ``suggested`` has and ``present`` has not."""
    before = dict.fromkeys(pairwise((LEAD_IN, *present, LEAD_OUT)))
    return tuple(join for join in pairwise((LEAD_IN, *suggested, LEAD_OUT)) if join not in before)
