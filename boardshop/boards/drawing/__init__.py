"""The board as a workshop drawing: from the frozen plan to one SVG text, the same on screen and on paper.

`draw_board` is the way in.
Line kinds and weights follow ISO 128, item references ISO 6433, dimensions ISO 129, scales ISO 5455.
"""

from boardshop.boards.drawing.board import draw_board
from boardshop.boards.drawing.sheet import choose_scale, drawing_size

__all__ = ["choose_scale", "draw_board", "drawing_size"]
