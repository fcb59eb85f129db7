"""The largest antichains of a strict partial order: how many elements, which comes first, how many there are.

By Dilworth's theorem (1950) the largest antichain has n less the size of a largest matching in the bipartite
graph with a left and a right copy of each element and an edge from left i to right j where i is below j
(Fulkerson 1956).  By König's theorem (1931) each largest antichain is what one least vertex cover leaves
free, and a least cover takes exactly one end of each matched edge.  "The edge of left i is covered on its
left" is one yes-or-no question for each matched edge; every other edge makes one answer imply another, so all
least covers are the closed sets of those implications, which is how they are counted here.
"""

from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice

from boardshop.core.order.relations import Rows, bits_of, close_transitively, transpose


@dataclass(frozen=True, slots=True)
class LargestAntichains:
    """``first`` is the one whose elements come first in dictionary order; ``count`` stops at the cap."""

    first: tuple[int, ...]
    count: int
    more: bool


def find_largest_antichains(below: Sequence[int], cap: int) -> LargestAntichains:
    """``below`` is a transitive, irreflexive relation as rows of bits; counts up to ``cap`` antichains."""
    covers = _LeastCovers(below)
    count = covers.count(cap + 1)
    return LargestAntichains(covers.first_free(), min(count, cap), count > cap)


def list_largest_antichains(below: Sequence[int], most: int) -> tuple[tuple[int, ...], ...]:
    """Up to ``most`` of them, in dictionary order; of more than ``most`` the first one and some others."""
    covers = _LeastCovers(below)
    found = set(islice(covers.all_free(), most))
    first = covers.first_free()
    others = sorted(found - {first})
    return (first, *others)[:most]


def match_most(below: Sequence[int]) -> list[int]:
    """A largest matching of left to right copies: the right partner of each left, or -1."""
    partner_of_left, partner_of_right = [-1] * len(below), [-1] * len(below)
    for start in range(len(below)):
        _augment(below, start, partner_of_left, partner_of_right)
    return partner_of_left


def _augment(below: Sequence[int], start: int, of_left: list[int], of_right: list[int]) -> None:
    """Search breadth first for an alternating way from ``start`` to a free right copy, and flip it."""
    reached_from: dict[int, int] = {}
    waiting, seen = deque([start]), 0
    while waiting:
        left = waiting.popleft()
        for right in bits_of(below[left] & ~seen):
            seen |= 1 << right
            reached_from[right] = left
            if of_right[right] < 0:
                _flip(right, reached_from, of_left, of_right)
                return
            waiting.append(of_right[right])


def _flip(right: int, reached_from: dict[int, int], of_left: list[int], of_right: list[int]) -> None:
    while right >= 0:
        left = reached_from[right]
        right_before = of_left[left]
        of_left[left], of_right[right] = right, left
        right = right_before


class _LeastCovers:
    """All least vertex covers: ``taken`` lefts are covered on the left, ``spared`` ones on the right."""

    def __init__(self, below: Sequence[int]) -> None:
        self.partner = match_most(below)
        self.left_of = {right: left for left, right in enumerate(self.partner) if right >= 0}
        self.implied, self.implying = self._implications(below)
        self.taken, self.spared = self._forced(below)

    def _implications(self, below: Sequence[int]) -> tuple[Rows, Rows]:
        """Edge i-j needs a covered end: if the matched edge at j is covered on its left, i must be too."""
        implied = [0] * len(below)
        for left, row in enumerate(below):
            if self.partner[left] >= 0:
                for right in bits_of(row):
                    if right in self.left_of:
                        implied[self.left_of[right]] |= 1 << left
        closed = close_transitively([row | 1 << i for i, row in enumerate(implied)])
        return closed, transpose(closed)

    def _forced(self, below: Sequence[int]) -> tuple[int, int]:
        """What an edge with an unmatched end leaves no choice about."""
        taken = spared = 0
        for left, row in enumerate(below):
            for right in bits_of(row):
                if self.partner[left] < 0:
                    spared |= self.implying[self.left_of[right]]
                elif right not in self.left_of:
                    taken |= self.implied[left]
        return taken, spared

    def first_free(self) -> tuple[int, ...]:
        """Keep each element, first to last, that some largest antichain holds beside those kept so far."""
        kept: list[int] = []
        taken, spared = self.taken, self.spared
        for element in range(len(self.partner)):
            more_spared = self.implying[element] if self.partner[element] >= 0 else 0
            more_taken = self.implied[self.left_of[element]] if element in self.left_of else 0
            if not (taken | more_taken) & (spared | more_spared):
                taken, spared = taken | more_taken, spared | more_spared
                kept.append(element)
        return tuple(kept)

    def count(self, stop: int) -> int:
        """How many there are, counted no further than ``stop``."""
        return sum(1 for _ in islice(self._walk(), stop))

    def all_free(self) -> Iterator[tuple[int, ...]]:
        """The elements that each least cover leaves free."""
        for taken in self._walk():
            held = {self.partner[left] for left in range(len(self.partner)) if not taken & 1 << left}
            yield tuple(e for e in range(len(self.partner)) if not taken & 1 << e and e not in held)

    def _walk(self) -> Iterator[int]:
        """The lefts that each least cover takes; each step down leads to at least one cover."""
        matched = sum(1 << left for left, right in enumerate(self.partner) if right >= 0)
        waiting = [(self.taken, self.spared)]
        while waiting:
            taken, spared = waiting.pop()
            open_ = matched & ~(taken | spared)
            if not open_:
                yield taken & matched
                continue
            left = next(bits_of(open_))
            waiting += [(taken | self.implied[left], spared), (taken, spared | self.implying[left])]
