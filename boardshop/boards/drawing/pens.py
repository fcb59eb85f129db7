"""Line kinds, weights and lettering, in mm on paper.

Widths are members of the series of ISO 128 (0.13, 0.18, 0.25, 0.35, 0.5, 0.7).
Runs are what a board is drawn for, so they are the widest.
Dashes are shorter than ISO 128's: a run under the frame must show as one at the size of a pedal.
The colours are those of the light theme in static/css/tokens.css; a test holds the two together.
"""

from dataclasses import dataclass

from boardshop.boards.drawing.lettering import Face
from boardshop.boards.drawing.shapes import Attributes

INK = "#17212b"
SECOND_INK = "#4b5864"
RULE = "#c5ccd2"
PAPER = "#ffffff"
BLUE = "#0b5394"
SLOT_TINT = "#f4f2ec"


@dataclass(frozen=True, slots=True)
class Pen:
    """``name`` is the class a style sheet sees; width and dashes in mm on paper."""

    name: str
    width: float
    stroke: str = INK
    fill: str = "none"
    dashes: tuple[float, ...] = ()

    def look(self, unit: float, *states: str) -> Attributes:
        """The attributes of a line of this pen where one mm of paper is ``unit`` mm of board."""
        look: Attributes = (
            ("class", " ".join((self.name, *states))),
            ("fill", self.fill),
            ("stroke", self.stroke),
            ("stroke-width", self.width * unit),
        )
        if self.dashes:
            look = (*look, ("stroke-dasharray", " ".join(f"{d * unit:.2f}" for d in self.dashes)))
        return look


FRAME = Pen("d-frame", 0.5)
RAIL = Pen("d-rail", 0.18, RULE)
TIER = Pen("d-tier", 0.25, SECOND_INK, dashes=(4, 0.8, 0.5, 0.8))
KEEPOUT = Pen("d-keepout", 0.25, SECOND_INK, dashes=(1.5, 0.8))
HATCH = Pen("d-hatch", 0.18, RULE)
MEMBER = Pen("d-member", 0.35, SECOND_INK, fill=PAPER)
MEMBER_HIDDEN = Pen("d-member is-under", 0.25, SECOND_INK, dashes=(1.6, 1))
OVERLAP = Pen("d-overlap", 0.25)
BODY = Pen("d-body", 0.35, fill=PAPER)
PLUG = Pen("d-plug", 0.18, fill=PAPER)
JACK = Pen("d-jack", 0.6)
SWITCH = Pen("d-switch", 0.25, fill=PAPER)
RUN = Pen("d-run", 0.5)
RUN_UNDER = Pen("d-run is-under", 0.5, dashes=(2.4, 1.2))
SUPPLY = Pen("d-supply", 0.35, fill=PAPER)
SUPPLY_UNDER = Pen("d-supply is-under", 0.35, SECOND_INK, dashes=(1.6, 1))
BALLOON = Pen("d-balloon", 0.35, fill=PAPER)
FLAG = Pen("d-flag", 0.25, fill=PAPER)
DIMENSION = Pen("d-dimension", 0.18, SECOND_INK)
ARROW = Pen("d-arrow", 0, SECOND_INK, fill=SECOND_INK)
LEAD_ARROW = Pen("d-dot", 0, INK, fill=INK)
DOT = Pen("d-dot", 0, INK, fill=INK)
SLOT = Pen("d-slot", 0, "none", fill=SLOT_TINT)
STROKE = Pen("d-stroke", 0.25, SECOND_INK, dashes=(4, 0.8, 0.5, 0.8, 0.5, 0.8))
"""Of what moves, a line of long dashes and two dots."""
LID = Pen("d-lid", 0.35, INK, dashes=(4, 0.8, 0.5, 0.8))
FLOOR = Pen("d-floor", 0.35)
HIDDEN = Pen("d-hidden", 0.25, SECOND_INK, dashes=(1.6, 1))
OPEN = Pen("d-open", 0.35, INK, dashes=(2, 1.2))
DECK = Pen("d-frame is-deck", 0.7)
CASE = Pen("d-frame is-case", 0.25)
PASS = Pen("d-pass", 0.25, fill=PAPER)
AIR_LINE = Pen("d-air", 0.35, dashes=(0.9, 0.9))
BLOCKER = Pen("d-blocker", 0.7, dashes=(1.8, 0.9))
CHOSEN_PLUG = Pen("d-chosen", 0.6)
HIT = Pen("d-way-hit", 0, "none")
MEASURED = Pen("d-measured", 0.35, BLUE)
GHOST = Pen("d-ghost", 0.35, SECOND_INK, dashes=(2, 1.2))
NEW = Pen("d-new", 0.25)
MOVE = Pen("d-move", 0.35, SECOND_INK)
FOUND = Pen("d-found", 0.5)
FOUND_OPEN = Pen("d-found", 0.5, dashes=(1.8, 1))
TAG = Pen("d-tag", 0.25, fill=PAPER)
SIGN = Pen("d-dot", 0, INK, fill=INK)
KNOCKOUT = Pen("d-knockout", 0, "none", fill=PAPER)


@dataclass(frozen=True, slots=True)
class Letter:
    """A kind of lettering; ``height`` is the type size in mm on paper, ``least`` how far it may shrink."""

    name: str
    face: Face
    height: float
    least: float
    fill: str = INK


NAME = Letter("d-name", Face("next", 600), 2.8, 1.9)
NUMBER = Letter("d-number", Face("next", 700), 2.8, 1.7)
REF = Letter("d-ref", Face("mono", 400), 2.4, 2.4)
MEASURE = Letter("d-measure", Face("mono", 400), 2.7, 2.7)
SIGN_LETTER = Letter("d-sign", Face("next", 700), 2.4, 2.4, PAPER)
NOTE = Letter("d-note", Face("next", 400), 2.5, 1.9, SECOND_INK)
