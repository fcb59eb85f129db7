"""How far from the front a pedal may stand: frame, tier, lid, rails and, for a treadle, the front edge."""

from boardshop.core.layout.geometry import Box
from boardshop.core.layout.rules import RAIL_HOLD_MM, RAILS_HOLDING, TREADLE_EDGE_MM
from boardshop.core.plan import BoardPlan, Frame, Pedal

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
        and _on_a_tier(frame, body, y, pedal.height)
        and not (pedal.treadle and y > TREADLE_EDGE_MM)
        for y in range(min(frame.depth, LARGEST_MM) + 1)
    ]
    held = [is_allowed and is_on_rails(frame, body, y) for y, is_allowed in enumerate(allowed)]
    return tuple(held if any(held) else allowed)


def is_on_rails(frame: Frame, body: Box, y: int) -> bool:
    if frame.surface != "slotted" or not frame.rails:
        return True
    holds = [min(rail.to_y, body.y1 + y) - max(rail.from_y, body.y0 + y) for rail in frame.rails]
    return sum(hold >= RAIL_HOLD_MM for hold in holds) >= RAILS_HOLDING


def _on_a_tier(frame: Frame, body: Box, y: int, height: int | None) -> bool:
    """Wholly on one tier, and below the lid there where both heights are recorded."""
    tiers = [tier for tier in frame.tiers if tier.from_y <= body.y0 + y and body.y1 + y <= tier.to_y]
    if frame.tiers and not tiers:
        return False
    if frame.lid is None or height is None:
        return True
    standing = max((tier.height for tier in tiers), default=0)
    return standing + height <= frame.lid
