"""How far from the front a pedal may stand: frame, tier, lid, rails and, for a treadle, the front edge."""

from boardshop.core.layout.carrying import fits_on_a_tier, is_carried
from boardshop.core.layout.geometry import Box
from boardshop.core.layout.rules import TREADLE_EDGE_MM
from boardshop.core.plan import BoardPlan, Pedal

LARGEST_MM = 4_000
"""How much of a frame is searched, from its left and from its front: no board is as large, and every place
counts."""


def list_depths(plan: BoardPlan, pedal: Pedal, body: Box, room: Box) -> tuple[bool, ...]:
    """For each y of the place from 0 on, whether it may stand there.

    ``body`` and ``room`` (all that must lie on the frame) are as seen from the place.  Rails bind only where
    some place on them exists, as a small pedal on a wide gap may take a plate.
    """
    frame = plan.frame
    allowed = [
        room.y0 + y >= 0
        and room.y1 + y <= frame.depth
        and fits_on_a_tier(frame, body.moved(0, y), pedal.height)
        and not (pedal.treadle and y > TREADLE_EDGE_MM)
        for y in range(min(frame.depth, LARGEST_MM) + 1)
    ]
    held = [is_allowed and is_carried(frame, body.moved(0, y)) for y, is_allowed in enumerate(allowed)]
    return tuple(held if any(held) else allowed)
