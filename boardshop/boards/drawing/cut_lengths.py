"""Lengths of cable with the pieces that are cut from them, all to one scale.

A length from which much is cut goes on in further rows; a rest that is far longer is broken off, as ISO 128
breaks a long part.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from boardshop.boards.drawing.pens import BODY, DIMENSION, HATCH, HIDDEN, MEASURE, NOTE, REF, Letter
from boardshop.boards.drawing.shapes import Area, Shape, group, hint, number, polyline, rectangle, to_svg
from boardshop.boards.drawing.words import fit_letter, write, write_in
from boardshop.core.lengths import length_figure, show_length

WIDTH = 170.0
"""Of the whole drawing, mm on paper; so narrow that letters of 2.4 mm read at the width of a desk's panel."""
LEFT, RIGHT = 31.0, 4.0
BAR, STEP, TOP = 7.0, 17.0, 5.0
"""Height of a length, from one to the next, and above the first; mm on paper."""
LEFT_SHOWN = 1.18
"""So much of a length is drawn beyond the longest sum of pieces, before it is broken off."""
ROW_MM = 900
"""So much cable stands in one row, or one piece that is longer."""
BESIDE = 26
"""Room for what is left in words beside a bar."""
LEAST_WORDS = 6.0
"""A piece narrower than this, mm on paper, has its ref only as a hint."""


@dataclass(frozen=True, slots=True)
class DrawnLength:
    """One length: its name, how long it is, its pieces as (name, mm), and what is left; all mm of cable."""

    name: str
    kind: str
    length: int
    trim: int
    pieces: tuple[tuple[str, int], ...]
    kerf: int
    kept: int


def draw_lengths(lengths: Sequence[DrawnLength], length_unit: str = "mm", name: str = "cut-lengths") -> str:
    """SVG text; blank where there is nothing to draw."""
    if not lengths:
        return ""
    scale = (WIDTH - LEFT - RIGHT) / _extent(lengths)
    rows = [row for one in lengths for row in _rows_of(one)]
    shapes = [_draw(row, TOP + STEP * n, scale, length_unit) for n, row in enumerate(rows)]
    height = TOP + STEP * len(rows)
    title = Shape("title", (("id", f"{name}-title"),), text=_("Lengths and their pieces"))
    words = Shape("desc", (("id", f"{name}-words"),), text=_describe(lengths, length_unit))
    attributes = (
        ("xmlns", "http://www.w3.org/2000/svg"),
        ("class", "cut-drawing"),
        ("viewBox", f"0 0 {number(WIDTH)} {number(height)}"),
        ("role", "img"),
        ("aria-labelledby", f"{name}-title"),
        ("aria-describedby", f"{name}-words"),
    )
    return to_svg(Shape("svg", attributes, (title, words, *shapes)))


@dataclass(frozen=True, slots=True)
class _Row:
    """Some pieces of a length; the rest of it stands behind the last ones."""

    of: DrawnLength
    pieces: tuple[tuple[str, int], ...]
    is_first: bool
    is_last: bool

    @property
    def trim(self) -> int:
        return self.of.trim if self.is_first else 0

    @property
    def taken_mm(self) -> int:
        return self.trim + sum(mm + self.of.kerf for _name, mm in self.pieces)


def _extent(lengths: Sequence[DrawnLength]) -> float:
    """How many mm of cable the drawing is wide."""
    most = max(row.taken_mm for one in lengths for row in _rows_of(one))
    return max(1.0, min(most * LEFT_SHOWN, max(one.length for one in lengths)))


def _rows_of(one: DrawnLength) -> list[_Row]:
    """The pieces in rows of at most ROW_MM, in their order."""
    rows: list[list[tuple[str, int]]] = [[]]
    taken = one.trim
    for name, mm in one.pieces:
        if rows[-1] and taken + mm + one.kerf > ROW_MM:
            rows.append([])
            taken = 0
        rows[-1].append((name, mm))
        taken += mm + one.kerf
    return [_Row(one, tuple(row), n == 0, n == len(rows) - 1) for n, row in enumerate(rows)]


def _cut_mm(one: DrawnLength) -> int:
    return one.trim + sum(mm + one.kerf for _name, mm in one.pieces)


def _draw(row: _Row, y: float, scale: float, unit: str) -> Shape:
    one = row.of
    shapes = _label(one, y, unit) if row.is_first else []
    x = LEFT
    if row.trim:
        shapes.append(_stretch(x, y, row.trim * scale, HATCH.name, _("trim")))
        x += row.trim * scale
    for name, mm in row.pieces:
        shapes.append(_piece(x, y, mm * scale, name, mm, unit))
        x += (mm + one.kerf) * scale
    if row.is_last:
        return group([*shapes, *_rest(one, min(x, WIDTH - RIGHT), y, scale, unit)])
    return group([*shapes, _goes_on(min(x, WIDTH - RIGHT), y)])


def _goes_on(x: float, y: float) -> Shape:
    """The length goes on in the row below."""
    return group([hint(_("goes on below")), _broken(x, y)])


def _broken(x: float, y: float) -> Shape:
    zigzag = [(x, y - 1), (x - 1, y + BAR * 0.4), (x + 1, y + BAR * 0.6), (x, y + BAR + 1)]
    return polyline(zigzag, DIMENSION.look(1))


def _label(one: DrawnLength, y: float, unit: str) -> list[Shape]:
    """Name and length at the left."""
    lines = [(REF, one.name), (MEASURE, show_length(one.length, unit))]
    shapes = []
    for n, (letter, words) in enumerate(lines):
        box = Area(0, y + BAR / 2 * n, LEFT - 2, BAR / 2)
        shapes += _fitted(box, letter, words)
    return shapes


def _piece(x: float, y: float, width: float, name: str, mm: int, unit: str) -> Shape:
    box = Area(x, y, width, BAR)
    shapes = [hint(f"{name}, {show_length(mm, unit)}"), rectangle(box, BODY.look(1))]
    if width >= LEAST_WORDS:
        shapes += _fitted(Area(x + 0.5, y, width - 1, BAR), REF, name)
    figure = length_figure(mm, unit)
    if width >= LEAST_WORDS:
        shapes.append(write(MEASURE, MEASURE.least, figure, x + width / 2, y + BAR + 3.6))
    return group(shapes)


def _rest(one: DrawnLength, x: float, y: float, scale: float, unit: str) -> list[Shape]:
    """What is left: kept or waste, broken off where it does not fit the drawing."""
    left = one.length - _cut_mm(one)
    if left <= 0:
        return []
    edge = WIDTH - RIGHT
    is_broken = x + left * scale > edge + 0.01
    end = edge if is_broken else x + left * scale
    says = _("kept %(mm)s") if one.kept else _("waste %(mm)s")
    words = says % {"mm": show_length(one.kept or left, unit)}
    shapes = [hint(words), rectangle(Area(x, y, end - x, BAR), HIDDEN.look(1))]
    if is_broken:
        shapes.append(_broken(end, y))
    if end - x < 2 * LEAST_WORDS and end + BESIDE < WIDTH:
        # Beside the bar: below it they would run into the last piece's figure.
        shapes.append(write(NOTE, NOTE.height, words, end + 1.5, y + BAR * 0.65, "start"))
    else:
        anchor, at = ("end", end) if end - x < 2 * LEAST_WORDS else ("middle", (x + end) / 2)
        shapes.append(write(NOTE, NOTE.height, words, at, y + BAR + 3.6, anchor))
    return [group(shapes)]


def _stretch(x: float, y: float, width: float, name: str, words: str) -> Shape:
    return group([hint(words), rectangle(Area(x, y, width, BAR), HATCH.look(1), **{"data-of": name})])


def _fitted(box: Area, letter: Letter, words: str) -> list[Shape]:
    lettering = fit_letter(words, letter, 1, box.width, box.height)
    return write_in(box, letter, lettering, words, backed=False)


def _describe(lengths: Sequence[DrawnLength], unit: str) -> str:
    said = []
    for one in lengths:
        count = len(one.pieces)
        pieces = ngettext("%(n)d piece", "%(n)d pieces", count) % {"n": count}
        said.append(f"{one.name}, {show_length(one.length, unit)}: {pieces}")
    return "; ".join(said)
