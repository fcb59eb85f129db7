"""What a search for places is asked, what it answers, and how it is watched."""

from collections.abc import Callable
from dataclasses import dataclass

from boardshop.core.layout.geometry import Box
from boardshop.core.plan import Place


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


type Watch = Callable[[Progress], bool]
"""Asked several times a second; False ends the search, which then answers with the best so far."""
