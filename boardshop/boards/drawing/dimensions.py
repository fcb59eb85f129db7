"""Dimension lines with their arrows and figures, in any direction (ISO 129)."""

from math import atan2, cos, degrees, hypot, pi, sin

from boardshop.boards.drawing.pens import ARROW, DIMENSION, KNOCKOUT, MEASURE, Letter, Pen
from boardshop.boards.drawing.shapes import Shape, around, polygon, polyline, rectangle
from boardshop.boards.drawing.words import text_area, write

type Spot = tuple[float, float]

HEAD = 2.4
"""Length of an arrow's head, mm on paper."""


def arrow_head(tail: Spot, tip: Spot, unit: float, pen: Pen = ARROW) -> Shape:
    """A filled arrow with its point at the tip, slim at a dimension, broad at a lead."""
    (x0, y0), (x1, y1) = tail, tip
    along = hypot(x1 - x0, y1 - y0)
    ux, uy = (x1 - x0) / along, (y1 - y0) / along
    back, half = HEAD * unit, (0.45 if pen is ARROW else 0.9) * unit
    base = (x1 - ux * back, y1 - uy * back)
    wings = ((base[0] + uy * half, base[1] - ux * half), (base[0] - uy * half, base[1] + ux * half))
    return polygon([tip, *wings], pen.look(unit))


def arrow_line(one: Spot, other: Spot, unit: float) -> list[Shape]:
    """A line between two points with an arrow at each end; from outside where it is too short for both."""
    long = hypot(other[0] - one[0], other[1] - one[1])
    if long >= 2 * HEAD * unit:
        line = polyline([one, other], DIMENSION.look(unit))
        return [line, arrow_head(other, one, unit), arrow_head(one, other, unit)]
    if long == 0:
        return []
    reach = (HEAD + 1.6) * unit / long
    before = one[0] - (other[0] - one[0]) * reach, one[1] - (other[1] - one[1]) * reach
    after = other[0] + (other[0] - one[0]) * reach, other[1] + (other[1] - one[1]) * reach
    line = polyline([before, after], DIMENSION.look(unit))
    return [line, arrow_head(before, one, unit), arrow_head(after, other, unit)]


def write_along(
    one: Spot, other: Spot, words: str, unit: float, off: float = 0.9, letter: Letter = MEASURE
) -> Shape:
    """The figure of a dimension in the middle of its line, above it and turned with it (ISO 129)."""
    (x0, y0), (x1, y1) = sorted((one, other))
    size = letter.height * unit
    angle = atan2(y1 - y0, x1 - x0)
    if degrees(angle) > 45:
        angle -= pi
    middle = (x0 + x1) / 2, (y0 + y1) / 2
    shift = off * unit
    up = (sin(angle) * shift, -cos(angle) * shift)
    x, y = middle[0] + up[0], middle[1] + up[1]
    shape = write(letter, size, words, x, y)
    if abs(angle) < 1e-9:
        return shape
    turned = ("transform", f"rotate({degrees(angle):.2f} {x:.2f} {y:.2f})")
    return Shape("text", (*shape.attributes, turned), text=words)


def backed(letter: Letter, words: str, x: float, y: float, unit: float) -> list[Shape]:
    """One line centred on (x, y), on a paper-coloured ground that interrupts lines beneath."""
    area = text_area(words, letter, unit, x, y)
    size = letter.height * unit
    ground = rectangle(around(x, y, area.width + 0.8 * unit, area.height), KNOCKOUT.look(0))
    return [ground, write(letter, size, words, x, y + 0.34 * size)]
