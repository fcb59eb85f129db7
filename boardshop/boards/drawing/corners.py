"""The frame's four corners by name, the front right one filled: it tells a view from its mirror."""

from django.utils.translation import gettext as _

from boardshop.boards.drawing.pens import DOT, NOTE
from boardshop.boards.drawing.shapes import Shape, group, polygon
from boardshop.boards.drawing.sheet import Sheet
from boardshop.boards.drawing.words import write

CORNER = 3.2
"""Edge of the filled corner, mm on paper."""


def draw_corners(sheet: Sheet) -> Shape:
    """As the player calls them: F-R is at the front on the right, in a mirrored view on the left."""
    unit, frame = sheet.unit, sheet.frame
    size = NOTE.least * unit
    names = {
        (frame.width, 0): _("F-R"),
        (0, 0): _("F-L"),
        (0, frame.depth): _("R-L"),
        (frame.width, frame.depth): _("R-R"),
    }
    shapes: list[Shape] = []
    for (along, deep), words in names.items():
        x, y = sheet.point(along, deep)
        is_left = x < sheet.frame_area.middle[0]
        out, anchor = (-1.2, "end") if is_left else (1.2, "start")
        down = -1.2 if deep == 0 else 2.8
        shapes.append(write(NOTE, size, words, x + out * unit, y + down * unit, anchor))
        if (along, deep) == (frame.width, 0):
            inward = CORNER * unit * (1 if is_left else -1)
            corner = [(x, y), (x + inward, y), (x, y - CORNER * unit)]
            shapes.append(polygon(corner, DOT.look(unit)))
    return group(shapes, class_="d-ground")
