"""A measured distance on the drawing: the two outlines brought out, and a dimension line along each axis."""

from collections.abc import Callable

from boardshop.boards.drawing.dimensions import arrow_line, backed
from boardshop.boards.drawing.pens import DIMENSION, MEASURE, MEASURED
from boardshop.boards.drawing.shapes import Shape, circle, group, number, polyline, rectangle, to_svg
from boardshop.boards.drawing.sheet import Sheet
from boardshop.core.layout.geometry import Box
from boardshop.core.layout.measuring import Distance

type Over = Callable[[Sheet], Shape]
"""Draws above all else on a sheet that is laid out."""


def draw_measured(distance: Distance, sheet: Sheet) -> Shape:
    """Along x where something is free there, along y where it is there; straight where it is both."""
    unit = sheet.unit
    shapes = [_outline(box, sheet) for box in (distance.one, distance.other)]
    start, end = (sheet.point(point.x, point.y) for point in (distance.start, distance.end))
    corner = end[0], start[1]
    if distance.x > 0 and distance.y > 0:
        shapes.append(polyline([start, end], DIMENSION.look(unit)))
        shapes += [circle(x, y, 0.6 * unit, MEASURED.look(unit)) for x, y in (start, end)]
    if distance.x > 0:
        shapes += arrow_line(start, corner, unit)
        middle = (start[0] + corner[0]) / 2
        shapes += backed(MEASURE, sheet.measure(distance.x), middle, start[1] - 2.4 * unit, unit)
    if distance.y > 0:
        shapes += arrow_line(corner, end, unit)
        words = sheet.measure(distance.y)
        aside = (0.35 * MEASURE.height * len(words) + 1) * unit
        shapes += backed(MEASURE, words, end[0] + aside, (start[1] + end[1]) / 2, unit)
    return group(shapes, class_="d-measure-line")


def overlay(sheet: Sheet, over: Over) -> str:
    """What stands above a drawing, alone, as an SVG element of the same size."""
    size = f"0 0 {number(sheet.width)} {number(sheet.height)}"
    attributes = (("xmlns", "http://www.w3.org/2000/svg"), ("viewBox", size), ("aria-hidden", "true"))
    return to_svg(Shape("svg", attributes, (over(sheet),)))


def _outline(box: Box, sheet: Sheet) -> Shape:
    """An edge is a line."""
    area = sheet.area(box)
    if box.width and box.depth:
        return rectangle(area, MEASURED.look(sheet.unit))
    return polyline([(area.x, area.y), (area.right, area.bottom)], MEASURED.look(sheet.unit))
