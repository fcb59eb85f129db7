"""Signs for direct and alternating current at a supply's sides: IEC 60417-5031 and 60417-5032."""

from boardshop.boards.drawing.pens import DIMENSION
from boardshop.boards.drawing.shapes import Shape, number, polyline

SIGN = 3.0
"""Width of a sign, mm on paper."""


def draw_direct(x: float, y: float, unit: float) -> list[Shape]:
    """A whole line over a broken one, with its middle at (x, y)."""
    look, half, rise = DIMENSION.look(unit), SIGN / 2 * unit, 0.45 * unit
    parts = [(-1.0, -0.5), (-0.25, 0.25), (0.5, 1.0)]
    broken = [
        polyline([(x + low * half, y + rise), (x + high * half, y + rise)], look) for low, high in parts
    ]
    return [polyline([(x - half, y - rise), (x + half, y - rise)], look), *broken]


def draw_alternating(x: float, y: float, unit: float) -> Shape:
    """One wave, with its middle at (x, y)."""
    half, rise = SIGN / 2 * unit, 1.6 * unit
    start = f"M{number(x - half)} {number(y)}"
    up = f"Q{number(x - half / 2)} {number(y - rise)} {number(x)} {number(y)}"
    down = f"Q{number(x + half / 2)} {number(y + rise)} {number(x + half)} {number(y)}"
    return Shape("path", (*DIMENSION.look(unit), ("d", start + up + down)))
