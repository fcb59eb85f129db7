"""Which pedal of a path must come before which: the school's ranks and the `fault` rules together.

Two pedals are in a fixed sequence where their ranks differ or a `fault` rule says so.  Where both together
lead round in a circle (a vintage fuzz wants to be before a buffered tuner, the ranks the tuner before the
fuzz), the ranks within that circle are dropped and the rules stay.
"""

from collections.abc import Sequence

from boardshop.core.order.conditions import Pair
from boardshop.core.order.paths import SignalPath
from boardshop.core.order.ranks import slot_rank
from boardshop.core.order.relations import Rows, close_transitively, strong_parts
from boardshop.core.order.rules import sorting_rules_for


def precedence_of(path: SignalPath, school: str) -> Rows:
    """Bit j of row i: the pedal at position i must come before the one at j, directly or through others."""
    return close_transitively(_joined(*direct_rows(path, school)))


def direct_rows(path: SignalPath, school: str) -> tuple[Rows, Rows]:
    """As `precedence_of`, but only directly: by the ranks that count here, and by the rules."""
    ranks = _rank_rows([slot_rank(slot, school) for slot in path.slots])
    rules = _rule_rows(path, school)
    parts = strong_parts(close_transitively(_joined(ranks, rules)))
    outside = [row & ~part for row, part in zip(ranks, parts, strict=True)]
    return tuple(outside), tuple(rules)


def wrong_pairs(precedence: Sequence[int]) -> Rows:
    """Bit j of row i: i stands before j although j must come first.  Transitive, as both parts of it are."""
    wrong = [0] * len(precedence)
    for later, row in enumerate(precedence):
        for earlier in range(later):
            if row & 1 << earlier:
                wrong[earlier] |= 1 << later
    return tuple(wrong)


def _joined(one: Sequence[int], other: Sequence[int]) -> list[int]:
    return [a | b for a, b in zip(one, other, strict=True)]


def _rank_rows(ranks: Sequence[int | None]) -> list[int]:
    rows = [0] * len(ranks)
    for i, rank in enumerate(ranks):
        for j, other in enumerate(ranks):
            if rank is not None and other is not None and rank < other:
                rows[i] |= 1 << j
    return rows


def _rule_rows(path: SignalPath, school: str) -> list[int]:
    """A rule whose condition cannot be told for want of a value does not sort."""
    rows = [0] * len(path.pedals)
    slots = path.slots
    for i, first in enumerate(path.pedals):
        for j, then in enumerate(path.pedals):
            if i == j:
                continue
            for rule in sorting_rules_for(slots[i], slots[j], school):
                if rule.condition is None or rule.condition(Pair(first, then, path)) is True:
                    rows[i] |= 1 << j
    return rows
