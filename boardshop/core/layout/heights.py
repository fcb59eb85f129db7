"""How high things stand on the frame, and what stays free between them and the closed lid."""

from collections.abc import Iterator
from dataclasses import dataclass

from boardshop.core.layout.standing import Body, list_bodies, tier_height
from boardshop.core.plan import BoardPlan, Frame


@dataclass(frozen=True, slots=True)
class LidRoom:
    """What is free over a body: ``top`` is its height above the frame's top; ``spare`` may be negative.

    ``is_toe`` for a treadle's toe, as it is parked.
    """

    body: Body
    top: int
    spare: int
    is_toe: bool = False


def lid_spare(body: Body, frame: Frame) -> int | None:
    """Free mm between a body and the closed lid, negative where it does not close; None where unknown."""
    return None if body.height is None else _spare(body, body.height, frame)


def toe_spare(body: Body, frame: Frame) -> int | None:
    """The same over a treadle's toe; None for what is no treadle, too."""
    pedal = body.pedal
    if pedal is None or not pedal.treadle or pedal.toe_height is None:
        return None
    return _spare(body, pedal.toe_height, frame)


def least_lid_room(plan: BoardPlan) -> LidRoom | None:
    """What comes nearest to the lid, the first of equals; None where nothing is known."""
    rooms = (room for body in list_bodies(plan) for room in _rooms(body, plan.frame))
    return min(rooms, key=lambda room: room.spare, default=None)


def _spare(body: Body, height: int, frame: Frame) -> int | None:
    return None if frame.lid is None else frame.lid - tier_height(body, frame) - height


def _rooms(body: Body, frame: Frame) -> Iterator[LidRoom]:
    if frame.lid is None:
        return
    for spare, is_toe in ((lid_spare(body, frame), False), (toe_spare(body, frame), True)):
        if spare is not None:
            yield LidRoom(body, frame.lid - spare, spare, is_toe)
