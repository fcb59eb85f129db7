"""Whether a body stands firmly and below the lid at some depth: on one tier, on two rails."""

from boardshop.core.layout.geometry import Box
from boardshop.core.layout.rules import RAIL_HOLD_MM, RAILS_HOLDING
from boardshop.core.plan import Frame


def is_carried(frame: Frame, body: Box) -> bool:
    """Whether enough rails hold it; always on a frame without recorded rails."""
    if frame.surface != "slotted" or not frame.rails:
        return True
    holds = [min(rail.to_y, body.y1) - max(rail.from_y, body.y0) for rail in frame.rails]
    return sum(hold >= RAIL_HOLD_MM for hold in holds) >= RAILS_HOLDING


def fits_on_a_tier(frame: Frame, body: Box, height: int | None) -> bool:
    """Wholly on one tier, and under the lid there where both heights are recorded."""
    tiers = [tier for tier in frame.tiers if tier.from_y <= body.y0 and body.y1 <= tier.to_y]
    if frame.tiers and not tiers:
        return False
    standing = max((tier.height for tier in tiers), default=0)
    return frame.lid is None or height is None or standing + height <= frame.lid
