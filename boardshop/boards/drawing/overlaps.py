"""Where two bodies claim the same room: on the frame, or two supplies under it."""

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import combinations

from boardshop.core.layout.geometry import Box, overlaps
from boardshop.core.layout.standing import list_bodies
from boardshop.core.layout.supply_checks import list_under
from boardshop.core.plan import BoardPlan


@dataclass(frozen=True, slots=True)
class Overlap:
    """The room that `one` and `other` share; each is what the drawing calls it."""

    box: Box
    one: str
    other: str

    @property
    def names(self) -> dict[str, str]:
        return {"one": self.one, "other": self.other}


def find_overlaps(plan: BoardPlan, called: Mapping[str, str]) -> tuple[Overlap, ...]:
    """Every pair, in the plan's order; `called` by ref, the ref itself where it is not in there."""
    on_top = [(body.ref, body.box) for body in list_bodies(plan)]
    under = [(placed.supply.ref, placed.box) for placed in list_under(plan)]
    return tuple(
        Overlap(_shared(box, other), called.get(ref, ref), called.get(other_ref, other_ref))
        for level in (on_top, under)
        for (ref, box), (other_ref, other) in combinations(level, 2)
        if overlaps(box, other)
    )


def _shared(one: Box, other: Box) -> Box:
    return Box(max(one.x0, other.x0), max(one.y0, other.y0), min(one.x1, other.x1), min(one.y1, other.y1))
