"""Runs on the drawing: their way over the frame or under it, and the pennants that name them."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from typing import Protocol

from boardshop.boards.drawing.badges import SIGN_STEP, draw_signs
from boardshop.boards.drawing.bends import NO_BENDS, Bends, draw_way
from boardshop.boards.drawing.lettering import measure
from boardshop.boards.drawing.pedals import Url, is_same
from boardshop.boards.drawing.pens import DIMENSION, DOT, FLAG, NEW, REF, RUN, RUN_UNDER, Pen
from boardshop.boards.drawing.shapes import (
    Area,
    Attributes,
    Shape,
    around,
    bounds,
    circle,
    hint,
    polygon,
    polyline,
)
from boardshop.boards.drawing.sheet import Sheet
from boardshop.boards.drawing.words import Obstacle, best_spot, obstacles_in, write
from boardshop.core.index import fold
from boardshop.core.plan import Link


class RunPath(Protocol):
    """What is drawn of a run: its link, and its way with both ends, empty where none was found."""

    @property
    def link(self) -> Link: ...
    @property
    def points(self) -> Sequence[tuple[int, int]]: ...


@dataclass(frozen=True, slots=True)
class Label:
    """What a pennant says instead of the ref alone, and the letters of the signs before it."""

    words: str
    letters: str = ""
    is_double: bool = False


ASIDE = (0.6, 1.6, 2.6, 3.6, 5.0)
"""How far a pennant may stand aside of its run, in its own heights."""

type Labels = Mapping[str, Label]
"""By folded ref."""
type Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class DrawnRun:
    """A run with its whole way on the drawing, from the plug it starts at to the one it ends in."""

    link: Link
    points: tuple[tuple[float, float], ...]
    label: Label
    bend: float = 0.0
    """The radius of its cable's bend; 0 where it is not known, or not drawn."""
    square: frozenset[Point] = frozenset()
    """Corners that are not rounded."""

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
    of: Point | None = None
    """The point of the run that a leader goes to, where the pennant stands aside."""


def trace_runs(
    sheet: Sheet, runs: Iterable[RunPath], labels: Labels | None = None, bends: Bends = NO_BENDS
) -> tuple[tuple[DrawnRun, ...], tuple[str, ...]]:
    """The runs that can be drawn, and the refs of those that cannot: blocked, or an end without a place."""
    kept, given = tuple(runs), labels or {}
    drawn = (
        DrawnRun(
            run.link,
            tuple(sheet.point(x, y) for x, y in run.points),
            given.get(fold(run.link.ref)) or Label(run.link.ref),
            bends.radius.get(fold(run.link.ref), 0.0),
            bends.square,
        )
        for run in kept
        if run.points
    )
    return tuple(drawn), tuple(run.link.ref for run in kept if not run.points)


def place_flags(
    runs: Sequence[DrawnRun], unit: float, obstacles: Iterable[Obstacle], extent: Area
) -> tuple[Flag, ...]:
    """A pennant on each run, clear of balloons, names and one another as far as there is room.

    One with signs says more and is placed first; it may stand aside of its run.  None leaves the drawing.
    """
    taken = list(obstacles)
    found: dict[int, Flag] = {}
    for at, run in sorted(enumerate(runs), key=lambda one: not one[1].label.letters):
        near = obstacles_in(_reach(run, unit, extent), taken)
        found[at] = _place_flag(run, unit, extent, tuple(near))
        taken.append((found[at].area.grown(0.4 * unit), 3.0))
    return tuple(found[at] for at in range(len(runs)))


@lru_cache(maxsize=1024)
def _place_flag(run: DrawnRun, unit: float, extent: Area, near: tuple[Obstacle, ...]) -> Flag:
    """Kept by the run and what stands near it: an edit leaves most of both as they were."""
    flags = _spots(run, unit, extent)
    area = best_spot([flag.area for flag in flags], near)
    return next(flag for flag in flags if flag.area == area)


@lru_cache(maxsize=1024)
def _reach(run: DrawnRun, unit: float, extent: Area) -> Area:
    """What holds all the spots that its pennant could have."""
    return bounds([flag.area for flag in _spots(run, unit, extent)])


def draw_run(run: DrawnRun, unit: float, selected: str | None, pen: Pen | None = None) -> Shape:
    """A chosen one twice as heavy, so that it stands out in black, too."""
    pen = pen or (RUN_UNDER if run.is_under else RUN)
    return draw_way(run.points, run.bend, run.square, look_of(run, unit, selected, pen))


def look_of(run: DrawnRun, unit: float, selected: str | None, pen: Pen = RUN) -> Attributes:
    if not is_same(run.link.ref, selected):
        return pen.look(unit)
    return replace(pen, width=2 * pen.width).look(unit, "is-selected")


def draw_run_flag(run: DrawnRun, flag: Flag, unit: float, selected: str | None, url: Url | None) -> Shape:
    """The pennant, with the run's two ends in words; a link where there is one."""
    states = " is-selected" if is_same(run.link.ref, selected) else ""
    words = f"{run.link.ref}: {run.link.source} – {run.link.target}"
    shapes = (hint(words), *draw_flag(flag, run.label, unit))
    signs = (("data-of", run.link.ref), ("data-signs", run.label.letters)) if run.label.letters else ()
    target = url(run.link.ref) if url else None
    if target is None:
        return Shape("g", (("class", f"d-mark{states}"), *signs), shapes)
    return Shape("a", (("class", f"d-mark{states}"), ("href", target), *signs), shapes)


def draw_flag(flag: Flag, label: Label, unit: float) -> tuple[Shape, ...]:
    """A pennant with its signs and words, the signs first; a second outline around it where asked for."""
    area, tip = flag.area, flag_tip(unit)
    y = area.middle[1]
    box = Area(area.x + (tip if flag.points_left else 0), area.y, area.width - tip, area.height)
    shapes = [*_draw_leader(flag, unit), polygon(_edge(area, tip, flag.points_left), FLAG.look(unit))]
    if label.is_double:
        shapes.append(polygon(_edge(area.grown(0.7 * unit), tip, flag.points_left), NEW.look(unit)))
    shapes += draw_signs(label.letters, box.x, y, unit)
    signs = _signs_width(label, unit)
    size = REF.height * unit
    middle = box.x + signs + (box.width - signs) / 2
    return (*shapes, write(REF, size, label.words, middle, y + 0.34 * size))


def _draw_leader(flag: Flag, unit: float) -> list[Shape]:
    """From the pennant, which covers its end, to a dot on the run (ISO 128-22)."""
    if flag.of is None:
        return []
    x = max(flag.area.x, min(flag.of[0], flag.area.right))
    line = polyline([(x, flag.area.middle[1]), flag.of], DIMENSION.look(unit))
    return [line, circle(*flag.of, 0.5 * unit, DOT.look(unit))]


def _edge(area: Area, tip: float, points_left: bool) -> list[tuple[float, float]]:
    y = area.middle[1]
    if points_left:
        x = area.x + tip
        return [(area.right, area.y), (area.right, area.bottom), (x, area.bottom), (area.x, y), (x, area.y)]
    x = area.right - tip
    return [(area.x, area.y), (x, area.y), (area.right, y), (x, area.bottom), (area.x, area.bottom)]


def flag_size(label: Label, unit: float) -> tuple[float, float]:
    size = REF.height * unit
    wide = _signs_width(label, unit) + measure(label.words, size, REF.face) + 1.2 * unit + flag_tip(unit)
    return wide, 3.2 * unit


def _signs_width(label: Label, unit: float) -> float:
    return SIGN_STEP * len(label.letters) * unit


def flag_tip(unit: float) -> float:
    return 1.1 * unit


@lru_cache(maxsize=1024)
def _spots(run: DrawnRun, unit: float, extent: Area) -> tuple[Flag, ...]:
    """Along the longest legs first, each from its middle outwards, pointing as the leg runs."""
    width, height = flag_size(run.label, unit)
    legs = sorted(pairwise(run.points), key=lambda leg: -_length(leg))
    spots = []
    for beside, above, is_aside in _shifts(width, height, may_leave=bool(run.label.letters)):
        for (x0, y0), (x1, y1) in legs:
            off_x, off_y = (beside, 0.0) if x0 == x1 else (0.0, above)
            for part in (0.5, 0.38, 0.62, 0.25, 0.75, 0.12, 0.88, 0.0, 1.0):
                at = x0 + (x1 - x0) * part, y0 + (y1 - y0) * part
                x = max(extent.x + width / 2, min(at[0] + off_x, extent.right - width / 2))
                area = around(x, at[1] + off_y, width, height)
                spots.append(Flag(area, x1 < x0, at if is_aside else None))
    return tuple([one for one in spots if one.of is None or extent.y <= one.area.y <= extent.bottom - height])


def _shifts(width: float, height: float, *, may_leave: bool) -> list[tuple[float, float, bool]]:
    """From an upright leg and from a level one: on it, leaning against it, then aside with a leader."""
    shifts = [(lean * width, lean * height, False) for lean in (0, -0.5, 0.5)]
    if may_leave:
        shifts += [
            (side * (width / 2 + step * height), side * (0.5 + step) * height, True)
            for step in ASIDE
            for side in (-1, 1)
        ]
    return shifts


def _length(leg: tuple[tuple[float, float], tuple[float, float]]) -> float:
    (x0, y0), (x1, y1) = leg
    return abs(x1 - x0) + abs(y1 - y0)
