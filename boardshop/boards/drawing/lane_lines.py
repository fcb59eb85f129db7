"""The lines of the lanes: one for each join, with its arrow, its link's ref and the names of jacks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from boardshop.boards.drawing.lane_sheet import CELL, LETTER, RADIUS, LaneSheet, words_width
from boardshop.boards.drawing.lettering import ELLIPSIS
from boardshop.boards.drawing.pedals import Url
from boardshop.boards.drawing.pens import DOT, KNOCKOUT, LEAD_ARROW, REF, Pen
from boardshop.boards.drawing.shapes import (
    Area,
    Shape,
    around,
    circle,
    group,
    hint,
    polygon,
    polyline,
    rectangle,
)
from boardshop.boards.drawing.words import best_spot, write
from boardshop.core.order.lane_joins import Join
from boardshop.core.order.lanes import Lane
from boardshop.core.plan import Link

LINE = Pen("d-run", 0.35)
UNIT = 96 / 25.4
"""px for one mm of paper, in which pens are given."""
DOT_RADIUS, ARROW, ARROW_HALF = 3.0, 8.0, 3.2
END_HALF = 13.0
OPEN_RADIUS = 4.0

type Spot = tuple[float, float]
type Leg = tuple[Spot, Spot]


@dataclass(frozen=True, slots=True)
class JoinLine:
    """A join as drawn, from a stop or an end to the next; ``heights`` are those that are its lane's own."""

    join: Join
    points: tuple[Spot, ...]
    heights: tuple[float, ...]

    @property
    def along(self) -> Leg:
        """The longest level leg at the lane's own heights: there the links' refs stand."""
        level = [leg for leg in pairwise(self.points) if leg[0][1] == leg[1][1]]
        own = [leg for leg in level if leg[0][1] in self.heights] or level
        return max(own, key=lambda leg: abs(leg[1][0] - leg[0][0]))


def trace_lines(sheet: LaneSheet) -> list[JoinLine]:
    return [line for lane in sheet.lanes for line in _trace(sheet, lane)]


def begin_column(sheet: LaneSheet, lane: Lane) -> int:
    """Where the end stands that a lane begins with, or its open beginning."""
    columns = sheet.grid.columns
    if lane.stops:
        return columns[lane.stops[0]] - 1
    if lane.returns:
        return columns[lane.returns[0]] + (1 if sheet.is_flipped(lane) else -1)
    return -1


def finish_column(sheet: LaneSheet, lane: Lane) -> int:
    columns = sheet.grid.columns
    if lane.stops:
        return columns[lane.stops[-1]] + 1
    return columns[lane.leaves[0]] + 1 if lane.leaves else 0


def end_half(words: str) -> float:
    """Half the width of an instrument's or an amp's outline."""
    return min(max(46, words_width(words) + 16), CELL - 4) / 2


def _trace(sheet: LaneSheet, lane: Lane) -> Iterator[JoinLine]:
    y = sheet.level(lane)
    heights = (y, sheet.low(lane)) if lane.number in sheet.turning else (y,)
    before = [_begin(sheet, lane)] if lane.start or lane.leaves else []
    after = [_finish(sheet, lane)] if lane.end or lane.returns else []
    sides = [(sheet.point(ref)[0], sheet.reach_of(ref)) for ref in lane.stops]
    ways_out = [*before, *([(x + reach, y)] for x, reach in sides)]
    ways_in = [*([(x - reach, y)] for x, reach in sides), *after]
    if not before:
        ways_in = ways_in[1:]
    for join, way_out, way_in in zip(lane.joins, ways_out, ways_in, strict=False):
        yield JoinLine(join, _without_repeats([*way_out, *way_in]), heights)


def _begin(sheet: LaneSheet, lane: Lane) -> list[Spot]:
    y = sheet.level(lane)
    if lane.leaves is None:
        middle = sheet.middle(begin_column(sheet, lane))
        half = end_half(lane.start.replace(".", " "))
        return [(middle - half if sheet.is_flipped(lane) else middle + half, y)]
    x, owner_y = sheet.point(lane.leaves[0])
    x += sheet.reach_of(lane.leaves[0])
    if not sheet.parts(lane):
        return [(x, y)]
    trunk = sheet.trunks["part", lane.leaves[0]]
    return [(x, owner_y), (trunk.x, owner_y), (trunk.x, y)]


def _finish(sheet: LaneSheet, lane: Lane) -> list[Spot]:
    y = sheet.level(lane)
    if lane.returns is None:
        half = end_half(lane.end.replace(".", " "))
        return [(sheet.middle(finish_column(sheet, lane)) - half, y)]
    x, reach = sheet.point(lane.returns[0])[0], sheet.reach_of(lane.returns[0])
    if sheet.is_flipped(lane):
        return [(x + reach, y)]
    way: list[Spot] = []
    if lane.number in sheet.turning:
        turn = sheet.trunks["turn", lane.number].x if lane.stops else x + reach + CELL / 2
        way = [(turn, y), (turn, sheet.low(lane))]
        y = sheet.low(lane)
    if sheet.comes_back(lane):
        return [*way, (x + reach, y)]
    trunk, entry = sheet.trunks[sheet.join_key(lane)], sheet.entry(lane)
    return [*way, (trunk.x, y), (trunk.x, entry), (x - reach, entry)]


def _without_repeats(points: Sequence[Spot]) -> tuple[Spot, ...]:
    return tuple(point for at, point in enumerate(points) if at == 0 or point != points[at - 1])


def draw_lines(sheet: LaneSheet, lines: Sequence[JoinLine]) -> list[Shape]:
    """Lines and arrows; what several joins share is drawn once, for it would look heavier."""
    look = (*LINE.look(UNIT), ("stroke-linecap", "square"))
    legs = [leg for line in lines for leg in pairwise(line.points)]
    shapes = [polyline(list(leg), look) for leg in _merge(legs)]
    return shapes + list(dict.fromkeys(_arrow(line.points[-2], line.points[-1]) for line in lines))


def draw_dots(sheet: LaneSheet) -> list[Shape]:
    look = DOT.look(UNIT)
    spots = dict.fromkeys((trunk.x, y) for trunk in sheet.trunks.values() for y in trunk.dots())
    return [circle(x, y, DOT_RADIUS, look) for x, y in spots]


def _merge(legs: Sequence[Leg]) -> list[Leg]:
    """Legs on one line that touch or lie on each other, as one."""
    along: dict[tuple[bool, float], list[tuple[float, float]]] = {}
    for (x0, y0), (x1, y1) in legs:
        key, ends = ((True, y0), (x0, x1)) if y0 == y1 else ((False, x0), (y0, y1))
        along.setdefault(key, []).append((min(ends), max(ends)))
    merged: list[Leg] = []
    for (is_level, at), stretches in along.items():
        low, high = min(stretches)
        for begin, end in (*sorted(stretches), (float("inf"), 0.0)):
            if begin > high:
                merged.append(((low, at), (high, at)) if is_level else ((at, low), (at, high)))
                low, high = begin, end
            high = max(high, end)
    return merged


def _arrow(before: Spot, tip: Spot) -> Shape:
    """Every way ends level."""
    (x, y), back = tip, ARROW if before[0] < tip[0] else -ARROW
    points = [(x, y), (x - back, y - ARROW_HALF), (x - back, y + ARROW_HALF)]
    return polygon(points, LEAD_ARROW.look(UNIT))


def draw_refs(
    sheet: LaneSheet, lines: Sequence[JoinLine], links: dict[str, Link], url: Url | None
) -> list[Shape]:
    """The refs of the links above their lines, clear of upright lines where that can be had."""
    taken = [(_thin(trunk.x, *trunk.reach), 1.0) for trunk in sheet.trunks.values()]
    shapes = []
    for line in lines:
        (x0, y), (x1, _) = _between_trunks(sheet, line)
        words = _shorten(", ".join(line.join.links), abs(x1 - x0) - ARROW)
        wide = words_width(words)
        free = max((abs(x1 - x0) - ARROW - wide) / 2, 0)
        middle = (x0 + x1) / 2 - (ARROW / 2 if x1 > x0 else -ARROW / 2)
        spots = (around(middle + free * part, y - 9, wide + 3, LETTER) for part in (0, -0.4, 0.4, -0.8, 0.8))
        spot = best_spot(spots, taken)
        taken.append((spot, 1.0))
        shapes += _clear(sheet, spot)
        shapes.append(_ref(line.join, links, words, spot, url))
    return shapes


def _between_trunks(sheet: LaneSheet, line: JoinLine) -> Leg:
    """Where a line goes straight past a parting or a joining, what lies between these."""
    (x0, y), (x1, end_y) = line.points[0], line.points[-1]
    if len(line.points) > 2:
        return line.along
    parting = sheet.trunks.get(("part", line.join.source)) if line.join.from_pedal else None
    joining = sheet.trunks.get(("join", line.join.target)) if line.join.to_pedal else None
    low, high = min(x0, x1), max(x0, x1)
    begin = parting.x if parting and low < parting.x < high else x0
    return (begin, y), (joining.x if joining and low < joining.x < high else x1, end_y)


def _clear(sheet: LaneSheet, area: Area) -> list[Shape]:
    """A paper-coloured ground where upright lines would run through lettering."""
    crossed = any(_thin(trunk.x, *trunk.reach).shared(area) for trunk in sheet.trunks.values())
    return [rectangle(area, KNOCKOUT.look(UNIT))] if crossed else []


def _ref(join: Join, links: dict[str, Link], words: str, spot: Area, url: Url | None) -> Shape:
    told = "; ".join(f"{ref}: {links[ref].source} – {links[ref].target}" for ref in join.links)
    hit = around(spot.middle[0], spot.bottom - 10, max(spot.width, 24), 22)
    box = (("x", hit.x), ("y", hit.y), ("width", hit.width), ("height", hit.height))
    edge = Shape("rect", (("class", "d-hit"), ("fill", "none"), ("pointer-events", "all"), *box))
    shapes = (hint(told), edge, write(REF, LETTER, words, spot.middle[0], spot.bottom - 2))
    target = url(join.links[0]) if url else None
    if target is None:
        return group(list(shapes), class_="d-mark")
    return Shape("a", (("class", "d-mark"), ("href", target)), shapes)


def _shorten(words: str, width: float) -> str:
    if words_width(words) <= width:
        return words
    while words and words_width(words + ELLIPSIS) > width:
        words = words[:-1]
    return words.rstrip(" ,") + ELLIPSIS


def _thin(x: float, upper: float, lower: float) -> Area:
    return Area(x - 1, upper, 2, lower - upper)


def draw_jacks(sheet: LaneSheet, lines: Sequence[JoinLine]) -> list[Shape]:
    """Names of jacks where lines part and join, and inside the outline that loops hang on."""
    shapes: list[Shape] = []
    for lane in sheet.lanes:
        owner = sheet.grid.hangs.get(lane.number)
        if owner is not None:
            x = sheet.point(owner)[0] + CELL / 2 - 6
            if lane.leaves:
                shapes.append(_jack(sheet, lane.leaves[1], x, sheet.level(lane) + 4, "end"))
            if lane.returns and lane.returns[0] == owner:
                y = sheet.low(lane) if sheet.comes_back(lane) else sheet.level(lane)
                shapes.append(_jack(sheet, lane.returns[1], x, y + 4, "end"))
        if lane.leaves and sheet.parts(lane):
            x = sheet.trunks["part", lane.leaves[0]].x + 4
            shapes.append(_jack(sheet, lane.leaves[1], x, sheet.level(lane) + 13, "start"))
        if lane.returns and sheet.joins(lane):
            x, turned = sheet.trunks[sheet.join_key(lane)].x, lane.number in sheet.turning
            y = sheet.low(lane) - 4 if turned else sheet.level(lane) + 13
            shapes.append(
                _jack(sheet, lane.returns[1], x + (4 if turned else -4), y, "start" if turned else "end")
            )
    return shapes + [shape for line in lines for shape in _straight_jacks(sheet, line)]


def _straight_jacks(sheet: LaneSheet, line: JoinLine) -> Iterator[Shape]:
    """Where a lane goes straight on past a parting or a joining, if the gap has room."""
    (x0, _), (x1, _) = line.points[0], line.points[-1]
    if len(line.points) > 2:
        return
    (left, y), (right, _) = _between_trunks(sheet, line)
    parting, joining = left != x0, right != x1
    left, right = left + 4, right - (4 if joining else ARROW)
    if parting and words_width(line.join.out) <= right - left:
        yield _jack(sheet, line.join.out, left, y + 13, "start")
        left += words_width(line.join.out) + 8
    if joining and words_width(line.join.into) <= right - left:
        yield _jack(sheet, line.join.into, right, y + 13, "end")


def _jack(sheet: LaneSheet, name: str, x: float, y: float, anchor: str) -> Shape:
    shown = _shorten(name, CELL - 8)
    wide = words_width(shown)
    area = Area(x if anchor == "start" else x - wide, y - LETTER + 2, wide, LETTER)
    word = write(REF, LETTER, shown, x, y, anchor)
    told = [] if shown == name else [hint(name)]
    return group([*told, *_clear(sheet, area), word], class_="d-jack-name")


def draw_open(x: float, y: float, words: str, is_beginning: bool) -> list[Shape]:
    """A small open circle at the end of a short line, and the word."""
    side = -1 if is_beginning else 1
    line = polyline([(x, y), (x + side * 2 * RADIUS, y)], LINE.look(UNIT))
    ring = circle(x + side * (2 * RADIUS + OPEN_RADIUS), y, OPEN_RADIUS, LINE.look(UNIT))
    word_x = x + side * (2 * RADIUS + 2 * OPEN_RADIUS + 5)
    return [line, ring, write(REF, LETTER, words, word_x, y + 4, "end" if is_beginning else "start")]
