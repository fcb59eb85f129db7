"""`draw_additions`: what hangs on a driver as one bar, a piece for each thing that adds capacitance.

Leads are blank, patches hatched, bypass wiring filled, inputs filled and paler: told apart without
colour.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from django.utils.translation import gettext as _

from boardshop.boards.drawing.lettering import measure
from boardshop.boards.drawing.pens import MEASURE, PAPER, REF, SECOND_INK, Pen
from boardshop.boards.drawing.response_axes import LETTER, UNIT, WIDTH
from boardshop.boards.drawing.shapes import Area, Shape, group, hint, number, polyline, rectangle, to_svg
from boardshop.boards.drawing.words import write
from boardshop.core.tone.rules import BANDS
from boardshop.core.tone.segments import INPUT, LEAD, PATCH, WIRING, Addition

LEFT, RIGHT = 8.0, WIDTH - 8
TOP, HIGH = 18.0, 24.0
HEIGHT = TOP + HIGH + 24
HATCH_STEP = 4.0
EDGE = Pen("d-body", 0.25, fill=PAPER)
WIRED = Pen("d-dot", 0, fill="#17212b")
LOADED = Pen("d-arrow", 0, SECOND_INK, fill=SECOND_INK)
STRIPE = Pen("d-dimension", 0.18, SECOND_INK)
TICK = Pen("d-dimension", 0.25, SECOND_INK)
LEAST_SCALE_PF = 1_800
"""So that the last band always shows, and the figures at the right end keep apart."""


def pick_scale(totals: Sequence[int]) -> int:
    """pF at the right end of bars that are to be compared: the largest, in whole hundreds."""
    return max(LEAST_SCALE_PF, *(-(-total // 100) * 100 for total in totals), 0)


def draw_additions(additions: Sequence[Addition], scale_pf: int, *, words: str, name: str) -> str:
    """One SVG element, safe to put into a page as it is; what is not known takes no room on it."""
    shapes: list[Shape] = []
    at = 0
    for one in additions:
        if one.pf:
            shapes.append(_draw_piece(one, _x(at, scale_pf), _x(at + one.pf, scale_pf)))
            at += one.pf
    shapes += _draw_bands(scale_pf)
    return to_svg(_wrap(shapes, words, name))


def _x(pf: float, scale_pf: int) -> float:
    return LEFT + (RIGHT - LEFT) * pf / scale_pf


def _draw_piece(one: Addition, left: float, right: float) -> Shape:
    area = Area(left, TOP, right - left, HIGH)
    shapes = [hint(f"{one.ref}: {one.pf} pF"), rectangle(area, EDGE.look(UNIT))]
    if one.kind == PATCH:
        shapes += _hatch(area)
    elif one.kind in (WIRING, INPUT):
        shapes.append(rectangle(area, (WIRED if one.kind == WIRING else LOADED).look(0)))
    if one.kind in (LEAD, PATCH) and measure(one.ref, LETTER, REF.face) < area.width - 2:
        shapes.append(write(REF, LETTER, one.ref, left + area.width / 2, TOP - 5))
    return group(shapes, class_="d-piece", data_ref=one.ref)


def _hatch(area: Area) -> Iterator[Shape]:
    count = int(area.width / HATCH_STEP)
    for step in range(1, count + 1):
        x = area.x + step * area.width / (count + 1)
        yield polyline([(x, area.y), (x, area.bottom)], STRIPE.look(UNIT))


def _draw_bands(scale_pf: int) -> Iterator[Shape]:
    """Ticks at the limits of the bands, so that the bar reads against them."""
    bottom = TOP + HIGH
    yield polyline([(LEFT, bottom), (RIGHT, bottom)], TICK.look(UNIT))
    limits = [_limit(band.most_pf) for band in BANDS if band.most_pf is not None]
    for pf in (0, *limits):
        x = _x(pf, scale_pf)
        yield polyline([(x, bottom), (x, bottom + 5)], TICK.look(UNIT))
        anchor = "start" if pf == 0 else "middle"
        yield write(MEASURE, LETTER, str(pf), x, bottom + 17, anchor)
    yield write(MEASURE, LETTER, _("%s pF") % scale_pf, RIGHT, bottom + 17, "end")


def _limit(most_pf: int) -> int:
    """Where the next band begins, in round figures: up to 299 is below 300."""
    return most_pf if most_pf % 100 == 0 else most_pf + 1


def _wrap(shapes: Sequence[Shape], words: str, name: str) -> Shape:
    width, height = number(WIDTH), number(HEIGHT)
    attributes = (
        ("xmlns", "http://www.w3.org/2000/svg"),
        ("class", "response-bar"),
        ("viewBox", f"0 0 {width} {height}"),
        ("width", width),
        ("height", height),
        ("role", "img"),
        ("aria-labelledby", f"{name}-title"),
    )
    told = Shape("title", (("id", f"{name}-title"),), text=words)
    return Shape("svg", attributes, (told, *shapes))
