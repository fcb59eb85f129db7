"""Runs on the drawing: their way over the frame or under it, and the pennants that name them."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Protocol

from boardshop.boards.drawing.lettering import measure
from boardshop.boards.drawing.pedals import Url, is_same
from boardshop.boards.drawing.pens import FLAG, REF, RUN, RUN_UNDER
from boardshop.boards.drawing.shapes import Area, Shape, around, bounds, hint, polygon, polyline
from boardshop.boards.drawing.sheet import Sheet
from boardshop.boards.drawing.words import Obstacle, best_spot, obstacles_in, write
from boardshop.core.plan import Link


class RunPath(Protocol):
    """What is drawn of a run: its link, and its way with both ends, empty where none was found."""

    @property
    def link(self) -> Link: ...
    @property
    def points(self) -> Sequence[tuple[int, int]]: ...


@dataclass(frozen=True, slots=True)
class DrawnRun:
    """A run with its whole way on the drawing, from the plug it starts at to the one it ends in."""

    link: Link
    points: tuple[tuple[float, float], ...]

    @property
    def is_under(self) -> bool:
        return self.link.route == "under"

    def leg_areas(self, unit: float) -> list[Area]:
        """The strip that each leg covers, one mm of paper wide."""
        return [
            Area(min(x0, x1), min(y0, y1), abs(x1 - x0), abs(y1 - y0)).grown(unit / 2)
            for (x0, y0), (x1, y1) in pairwise(self.points)
        ]


@dataclass(frozen=True, slots=True)
class Flag:
    """A pennant: its area, and whether it points left as the signal runs."""

    area: Area
    points_left: bool


def trace_runs(sheet: Sheet, runs: Iterable[RunPath]) -> tuple[tuple[DrawnRun, ...], tuple[str, ...]]:
    """The runs that can be drawn, and the refs of those that cannot: blocked, or an end without a place."""
    kept = tuple(runs)
    drawn = (
        DrawnRun(run.link, tuple(sheet.point(x, y) for x, y in run.points)) for run in kept if run.points
    )
    return tuple(drawn), tuple(run.link.ref for run in kept if not run.points)


def place_flags(runs: Sequence[DrawnRun], unit: float, obstacles: Iterable[Obstacle]) -> tuple[Flag, ...]:
    """A pennant on each run, clear of balloons, names and one another as far as there is room."""
    taken = list(obstacles)
    flags = []
    for run in runs:
        spots = _spots(run, unit)
        areas = [area for area, _ in spots]
        area = best_spot(areas, obstacles_in(bounds(areas), taken))
        flags.append(next(Flag(*spot) for spot in spots if spot[0] == area))
        taken.append((area.grown(0.4 * unit), 3.0))
    return tuple(flags)


def draw_run(run: DrawnRun, unit: float, selected: str | None) -> Shape:
    pen = RUN_UNDER if run.is_under else RUN
    states = ("is-selected",) if is_same(run.link.ref, selected) else ()
    return polyline(run.points, pen.look(unit, *states))


def draw_run_flag(run: DrawnRun, flag: Flag, unit: float, selected: str | None, url: Url | None) -> Shape:
    """The pennant, with the run's two ends in words; a link where there is one."""
    states = " is-selected" if is_same(run.link.ref, selected) else ""
    words = f"{run.link.ref}: {run.link.source} – {run.link.target}"
    shapes = (hint(words), *draw_flag(flag, run.link.ref, unit))
    target = url(run.link.ref) if url else None
    if target is None:
        return Shape("g", (("class", f"d-mark{states}"),), shapes)
    return Shape("a", (("class", f"d-mark{states}"), ("href", target)), shapes)


def draw_flag(flag: Flag, words: str, unit: float) -> tuple[Shape, ...]:
    area, tip = flag.area, flag_tip(unit)
    y = area.middle[1]
    if flag.points_left:
        box = Area(area.x + tip, area.y, area.width - tip, area.height)
        edge = [(box.right, box.y), (box.right, box.bottom), (box.x, box.bottom), (area.x, y), (box.x, box.y)]
    else:
        box = Area(area.x, area.y, area.width - tip, area.height)
        edge = [
            (box.x, box.y),
            (box.right, box.y),
            (area.right, y),
            (box.right, box.bottom),
            (box.x, box.bottom),
        ]
    size = REF.height * unit
    return polygon(edge, FLAG.look(unit)), write(REF, size, words, box.middle[0], y + 0.34 * size)


def flag_size(words: str, unit: float) -> tuple[float, float]:
    size = REF.height * unit
    return measure(words, size, REF.face) + 1.2 * unit + flag_tip(unit), 3.2 * unit


def flag_tip(unit: float) -> float:
    return 1.1 * unit


def _spots(run: DrawnRun, unit: float) -> list[tuple[Area, bool]]:
    """Areas along the longest legs first, each from its middle outwards, and whether the leg runs left.

    On the line, then leaning against it.
    """
    width, height = flag_size(run.link.ref, unit)
    legs = sorted(pairwise(run.points), key=lambda leg: -_length(leg))
    spots = []
    for lean in (0, -0.5, 0.5):
        for (x0, y0), (x1, y1) in legs:
            aside = (lean * width, 0) if x0 == x1 else (0, lean * height)
            for part in (0.5, 0.38, 0.62, 0.25, 0.75, 0.12, 0.88, 0.0, 1.0):
                x, y = x0 + (x1 - x0) * part + aside[0], y0 + (y1 - y0) * part + aside[1]
                spots.append((around(x, y, width, height), x1 < x0))
    return spots


def _length(leg: tuple[tuple[float, float], tuple[float, float]]) -> float:
    (x0, y0), (x1, y1) = leg
    return abs(x1 - x0) + abs(y1 - y0)
