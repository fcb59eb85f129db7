"""Cutting pieces of one cable from lengths in hand: the problem, what a plan of it costs, and simple answers.

A cut takes a kerf: pieces fit a length L when ``sum(piece + kerf) <= L + kerf``, where an off-cut's L is less
by the trim of its old end.  Of two plans the better one, in this order: less length of pieces not made; fewer
reels opened; less length drawn from reels; less waste (remainders too short to keep, trims and kerfs); a
longer longest left-over of an off-cut.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

type Counts = tuple[int, ...]
"""How many pieces of each size, beside ``CutProblem.sizes``."""


@dataclass(frozen=True, slots=True)
class Lot:
    """Equal lengths in hand; ``usable`` is after the trim."""

    length: int
    usable: int
    is_reel: bool
    count: int


@dataclass(frozen=True, slots=True)
class CutProblem:
    """``sizes`` fall; ``demand`` beside them; every lot holds at least the shortest piece."""

    sizes: tuple[int, ...]
    demand: Counts
    lots: tuple[Lot, ...]
    kerf: int
    keep: int

    def load(self, counts: Sequence[int]) -> int:
        """What the pieces take of a length's ``usable + kerf``."""
        return sum((size + self.kerf) * n for size, n in zip(self.sizes, counts, strict=True))

    def left_over(self, lot: Lot, counts: Sequence[int]) -> int:
        return max(0, lot.usable - self.load(counts))

    def drawn(self, lot: Lot, counts: Sequence[int]) -> int:
        """Length taken from a reel; nothing from an off-cut."""
        return lot.length - self.left_over(lot, counts) if lot.is_reel else 0

    def waste(self, lot: Lot, counts: Sequence[int]) -> int:
        """Trim, kerfs and a remainder too short to keep."""
        left = self.left_over(lot, counts)
        made = sum(size * n for size, n in zip(self.sizes, counts, strict=True))
        return lot.length - made - (left if left >= self.keep else 0)

    def kept_offcut(self, lot: Lot, counts: Sequence[int]) -> int:
        """What is left of an off-cut; 0 for a reel."""
        return 0 if lot.is_reel else self.left_over(lot, counts)


@dataclass(frozen=True, slots=True)
class Cutting:
    """Some lengths taken: the number of the lot and what is cut from it."""

    bins: tuple[tuple[int, Counts], ...]


@dataclass(frozen=True, slots=True, order=True)
class Cost:
    """The aims in their order; smaller is better in each (``longest`` is negated)."""

    short_mm: int
    reels: int
    drawn_mm: int
    waste_mm: int
    longest: int


def cost_of(problem: CutProblem, cutting: Cutting) -> Cost:
    lots = problem.lots
    made = made_counts(problem, cutting)
    return Cost(
        short_mm=sum(
            size * (wanted - done)
            for size, wanted, done in zip(problem.sizes, problem.demand, made, strict=True)
        ),
        reels=sum(lots[lot].is_reel for lot, _ in cutting.bins),
        drawn_mm=sum(problem.drawn(lots[lot], counts) for lot, counts in cutting.bins),
        waste_mm=sum(problem.waste(lots[lot], counts) for lot, counts in cutting.bins),
        longest=-max((problem.kept_offcut(lots[lot], counts) for lot, counts in cutting.bins), default=0),
    )


def made_counts(problem: CutProblem, cutting: Cutting) -> Counts:
    return tuple(sum(counts[i] for _, counts in cutting.bins) for i in range(len(problem.sizes)))


def state_problem(
    pieces: Iterable[int], stock: Iterable[tuple[int, bool, int]], kerf: int, trim: int, keep: int
) -> CutProblem:
    """From piece lengths and (length, is a reel, count) of the stock; lengths that hold no piece drop out."""
    wanted: dict[int, int] = {}
    for piece in pieces:
        wanted[piece] = wanted.get(piece, 0) + 1
    sizes = tuple(sorted(wanted, reverse=True))
    number = sum(wanted.values())
    held: dict[tuple[int, bool], int] = {}
    for length, is_reel, count in stock:
        held[length, is_reel] = held.get((length, is_reel), 0) + count
    lots = [
        Lot(length, length if is_reel else length - trim, is_reel, min(count, number))
        for (length, is_reel), count in sorted(held.items(), key=lambda item: (item[0][1], item[0][0]))
    ]
    return CutProblem(
        sizes=sizes,
        demand=tuple(wanted[size] for size in sizes),
        lots=tuple(lot for lot in lots if sizes and lot.count and lot.usable >= sizes[-1]),
        kerf=kerf,
        keep=keep,
    )
