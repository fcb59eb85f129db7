"""The key of a comparison: what its signs mean, and what changed without being on the drawing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from boardshop.boards.drawing.badges import SIGN_STEP, draw_signs
from boardshop.boards.drawing.lettering import measure
from boardshop.boards.drawing.pens import NOTE
from boardshop.boards.drawing.shapes import Shape, group
from boardshop.boards.drawing.sheet import LEFT, Sheet
from boardshop.boards.drawing.words import write

KEY_STEP, KEY_GAP = 5.0, 8.0
"""Distance of the key's rows and of its entries, mm on paper."""


@dataclass(frozen=True, slots=True)
class Entry:
    """Signs with words; `of` is the ref of what they mark, where it is nowhere else on the drawing."""

    signs: str
    words: str
    of: str = ""
    begins_row: bool = False


def draw_key(entries: Sequence[Entry], sheet: Sheet) -> tuple[Shape, float]:
    """Row by row below all else, and the height it takes."""
    unit, left = sheet.unit, LEFT * sheet.unit
    x, row = left, 0
    shapes: list[Shape] = []
    for entry in entries:
        wide = _width(entry, unit)
        if x > left and (entry.begins_row or x + wide > sheet.width - unit):
            x, row = left, row + 1
        y = sheet.height + (row + 0.5) * KEY_STEP * unit
        shapes.append(_draw_entry(entry, x, y, unit, sheet.width - x - unit))
        x += wide + KEY_GAP * unit
    return group(shapes, class_="d-key"), (row + 1.4) * KEY_STEP * unit


def _signs_width(entry: Entry, unit: float) -> float:
    return (SIGN_STEP * len(entry.signs) + (0.7 if entry.signs else 0)) * unit


def _width(entry: Entry, unit: float) -> float:
    return _signs_width(entry, unit) + measure(entry.words, NOTE.height * unit, NOTE.face)


def _draw_entry(entry: Entry, x: float, y: float, unit: float, room: float) -> Shape:
    size = NOTE.height * unit * min(1.0, room / max(_width(entry, unit), 0.01))
    words = write(NOTE, size, entry.words, x + _signs_width(entry, unit), y + 0.35 * size, "start")
    marked = {"data_of": entry.of, "data_signs": entry.signs} if entry.of else {}
    return group([*draw_signs(entry.signs, x, y, unit), words], **marked)
