"""How high things stand on the frame, and what stays free between them and the closed lid."""

from boardshop.core.layout.standing import Body, list_bodies
from boardshop.core.plan import BoardPlan, Frame


def standing_height(body: Body, frame: Frame) -> int:
    """Of the highest tier that a body lies on, above the frame's top."""
    met = [tier.height for tier in frame.tiers if tier.from_y < body.box.y1 and body.box.y0 < tier.to_y]
    return max(met, default=0)


def lid_spare(body: Body, frame: Frame) -> int | None:
    """Free mm between a body and the closed lid, negative where it does not close; None where unknown."""
    if frame.lid is None or body.height is None:
        return None
    return frame.lid - standing_height(body, frame) - body.height


def least_lid_spare(plan: BoardPlan) -> tuple[Body, int] | None:
    """The body that comes nearest to the lid, the first of equals; None where nothing is known."""
    known = [(body, spare) for body in list_bodies(plan) if (spare := lid_spare(body, plan.frame)) is not None]
    return min(known, key=lambda one: one[1], default=None)
