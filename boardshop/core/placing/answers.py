"""What a search for places is asked, what it answers, and how it is watched."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from boardshop.core.layout.geometry import Box
from boardshop.core.plan import Frame, Place


@dataclass(frozen=True, slots=True)
class Wishes:
    """What is asked beside the plan.

    ``seconds`` sizes the work, which is fixed: about so many seconds on two cores, never a clock.
    ``staying`` are refs that keep their present place as pinned ones do.  ``reserved`` are rooms, width by
    depth in mm and free to turn, that are to stay empty for a later pedal.
    """

    seconds: int = 5
    seed: int = 0
    staying: tuple[str, ...] = ()
    reserved: tuple[tuple[int, int], ...] = ()


USUAL_WISHES = Wishes()
MOST_SECONDS = 3600


@dataclass(frozen=True, slots=True)
class Placing:
    """One answer: places in the plan's order, fixed ones included.

    ``score`` and ``total_mm`` (the cable) are of the pedals that are placed; no placing of all pedals has a
    score below ``bound``.  ``why`` is empty when all are placed.  ``reserved`` is where the asked rooms lie.
    """

    places: tuple[tuple[str, Place], ...]
    left_out: tuple[str, ...]
    why: str
    score: int
    total_mm: int
    optimal: bool
    bound: int
    reserved: tuple[Box, ...] = ()


@dataclass(frozen=True, slots=True)
class Progress:
    percent: int
    best: Placing | None


@dataclass(frozen=True, slots=True)
class NamedFrame:
    """A frame of the catalogue; points and tiers that it lacks are filled in where it is used."""

    name: str
    frame: Frame


@dataclass(frozen=True, slots=True)
class FrameAnswer:
    named: NamedFrame
    placing: Placing


@dataclass(frozen=True, slots=True)
class Cure:
    """The least change found with which all fit, and the placing that it allows.

    ``subject`` is the ref of a pedal or plug, or a frame's name.
    """

    kind: Literal["leave out", "turn", "plug", "frame"]
    subject: str
    sentence: str
    placing: Placing


type Watch = Callable[[Progress], bool]
"""Asked several times a second; False ends the search, which then answers with the best so far."""
