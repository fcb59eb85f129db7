"""Why the suggested order moves a pedal: each move with what it passes, and what is better then."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from boardshop.core.index import PlanIndex, index_plan
from boardshop.core.naming import called
from boardshop.core.order.conditions import Pair
from boardshop.core.order.paths import SignalPath
from boardshop.core.order.precedence import direct_rows
from boardshop.core.order.relations import bits_of
from boardshop.core.order.rules import rules_for
from boardshop.core.order.suggestion import Suggestion, suggest_order
from boardshop.core.order.usual import shown_slot, why_usual
from boardshop.core.order.wording import say_list, say_refs
from boardshop.core.plan import BoardPlan
from boardshop.core.vocabulary import SEVERITIES

BY_RANK = len(SEVERITIES)
"""Behind every rule: a usual place says less than something that is heard."""

THROUGH_OTHERS = BY_RANK + 1


@dataclass(frozen=True, slots=True)
class Move:
    """``ref`` is to pass the refs in ``passes``, which stay; ``is_forward`` where that is towards the source.

    ``basis`` as in a finding; ``message`` the whole sentence.
    """

    ref: str
    passes: tuple[str, ...]
    is_forward: bool
    message: str
    basis: str = "common practice"


@dataclass(frozen=True, slots=True)
class _Reason:
    """``weight`` sorts, the strongest first; ``slots`` are those of a usual place, the earlier one first."""

    weight: int
    why: str
    slots: tuple[str, str] | None = None


@lru_cache(maxsize=64)
def explain_moves(
    plan: BoardPlan, path: SignalPath, school: str, suggestion: Suggestion | None = None
) -> tuple[Move, ...]:
    """One move for each pedal that the suggestion moves on this path, in the present sequence.

    Without a suggestion that of ``suggest_order``.
    """
    return tuple(_explainer(plan, path, school).moves(suggestion or suggest_order(path, school)))


@lru_cache(maxsize=16)
def _explainer(plan: BoardPlan, path: SignalPath, school: str) -> "_Explainer":
    """One for all suggestions of a path, which mostly move the same pedals for the same reasons."""
    return _Explainer(plan, path, school)


class _Explainer:
    """Looks for the strongest reason why a pedal cannot stay while the kept ones do."""

    def __init__(self, plan: BoardPlan, path: SignalPath, school: str) -> None:
        self.index: PlanIndex = index_plan(plan)
        self.path, self.school = path, school
        self.ranks, self.rules = direct_rows(path, self.school)
        self.slots = path.slots
        self._known: dict[tuple[int, int], _Reason | None] = {}

    def moves(self, suggestion: Suggestion) -> Iterator[Move]:
        position = {ref: i for i, ref in enumerate(self.path.refs)}
        kept = [position[ref] for ref in suggestion.kept]
        for ref in suggestion.moved:
            yield self._move(position[ref], kept)

    def _move(self, moved: int, kept: list[int]) -> Move:
        """Of equally strong reasons the one for the pedal that is farthest to pass."""
        found = [(stays, reason) for stays in kept if (reason := self._reason(moved, stays)) is not None]
        stays, strongest = min(found, key=lambda each: (each[1].weight, -abs(each[0] - moved)))
        is_forward = stays < moved
        passed = [
            (other, reason)
            for other, reason in found
            if reason.why == strongest.why and (other < moved) == is_forward
        ]
        refs = tuple(self.path.refs[other] for other, _ in passed)
        place = "in front of" if is_forward else "behind"
        name, why = called(self.index, self.path.refs[moved]), self._say([reason for _, reason in passed])
        message = f"Move {name} {place} {say_refs(self.index, refs)}: {why}."
        return Move(self.path.refs[moved], refs, is_forward, message)

    def _say(self, reasons: list[_Reason]) -> str:
        """What the reasons have in common; of usual places also which kinds they speak of."""
        pairs = [reason.slots for reason in reasons if reason.slots is not None]
        if not pairs:
            return reasons[0].why
        first, then = (
            say_list(dict.fromkeys(shown_slot(slot) for slot in side)) for side in zip(*pairs, strict=True)
        )
        return f"the {self.school} order has {first} in front of {then}, since {reasons[0].why}"

    def _reason(self, moved: int, stays: int) -> _Reason | None:
        """None where the two stand right as they are."""
        if (moved, stays) not in self._known:
            self._known[moved, stays] = self._find_reason(moved, stays)
        return self._known[moved, stays]

    def _find_reason(self, moved: int, stays: int) -> _Reason | None:
        later, earlier = max(moved, stays), min(moved, stays)
        way = self._way(later, earlier)
        if not way:
            return None
        if len(way) == 2:
            return self._direct(later, earlier, moved)
        steps = [self._through(one, other) for one, other in pairwise(way)]
        return _Reason(THROUGH_OTHERS, ", and ".join(steps))

    def _through(self, first: int, then: int) -> str:
        names = [called(self.index, self.path.refs[i]) for i in (first, then)]
        why = self._say([self._direct(first, then, first)])
        return f"{names[0]} belongs in front of {names[1]} ({why})"

    def _direct(self, first: int, then: int, moved: int) -> _Reason:
        """What is heard if a rule says so, worst first; else why the school has it so."""
        pair = Pair(self.path.pedals[first], self.path.pedals[then], self.path)
        found = [
            _Reason(SEVERITIES.index(rule.severity), rule.why)
            for rule in rules_for(self.slots[first], self.slots[then], self.school)
            if rule.condition is None or rule.condition(pair) is True
        ]
        if found:
            return min(found, key=lambda reason: reason.weight)
        slots = self.slots[first], self.slots[then]
        return _Reason(BY_RANK, why_usual(*slots, self.school, about=self.slots[moved]), slots)

    def _way(self, first: int, then: int) -> list[int]:
        """The shortest chain of "must come before" from one to the other; none where they are free."""
        came_from: dict[int, int] = {first: first}
        waiting = [first]
        for one in waiting:
            for other in bits_of(self.ranks[one] | self.rules[one]):
                if other not in came_from:
                    came_from[other] = one
                    waiting.append(other)
        if then not in came_from:
            return []
        way = [then]
        while way[-1] != first:
            way.append(came_from[way[-1]])
        return way[::-1]
