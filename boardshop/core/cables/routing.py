"""The shortest rectilinear way between two points around boxes: what a cable laid square on a board takes.

A shortest way can be slid until each of its legs lies on the edge of a box or in line with an end, so it is
enough to search the grid of those lines.  Boxes are open: their edges may be touched, also the seam between
two boxes that touch.  Whole mm.

Of all ways: least length, then fewest corners, then the smallest list of corners, which singles out one way.
A way that is best among fewer boxes and crosses none of the others is best among all, so boxes are taken up
only as ways turn out to cross them.  The same holds from one plan to the next: see `remembered`.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from heapq import heappop, heappush
from itertools import pairwise

from boardshop.core.layout.geometry import Box
from boardshop.core.plan import Point

type Corner = tuple[int, int]

_STEPS = ((1, 0), (-1, 0), (0, 1), (0, -1))
_NO_STEP = -1


@dataclass(frozen=True, slots=True)
class Way:
    """``corners`` from start to end, without the ends themselves."""

    length: int
    corners: tuple[Corner, ...]


@dataclass(frozen=True, slots=True)
class Answer:
    """What a search found among the boxes that it met; no way is an answer, too."""

    met: frozenset[Box]
    way: Way | None


MOST_ANSWERS = 4
"""For one pair of ends: the plan as it is, before the last edit, and what is tried meanwhile."""
MOST_PAIRS = 2048


def find_way(start: Point, end: Point, boxes: Sequence[Box], floor: Box) -> Way | None:
    """The best way that crosses no box and stays on the floor; None when there is none."""
    if any(_covers(box, start) or _covers(box, end) for box in boxes):
        return None
    answers = remembered(start, end, floor)
    for answer in tuple(answers):
        if still_holds(answer, start, end, boxes):
            return answer.way
    answer = _search(start, end, boxes, floor)
    answers.insert(0, answer)
    del answers[MOST_ANSWERS:]
    return answer.way


@lru_cache(maxsize=MOST_PAIRS)
def remembered(start: Point, end: Point, floor: Box) -> list[Answer]:
    """The last answers for these ends, newest first; `find_way` fills the list.

    An answer depends on the ends, the floor and the boxes alone and there is one best way, so what is
    remembered never changes what is answered, only how soon.
    """
    return []


def still_holds(answer: Answer, start: Point, end: Point, boxes: Sequence[Box]) -> bool:
    """Whether an answer found among other boxes is the answer among these.

    It is when every box that it met is among them and its way crosses none of them.  Proof: each way that
    crosses none of these boxes crosses none of those met, so it was among those of which the answer is the
    best; and the answer itself is one of them.  Where nothing got past those met, nothing gets past these.
    So after an edit only a run is searched for anew whose end has moved, whose way a box now crosses, or of
    which a box that it had met is gone, which may have made the way longer than it need be.
    """
    if not answer.met.issubset(boxes):
        return False
    points = _points_of(start, answer.way, end) if answer.way else ()
    return not any(crosses(points, box) for box in boxes)


def _search(start: Point, end: Point, boxes: Sequence[Box], floor: Box) -> Answer:
    met: tuple[Box, ...] = ()
    while True:
        way = _search_grid(start, end, met, floor)
        if way is None:
            return Answer(frozenset(met), None)
        points = _points_of(start, way, end)
        crossed = {box for box in boxes if box not in met and crosses(points, box)}
        if not crossed:
            return Answer(frozenset(met), way)
        met = tuple(box for box in boxes if box in crossed or box in met)


def _points_of(start: Point, way: Way, end: Point) -> tuple[Corner, ...]:
    return (start.x, start.y), *way.corners, (end.x, end.y)


def find_blockers(start: Point, end: Point, boxes: Sequence[Box], floor: Box) -> tuple[int, ...]:
    """Which boxes (by position) stand in the way when there is none: those over an end, or else a wall.

    A wall is a set none of which can be left out: take any one away and there is a way.
    """
    over = tuple(i for i, box in enumerate(boxes) if _covers(box, start) or _covers(box, end))
    if over:
        return over
    wall = list(range(len(boxes)))
    met = _search(start, end, boxes, floor).met
    for i in range(len(boxes)):
        fewer = [k for k in wall if k != i]
        left = [boxes[k] for k in fewer]
        answer = Answer(met, None) if met.issubset(left) else _search(start, end, left, floor)
        if answer.way is None:  # without this box there is still no way
            wall, met = fewer, answer.met
    return tuple(wall)


def floor_around(frame_width: int, frame_depth: int, ends: Iterable[Point]) -> Box:
    """The frame, widened to ends that stick out over its edge."""
    points = (Point(0, 0), Point(frame_width, frame_depth), *ends)
    xs, ys = [p.x for p in points], [p.y for p in points]
    return Box(min(xs), min(ys), max(xs), max(ys))


def crosses(points: Sequence[Corner], box: Box) -> bool:
    """Whether a way through these points runs inside the box; along its edge is outside."""
    return any(
        min(ax, bx) < box.x1 and box.x0 < max(ax, bx) and min(ay, by) < box.y1 and box.y0 < max(ay, by)
        for (ax, ay), (bx, by) in pairwise(points)
    )


def _covers(box: Box, point: Point) -> bool:
    return box.x0 < point.x < box.x1 and box.y0 < point.y < box.y1


@lru_cache(maxsize=4096)
def _search_grid(start: Point, end: Point, boxes: tuple[Box, ...], floor: Box) -> Way | None:
    """A* over (crossing, direction) by (length, corners, list of corners), which only grow along a way."""
    xs = _lines((start.x, end.x), ((b.x0, b.x1) for b in boxes), floor.x0, floor.x1)
    ys = _lines((start.y, end.y), ((b.y0, b.y1) for b in boxes), floor.y0, floor.y1)
    closed_x, closed_y = _closed_edges(xs, ys, boxes)
    goal = (xs.index(end.x), ys.index(end.y))
    away = abs(end.x - start.x) + abs(end.y - start.y)
    queue: list[tuple[int, int, tuple[Corner, ...], int, int, int]] = [
        (away, 0, (), xs.index(start.x), ys.index(start.y), _NO_STEP)
    ]
    done: set[tuple[int, int, int]] = set()
    while queue:
        length, turns, corners, i, j, heading = heappop(queue)
        if (i, j) == goal:
            return Way(length, corners)
        if (i, j, heading) in done:
            continue
        done.add((i, j, heading))
        x, y = xs[i], ys[j]
        here = abs(end.x - x) + abs(end.y - y)
        for step, (di, dj) in enumerate(_STEPS):
            ni, nj = i + di, j + dj
            closed = closed_x if di else closed_y
            if not (0 <= ni < len(xs) and 0 <= nj < len(ys)) or (min(i, ni), min(j, nj)) in closed:
                continue
            if heading != _NO_STEP and step == heading ^ 1:
                continue
            turned = heading not in (step, _NO_STEP)
            there = abs(end.x - xs[ni]) + abs(end.y - ys[nj])
            longer = length - here + abs(xs[ni] - x) + abs(ys[nj] - y) + there
            if (ni, nj, step) not in done:
                so_far = (*corners, (x, y)) if turned else corners
                heappush(queue, (longer, turns + turned, so_far, ni, nj, step))
    return None


def _lines(ends: Iterable[int], edges: Iterable[tuple[int, int]], low: int, high: int) -> list[int]:
    return sorted({*ends, *(line for pair in edges for line in pair if low <= line <= high)})


def _closed_edges(
    xs: Sequence[int], ys: Sequence[int], boxes: Iterable[Box]
) -> tuple[set[tuple[int, int]], set[tuple[int, int]]]:
    """Grid edges that run inside a box, by their lower crossing: those along x, and those along y."""
    closed_x: set[tuple[int, int]] = set()
    closed_y: set[tuple[int, int]] = set()
    for box in boxes:
        in_x = [i for i, x in enumerate(xs) if box.x0 <= x <= box.x1]
        in_y = [j for j, y in enumerate(ys) if box.y0 <= y <= box.y1]
        for j in (j for j in in_y if box.y0 < ys[j] < box.y1):
            closed_x.update((i, j) for i in in_x if xs[i] < box.x1)
        for i in (i for i in in_x if box.x0 < xs[i] < box.x1):
            closed_y.update((i, j) for j in in_y if ys[j] < box.y1)
    return closed_x, closed_y
