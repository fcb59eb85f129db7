"""The path of a foot: where a cable on top is stepped on or caught on the way to a foot switch.

A foot comes from the player: its path leads from the switch straight to the front edge, as wide as a shoe,
110 mm (common practice).  Over a body that stands in front it passes high above the top, so the path ends
where the first other body within a shoe's width begins; one beside the switch is none in front of it.  A shoe
is 300 mm long, most of a frame's depth, so the path is not cut short at its heel.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from boardshop.core.layout.geometry import Box, body_box, switch_points
from boardshop.core.plan import BoardPlan, Point

SHOE_WIDTH_MM = 110
"""Common practice."""


@dataclass(frozen=True, slots=True)
class FootPath:
    """``ref`` is the pedal whose switch the path leads to."""

    ref: str
    box: Box


@lru_cache(maxsize=32)
def list_foot_paths(plan: BoardPlan) -> tuple[FootPath, ...]:
    """One for each placed foot switch with some way in front of it."""
    bodies = [(pedal.ref, box) for pedal in plan.pedals if (box := body_box(pedal))]
    found = [
        FootPath(pedal.ref, _path_to(at, [box for ref, box in bodies if ref != pedal.ref]))
        for pedal in plan.pedals
        for at in switch_points(pedal)
    ]
    return tuple(path for path in found if path.box.depth > 0)


def _path_to(switch: Point, others: Sequence[Box]) -> Box:
    left, right = switch.x - SHOE_WIDTH_MM // 2, switch.x + SHOE_WIDTH_MM // 2
    before = (box.y1 for box in others if box.x0 < right and left < box.x1 and box.y1 <= switch.y)
    return Box(left, min(max(0, *before, 0), switch.y), right, switch.y)
