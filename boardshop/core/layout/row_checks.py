"""The rear row over the front one: the foot comes from the front, so knobs there may be in its way.

Where knobs and switches are in height is not recorded: both are taken at their pedal's highest point, and
knobs anywhere up to the rear edge of theirs.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from boardshop.core.findings import Finding
from boardshop.core.layout.foot_checks import Switches
from boardshop.core.layout.missing import say_list
from boardshop.core.layout.rules import (
    DECK_CLEAR_MM,
    KNOB_CLEAR_MM,
    KNOB_RISE_MM,
    ROW_GAP_MM,
    layout_finding,
)
from boardshop.core.layout.standing import Body, tier_height
from boardshop.core.plan import Frame, Point


@dataclass(frozen=True, slots=True)
class Follower:
    """A pedal that is reached over another one, and how far its nearest switch is behind that in plan."""

    rear: Body
    front: Body
    behind_mm: int


def check_rows(frame: Frame, switches: Sequence[Switches], bodies: Sequence[Body]) -> Iterator[Finding]:
    unmeasured: dict[str, Body] = {}
    for pair in _followers(frame, switches, bodies):
        tops = [_top(body, frame) for body in (pair.rear, pair.front)]
        if tops[0] is None or tops[1] is None:
            unmeasured |= {body.ref: body for body in (pair.rear, pair.front) if body.height is None}
            continue
        yield from _judge(pair, tops[0] - tops[1])
    if unmeasured:
        message = (
            f"The height of {say_list([body.label for body in unmeasured.values()])} is not recorded, so "
            f"whether the foot clears the knobs of the row in front is not known."
        )
        yield layout_finding("L34", tuple(unmeasured), message)


def _followers(frame: Frame, switches: Sequence[Switches], bodies: Sequence[Body]) -> Iterator[Follower]:
    """Pairs in which one stands wholly behind the other and near enough for a rule to ask.

    Treadles have rules of their own; a supply has no knobs.
    """
    fronts = [body for body in bodies if body.pedal is not None and not body.pedal.treadle]
    for rear, points in switches:
        if rear.pedal is None or rear.pedal.treadle:
            continue
        for front in fronts:
            gap = rear.box.y0 - front.box.y1
            if 0 <= gap < ROW_GAP_MM:
                behind = min(_distance(point, front) for point in points)
                raised = tier_height(rear, frame) > tier_height(front, frame)
                if behind < KNOB_CLEAR_MM or (raised and _is_before(front, rear)):
                    yield Follower(rear, front, behind)


def _distance(switch: Point, front: Body) -> int:
    """The larger of the free distances in x and y."""
    box = front.box
    return max(box.x0 - switch.x, switch.x - box.x1, switch.y - box.y1)


def _is_before(front: Body, rear: Body) -> bool:
    return front.box.x0 < rear.box.x1 and rear.box.x0 < front.box.x1


def _top(body: Body, frame: Frame) -> int | None:
    return None if body.height is None else tier_height(body, frame) + body.height


def _judge(pair: Follower, higher: int) -> Iterator[Finding]:
    refs = (pair.rear.ref, pair.front.ref)
    level = f"{higher} mm higher" if higher >= 0 else f"{-higher} mm lower"
    if pair.behind_mm < KNOB_CLEAR_MM and higher < KNOB_RISE_MM:
        message = (
            f"The foot switch of {pair.rear.label} is {pair.behind_mm} mm from {pair.front.label} in front "
            f"of it, {KNOB_CLEAR_MM - pair.behind_mm} mm less than {KNOB_CLEAR_MM} mm, and {level}, "
            f"{KNOB_RISE_MM - higher} mm less than the {KNOB_RISE_MM} mm that would do instead: the foot "
            f"meets knobs."
        )
        yield layout_finding("L32", refs, message)
    elif pair.behind_mm >= KNOB_CLEAR_MM and higher < DECK_CLEAR_MM:
        message = (
            f"{pair.rear.label} stands on a higher tier and is {level} than {pair.front.label} in front of "
            f"it, {DECK_CLEAR_MM - higher} mm less than {DECK_CLEAR_MM} mm: the foot rests on knobs."
        )
        yield layout_finding("L33", refs, message)
