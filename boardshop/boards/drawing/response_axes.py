"""Where frequencies and levels lie on the drawing of a response, and its ticks; px at the natural size."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor, log10

from django.utils.translation import gettext as _

from boardshop.boards.drawing.lettering import measure
from boardshop.boards.drawing.pens import MEASURE, NOTE, RULE, SECOND_INK, Pen
from boardshop.boards.drawing.shapes import Area, Shape, polyline, rectangle
from boardshop.boards.drawing.words import write

UNIT = 96 / 25.4
"""px for one mm of paper, in which pens are given."""
WIDTH, HEIGHT = 640.0, 340.0
"""Fits across a sheet of A4 or Letter between its margins."""
PLOT = Area(46, 24, WIDTH - 46 - 16, HEIGHT - 24 - 44)
LETTER = 11.0
LEAST_DB, STEP_DB = -36, 6
"""Below this nothing is heard of a pickup's treble, and curves leave the drawing."""
LABELLED_HZ = (100, 200, 500, 1000, 2000, 3000, 5000, 10_000, 20_000)
COMPARED_HZ = (3000, 5000)
EDGE = Pen("d-frame", 0.35)
GRID = Pen("d-rail", 0.13, RULE)
ZERO = Pen("d-tier", 0.18, SECOND_INK)
COMPARED = Pen("d-tier", 0.18, SECOND_INK, dashes=(1, 0.8))

type Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Axes:
    """A logarithmic axis of frequency and an even one of level, whose ends are whole steps."""

    low_hz: float
    high_hz: float
    bottom_db: int
    top_db: int

    @classmethod
    def around(cls, frequencies_hz: Sequence[float], levels: Sequence[Sequence[float]]) -> Axes:
        """As much of the levels as is heard: from -36 dB, or less deep where no curve gets there."""
        values = [db for one in levels for db in one]
        deepest = max(LEAST_DB, STEP_DB * floor(min(values, default=0) / STEP_DB))
        highest = STEP_DB * ceil(max(values, default=0) / STEP_DB)
        return cls(frequencies_hz[0], frequencies_hz[-1], min(deepest, -STEP_DB), max(highest, STEP_DB))

    def x(self, hz: float) -> float:
        return PLOT.x + PLOT.width * log10(hz / self.low_hz) / log10(self.high_hz / self.low_hz)

    def y(self, db: float) -> float:
        return PLOT.y + PLOT.height * (self.top_db - db) / (self.top_db - self.bottom_db)

    def trace(self, frequencies_hz: Sequence[float], levels: Sequence[float]) -> list[list[Point]]:
        """The curve as lines, cut where it leaves the drawing at the bottom."""
        points = [(self.x(hz), self.y(db)) for hz, db in zip(frequencies_hz, levels, strict=True)]
        lines: list[list[Point]] = [[]]
        for one, other in pairwise(points):
            kept = _cut((one, other), PLOT.bottom)
            if kept is None:
                lines.append([])
                continue
            lines[-1] += kept if not lines[-1] else kept[1:]
            if kept[1] != other:
                lines.append([])
        return [line for line in lines if len(line) > 1]


def _cut(leg: tuple[Point, Point], floor_y: float) -> list[Point] | None:
    """What of a leg lies above the floor; None where nothing does."""
    (ax, ay), (bx, by) = leg
    if ay > floor_y and by > floor_y:
        return None
    if ay <= floor_y and by <= floor_y:
        return [(ax, ay), (bx, by)]
    crossing = (ax + (bx - ax) * (floor_y - ay) / (by - ay), floor_y)
    return [(ax, ay), crossing] if ay <= floor_y else [crossing, (bx, by)]


def draw_axes(axes: Axes) -> list[Shape]:
    """Grid, ticks with their figures, and what the axes are in."""
    shapes = [*_draw_frequencies(axes), *_draw_levels(axes)]
    shapes.append(rectangle(PLOT, EDGE.look(UNIT)))
    middle = PLOT.x + PLOT.width / 2
    shapes.append(write(NOTE, LETTER, _("frequency, Hz"), middle, HEIGHT - 8))
    shapes.append(write(NOTE, LETTER, _("dB, relative to 100 Hz"), PLOT.x, PLOT.y - 9, "start"))
    return shapes


def _draw_frequencies(axes: Axes) -> Iterator[Shape]:
    for hz in _list_grid_hz(axes):
        x = axes.x(hz)
        pen = COMPARED if hz in COMPARED_HZ else GRID
        yield polyline([(x, PLOT.y), (x, PLOT.bottom)], pen.look(UNIT))
    for hz in LABELLED_HZ:
        x = axes.x(hz)
        yield polyline([(x, PLOT.bottom), (x, PLOT.bottom + 4)], EDGE.look(UNIT))
        # the last figure would stick out over the drawing's edge
        half = measure(str(hz), LETTER, MEASURE.face) / 2
        yield write(MEASURE, LETTER, str(hz), min(x, WIDTH - half - 1), PLOT.bottom + 16)


def _list_grid_hz(axes: Axes) -> Iterator[int]:
    decade = 100
    while decade < axes.high_hz:
        for times in range(1, 10):
            if axes.low_hz < decade * times < axes.high_hz:
                yield decade * times
        decade *= 10


def _draw_levels(axes: Axes) -> Iterator[Shape]:
    for db in range(axes.bottom_db, axes.top_db + 1, STEP_DB):
        y = axes.y(db)
        yield polyline([(PLOT.x, y), (PLOT.right, y)], (GRID if db else ZERO).look(UNIT))
        yield polyline([(PLOT.x - 4, y), (PLOT.x, y)], EDGE.look(UNIT))
        words = f"+{db}" if db > 0 else f"−{-db}" if db else "0"
        yield write(MEASURE, LETTER, words, PLOT.x - 7, y + 0.35 * LETTER, "end")
