"""Shapes of numbers that the field tables share."""

from boardshop.core import vocabulary as words
from boardshop.core.boardfile.shapes import Whole, WholeOf

ANY = Whole()
AMOUNT = Whole(least=0)
"""An electrical value, a mass, a count, a rule: zero or more."""

SIZE = Whole(least=1)
"""A length, width, depth or height that a thing has."""

AWG = Whole(least=0, most=56)
"""The gauges of ASTM B258 without the 00 to 0000 that no DC lead has."""

TURN = WholeOf(words.TURNS)
