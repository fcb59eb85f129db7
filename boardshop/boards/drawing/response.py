"""`draw_response`: what an instrument's treble does in each state of a board, one SVG.

Curves differ in their dashes and bear their letter, so that they are told apart in black and white.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from boardshop.boards.drawing.lettering import ASCENT, DESCENT, measure
from boardshop.boards.drawing.pens import KNOCKOUT, PAPER, REF, SECOND_INK, SIGN, SIGN_LETTER, Pen
from boardshop.boards.drawing.response_axes import HEIGHT, LETTER, PLOT, UNIT, WIDTH, Axes, Point, draw_axes
from boardshop.boards.drawing.shapes import (
    Area,
    Shape,
    around,
    group,
    hint,
    number,
    polyline,
    rectangle,
    to_svg,
)
from boardshop.boards.drawing.words import Obstacle, best_spot, write

MAIN, ASIDE = "main", "aside"
DASHES: tuple[tuple[float, ...], ...] = (
    (),
    (2.6, 1.1),
    (0.9, 0.9),
    (4.2, 1, 0.9, 1),
    (1.7, 0.7, 0.5, 0.7, 0.5, 0.7),
    (5, 1.6),
)
ASIDE_DASHES: tuple[tuple[float, ...], ...] = ((3, 0.7, 0.4, 0.7), (0.5, 0.7))
LABEL_LEVELS = (-4.0, -28.0)
"""Between these levels the flanks of curves lie farthest apart; labels are looked for there first."""
OBSTACLE_STEP, SPOT_STEP = 4, 4
"""Of a curve's points every so many are kept clear of, or tried for a label."""
KEY_WIDTH, KEY_HEIGHT = 56.0, 14.0


@dataclass(frozen=True, slots=True)
class LabelledCurve:
    """``label`` stands at the curve, ``words`` name it; thin and ``is_aside`` is what it is held against."""

    label: str
    words: str
    db: Sequence[float]
    is_aside: bool = False


def pick_pens(curves: Sequence[LabelledCurve]) -> list[Pen]:
    """A pen for each curve; from the seventh on dashes come again, thinner, and the letter tells."""
    pens, mains, asides = [], 0, 0
    for curve in curves:
        if curve.is_aside:
            pens.append(Pen("d-hidden", 0.25, SECOND_INK, dashes=ASIDE_DASHES[asides % len(ASIDE_DASHES)]))
            asides += 1
        else:
            width = 0.5 if mains < len(DASHES) else 0.3
            pens.append(Pen("d-run", width, dashes=DASHES[mains % len(DASHES)]))
            mains += 1
    return pens


def draw_response(
    frequencies_hz: Sequence[float],
    curves: Sequence[LabelledCurve],
    *,
    title: str,
    words: str,
    name: str,
    marked: Sequence[tuple[float, float]] = (),
) -> str:
    """One SVG element, safe to put into a page as it is; ``name`` makes its ids one of a kind.

    ``marked`` are peaks, Hz and dB; ``words`` tell it to those who do not see it.
    """
    axes = Axes.around(frequencies_hz, [curve.db for curve in curves])
    traces = [axes.trace(frequencies_hz, curve.db) for curve in curves]
    shapes = draw_axes(axes)
    for curve, pen, lines in zip(curves, pick_pens(curves), traces, strict=True):
        drawn = [polyline(line, pen.look(UNIT)) for line in lines]
        shapes.append(group([hint(f"{curve.label}: {curve.words}"), *drawn], class_="d-curve"))
    shapes += [_mark_peak(axes, hz, db) for hz, db in marked]
    shapes += _label_all(axes, curves, traces)
    return to_svg(_wrap(shapes, title, words, name))


def draw_key(curve_pen: Pen, label: str) -> str:
    """A sample of a curve's line with nothing else, for a legend beside the words."""
    middle = KEY_HEIGHT / 2
    line = polyline([(0, middle), (KEY_WIDTH, middle)], curve_pen.look(UNIT))
    size = (("width", number(KEY_WIDTH)), ("height", number(KEY_HEIGHT)))
    box = (("viewBox", f"0 0 {number(KEY_WIDTH)} {number(KEY_HEIGHT)}"), ("aria-hidden", "true"))
    look = (("xmlns", "http://www.w3.org/2000/svg"), ("class", "response-key"), ("data-of", label))
    return to_svg(Shape("svg", (*look, *size, *box), (line,)))


def _mark_peak(axes: Axes, hz: float, db: float) -> Shape:
    """A short upright stroke through the peak: a dot would hide the dashes."""
    x, y = axes.x(hz), axes.y(db)
    return polyline([(x, y - 4), (x, y + 4)], Pen("d-run", 0.35).look(UNIT))


def _label_all(
    axes: Axes, curves: Sequence[LabelledCurve], traces: Sequence[Sequence[Sequence[Point]]]
) -> list[Shape]:
    """Each label on its own curve, where it covers least of the others."""
    points = [[point for line in lines for point in line] for lines in traces]
    taken: list[Obstacle] = []
    shapes: list[Shape] = []
    for at, curve in enumerate(curves):
        spots = list(_list_spots(axes, curve, points[at]))
        if not spots:
            continue
        left = min(spot.x for spot in spots) - 4
        others = [
            (around(x, y, 3, 3), 1.0)
            for number_of, line in enumerate(points)
            if number_of != at or curve.is_aside
            for x, y in line[::OBSTACLE_STEP]
            if x >= left
        ]
        spot = best_spot(spots, [*taken, *others])
        taken.append((spot.grown(2), 50.0))
        shapes += _draw_label(curve, spot)
    return shapes


def _list_spots(axes: Axes, curve: LabelledCurve, points: Sequence[Point]) -> Iterator[Area]:
    """On the curve, or for what others are held against right of it, where no line has to be broken."""
    wide = measure(curve.label, LETTER, (REF if curve.is_aside else SIGN_LETTER).face) + 8
    high = LETTER * (ASCENT + DESCENT) + 3
    aside = wide / 2 + 4 if curve.is_aside else 0
    top, bottom = (axes.y(db) for db in LABEL_LEVELS)
    inside = [
        (x + aside, y)
        for x, y in points[::SPOT_STEP]
        if PLOT.x + wide < x < PLOT.right - wide / 2 - aside and PLOT.y + high < y < PLOT.bottom - high / 2
    ]
    flank = [(x, y) for x, y in inside if top <= y <= bottom and x > axes.x(1000)]
    treble = [(x, y) for x, y in inside if x > axes.x(1000)]
    for x, y in [*flank, *treble] or inside:
        yield around(x, y, wide, high)


def _draw_label(curve: LabelledCurve, spot: Area) -> list[Shape]:
    x, y = spot.middle
    baseline = y + 0.35 * LETTER
    if curve.is_aside:
        ground = rectangle(spot, KNOCKOUT.look(0))
        return [ground, write(REF, LETTER, curve.label, x, baseline)]
    plate = rectangle(spot, SIGN.look(UNIT))
    return [plate, write(SIGN_LETTER, LETTER, curve.label, x, baseline)]


def _wrap(shapes: Sequence[Shape], title: str, words: str, name: str) -> Shape:
    width, height = number(WIDTH), number(HEIGHT)
    attributes = (
        ("xmlns", "http://www.w3.org/2000/svg"),
        ("class", "response-drawing"),
        ("viewBox", f"0 0 {width} {height}"),
        ("width", width),
        ("height", height),
        ("role", "img"),
        ("aria-labelledby", f"{name}-title"),
        ("aria-describedby", f"{name}-words"),
    )
    ground = rectangle(Area(0, 0, WIDTH, HEIGHT), Pen("d-knockout", 0, "none", PAPER).look(0))
    told = Shape("title", (("id", f"{name}-title"),), text=title)
    described = Shape("desc", (("id", f"{name}-words"),), text=words)
    return Shape("svg", attributes, (told, described, ground, *shapes))
