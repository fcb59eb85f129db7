"""How high things stand on the frame, and what stays free between them and the closed lid."""

from boardshop.core.layout.standing import Body, list_bodies, tier_height
from boardshop.core.plan import BoardPlan, Frame


def lid_spare(body: Body, frame: Frame) -> int | None:
    """Free mm between a body and the closed lid, negative where it does not close; None where unknown."""
    if frame.lid is None or body.height is None:
        return None
    return frame.lid - tier_height(body, frame) - body.height


def least_lid_spare(plan: BoardPlan) -> tuple[Body, int] | None:
    """The body that comes nearest to the lid, the first of equals; None where nothing is known."""
    spares = ((body, lid_spare(body, plan.frame)) for body in list_bodies(plan))
    known = [(body, spare) for body, spare in spares if spare is not None]
    return min(known, key=lambda one: one[1], default=None)
