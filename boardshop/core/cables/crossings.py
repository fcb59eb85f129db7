"""Where two runs on one side of the frame meet: how far they share their way, and where they cross.

Runs keep to the edges of what stands there, so two of them often lie on one line for a while.  They cross
when one of them leaves that stretch on the other side than it came from; a run that only touches another, or
that ends on it, crosses nothing.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations, pairwise

from boardshop.core.cables.routing import Corner
from boardshop.core.cables.runs import MeasuredRun, measure_runs
from boardshop.core.plan import BoardPlan

_DIRECTIONS = ((1, 0), (0, 1), (-1, 0), (0, -1))
"""Counter-clockwise."""


@dataclass(frozen=True, slots=True)
class Meeting:
    """Two links in the plan's order; ``shared_mm`` of one way, and where they cross."""

    one: str
    other: str
    route: str
    shared_mm: int
    crossings: tuple[Corner, ...]


@dataclass(frozen=True, slots=True)
class Crossing:
    one: str
    other: str
    route: str
    at: Corner


def list_crossings(plan: BoardPlan) -> tuple[Crossing, ...]:
    """Every crossing of two runs that lie on the same side of the frame's top."""
    return tuple(
        Crossing(met.one, met.other, met.route, at) for met in list_meetings(plan) for at in met.crossings
    )


@lru_cache(maxsize=32)
def list_meetings(plan: BoardPlan) -> tuple[Meeting, ...]:
    """Every two runs on one side of the top that share some way or cross."""
    runs = [run for run in measure_runs(plan) if len(run.points) > 1]
    pairs = ((one, other) for one, other in combinations(runs, 2) if one.link.route == other.link.route)
    found = (_meet(one, other) for one, other in pairs if _may_meet(one.points, other.points))
    return tuple(met for met in found if met.shared_mm or met.crossings)


def _meet(one: MeasuredRun, other: MeasuredRun) -> Meeting:
    contacts = list(find_contacts(one.points, other.points))
    return Meeting(
        one.link.ref,
        other.link.ref,
        one.link.route,
        sum(length for length, _ in contacts),
        tuple(at for _, at in contacts if at is not None),
    )


def find_contacts(one: Sequence[Corner], other: Sequence[Corner]) -> Iterator[tuple[int, Corner | None]]:
    """Each stretch, or single point, that two ways share: its mm, and where it ends if they cross there."""
    ours, theirs = cut_at(one, other), cut_at(other, one)
    places = {node: at for at, node in enumerate(theirs)}
    first = 0
    while first < len(ours):
        if ours[first] not in places:
            first += 1
            continue
        last = first
        while last + 1 < len(ours) and abs(places.get(ours[last + 1], -9) - places[ours[last]]) == 1:
            last += 1
        length = sum(_apart(*leg) for leg in pairwise(ours[first : last + 1]))
        is_crossing = _changes_side(ours, theirs, (first, last), (places[ours[first]], places[ours[last]]))
        yield length, ours[last] if is_crossing else None
        first = last + 1


def cut_at(way: Sequence[Corner], other: Sequence[Corner]) -> list[Corner]:
    """The way's points in order, with those added at which the other way meets it."""
    cut: list[Corner] = [way[0]]
    for start, end in pairwise(way):
        met = {at for leg in pairwise(other) for at in _meet_legs(start, end, *leg)}
        cut += [at for at in sorted({*met, end}, key=lambda at: _apart(start, at)) if at != cut[-1]]
    return cut


def _meet_legs(a: Corner, b: Corner, c: Corner, d: Corner) -> Iterator[Corner]:
    """The corners of the area that two legs share: a point, the ends of a stretch, or nothing."""
    low_x, high_x = max(min(a[0], b[0]), min(c[0], d[0])), min(max(a[0], b[0]), max(c[0], d[0]))
    low_y, high_y = max(min(a[1], b[1]), min(c[1], d[1])), min(max(a[1], b[1]), max(c[1], d[1]))
    if low_x <= high_x and low_y <= high_y:
        yield low_x, low_y
        yield high_x, high_y


def _changes_side(
    ours: Sequence[Corner], theirs: Sequence[Corner], own: tuple[int, int], there: tuple[int, int]
) -> bool:
    """Whether the other way comes from one side of ours and leaves on the other."""
    step = -1 if there[1] < there[0] else 1
    before, after = there[0] - step, there[1] + step
    if own[0] == 0 or own[1] == len(ours) - 1 or min(before, after) < 0 or max(before, after) >= len(theirs):
        return False
    return _is_left(ours, own[0], theirs[before]) != _is_left(ours, own[1], theirs[after])


def _is_left(way: Sequence[Corner], at: int, beside: Corner) -> bool:
    """Whether a neighbour of one of the way's inner points lies left of the way as it runs."""
    back, on, aside = (_direction(way[at], to) for to in (way[at - 1], way[at + 1], beside))
    return (aside - on) % 4 < (back - on) % 4


def _direction(start: Corner, end: Corner) -> int:
    (x0, y0), (x1, y1) = start, end
    return _DIRECTIONS.index(((x1 > x0) - (x1 < x0), (y1 > y0) - (y1 < y0)))


def _apart(one: Corner, other: Corner) -> int:
    return abs(one[0] - other[0]) + abs(one[1] - other[1])


def _may_meet(one: Sequence[Corner], other: Sequence[Corner]) -> bool:
    """Whether the areas that hold the two ways touch."""
    return all(
        max(min(p[axis] for p in one), min(p[axis] for p in other))
        <= min(max(p[axis] for p in one), max(p[axis] for p in other))
        for axis in (0, 1)
    )
