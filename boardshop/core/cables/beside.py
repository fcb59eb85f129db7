"""How near two ways lie: side by side for how long, and how far apart at the nearest."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from boardshop.core.cables.routing import Corner
from boardshop.core.layout.geometry import Box, straight_distance

PARALLEL_FROM_MM = 50
"""A shorter stretch side by side is passing by; from memory."""


@dataclass(frozen=True, slots=True)
class Nearness:
    """``beside_mm`` how long the two run side by side nearer than asked, ``beside_apart`` at what distance.

    ``apart_mm`` is that of their nearest points; 0 where they cross or touch.
    """

    beside_mm: int
    beside_apart_mm: int
    apart_mm: int


def measure_nearness(one: Sequence[Corner], other: Sequence[Corner], nearer_than: int) -> Nearness:
    """Legs count as side by side over what both cover, where they are less than ``nearer_than`` mm apart."""
    ours, theirs = list(_legs(one)), list(_legs(other))
    spans: list[int] = []
    gaps: list[int] = []
    for leg in ours:
        beside = [(span, gap) for far in theirs for span, gap in _beside(leg, far) if gap < nearer_than]
        spans.append(_covered([span for span, _ in beside]))
        gaps += [gap for _, gap in beside]
    apart = min(straight_distance(leg, far) for leg in ours for far in theirs)
    return Nearness(sum(spans), min(gaps, default=0), apart)


def distance_to(way: Sequence[Corner], box: Box) -> int:
    """Whole mm of the straight line between a way and a box, rounded down."""
    return min(straight_distance(leg, box) for leg in _legs(way))


def _legs(way: Sequence[Corner]) -> Iterator[Box]:
    for (ax, ay), (bx, by) in pairwise(way):
        yield Box(min(ax, bx), min(ay, by), max(ax, bx), max(ay, by))


def _beside(leg: Box, far: Box) -> Iterator[tuple[tuple[int, int], int]]:
    """What two legs along one axis both cover, and their distance."""
    if leg.depth == far.depth == 0:
        low, high, gap = max(leg.x0, far.x0), min(leg.x1, far.x1), abs(leg.y0 - far.y0)
    elif leg.width == far.width == 0:
        low, high, gap = max(leg.y0, far.y0), min(leg.y1, far.y1), abs(leg.x0 - far.x0)
    else:
        return
    if low < high:
        yield (low, high), gap


def _covered(spans: list[tuple[int, int]]) -> int:
    """The length that at least one of the spans covers."""
    total, reached = 0, None
    for low, high in sorted(spans):
        start = low if reached is None else max(low, reached)
        total += max(0, high - start)
        reached = high if reached is None else max(reached, high)
    return total
