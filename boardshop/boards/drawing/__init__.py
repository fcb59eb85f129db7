"""The board as a workshop drawing: from the frozen plan to one SVG text, the same on screen and on paper.

`draw_board`, `draw_underside` and `draw_side` are the ways in.
Line kinds and weights follow ISO 128, item references ISO 6433, dimensions ISO 129, scales ISO 5455.
"""

from boardshop.boards.drawing.board import draw_board
from boardshop.boards.drawing.sheet import choose_scale, drawing_size
from boardshop.boards.drawing.side import draw_side
from boardshop.boards.drawing.underside import draw_underside

__all__ = ["choose_scale", "draw_board", "draw_side", "draw_underside", "drawing_size"]
