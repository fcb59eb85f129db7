"""Signs of what changed: a white letter on an inked square, at a part, on a pennant and in the key."""

from boardshop.boards.drawing.pens import SIGN, SIGN_LETTER
from boardshop.boards.drawing.shapes import Shape, around, rectangle
from boardshop.boards.drawing.words import write

SIGN_SIZE = 3.2
"""Edge of a sign, mm on paper."""
SIGN_STEP = 1.15 * SIGN_SIZE
"""From one sign to the next."""


def draw_sign(letter: str, x: float, y: float, unit: float) -> list[Shape]:
    """The sign with its middle at (x, y)."""
    size, height = SIGN_SIZE * unit, SIGN_LETTER.height * unit
    square = rectangle(around(x, y, size, size), SIGN.look(unit))
    return [square, write(SIGN_LETTER, height, letter, x, y + 0.35 * height)]


def draw_signs(letters: str, left: float, y: float, unit: float) -> list[Shape]:
    """One beside the other from the left."""
    size, step = SIGN_SIZE * unit, SIGN_STEP * unit
    return [
        shape
        for at, letter in enumerate(letters)
        for shape in draw_sign(letter, left + step * at + size / 2, y, unit)
    ]
