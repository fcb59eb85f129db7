"""Whether a whole page or a part of it is the answer: crew decides it for all apps."""

from boardshop.crew.answers import render_part, wants_part

__all__ = ["render_part", "wants_part"]
