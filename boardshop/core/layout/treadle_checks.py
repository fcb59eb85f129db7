"""Treadles beside the front edge: both ends of the stroke, the heel's side, the toe's floor and the lid.

The heel is the front of the unturned box and the toe its rear.  What stands between a treadle and the
frame's front edge is L10's, by the board-file format.
"""

from collections.abc import Iterator, Sequence

from boardshop.core.findings import Finding
from boardshop.core.layout.geometry import Box, beside_box, clearance, overlaps, switch_points, turned_side
from boardshop.core.layout.missing import say_list
from boardshop.core.layout.plug_checks import StandingPlug
from boardshop.core.layout.rules import HEEL_CLEAR_MM, LID_MARGIN_MM, TOE_CLEAR_MM, layout_finding
from boardshop.core.layout.standing import Body, Reserved, UsedJack, tier_height
from boardshop.core.plan import Frame, Pedal, Place

type Thing = tuple[str, str, Box]
"""Name, label and outline of what may be in the way."""


def check_strokes(
    bodies: Sequence[Body], plugs: Sequence[StandingPlug], reserved: Sequence[Reserved]
) -> Iterator[Finding]:
    for body, _, place in _treadles(bodies):
        things: list[Thing] = [(other.ref, other.label, other.box) for other in bodies if other is not body]
        things += [(p.used.end, p.label, p.box) for p in plugs if p.used.pedal.ref != body.ref]
        things += [(kept.name, kept.label, kept.box) for kept in reserved]
        yield from _check_end(body, "toe", turned_side("rear", place.turn), TOE_CLEAR_MM, things)
        heel = turned_side("front", place.turn)
        if heel != "front":
            yield from _check_end(body, "heel", heel, HEEL_CLEAR_MM, things)


def check_heel_plugs(used: Sequence[UsedJack]) -> Iterator[Finding]:
    """A jack that two links leave is said once."""
    placed = [use for use in used if use.pedal.treadle and use.pedal.place is not None]
    ends = {use.end: use.label for use in placed if use.jack is not None and use.jack.side == "front"}
    for end, label in ends.items():
        message = f"The plug in {label} sits on the heel side of the treadle, where the heel breaks it."
        yield layout_finding("L36", (end,), message)


def check_toe_floor(bodies: Sequence[Body], frame: Frame) -> Iterator[Finding]:
    """A foot switch in the toe's half is pressed with the whole weight of the foot."""
    if frame.surface != "slotted" or not frame.rails:
        return
    for body, pedal, place in _treadles(bodies):
        own = zip(pedal.switches, switch_points(pedal, place), strict=True)
        depths = [point.y for at, point in own if 2 * at.y > pedal.depth]
        off = max((_to_rail(y, frame) for y in depths), default=0)
        if off:
            message = (
                f"The toe switch of {body.label} is {off} mm off the nearest rail, over a gap: it needs "
                f"hard floor under it, or the pedal tips and the switch is missed."
            )
            yield layout_finding("L37", (body.ref,), message)


def check_parked_toes(bodies: Sequence[Body], frame: Frame) -> Iterator[Finding]:
    if frame.lid is None:
        return
    unmeasured: list[Body] = []
    for body, pedal, _ in _treadles(bodies):
        if pedal.toe_height is None:
            unmeasured.append(body)
            continue
        spare = frame.lid - tier_height(body, frame) - pedal.toe_height
        said = f"{body.label} is {pedal.toe_height} mm high with its toe up"
        if spare < 0:
            message = (
                f"{said}, {-spare} mm more than there is under the lid, so that the lid presses it down."
            )
            yield layout_finding("L38", (body.ref,), message)
        elif spare < LID_MARGIN_MM:
            short = LID_MARGIN_MM - spare
            message = f"{said} and leaves {spare} mm under the lid, {short} mm less than {LID_MARGIN_MM} mm."
            yield layout_finding("L39", (body.ref,), message)
    if unmeasured:
        message = (
            f"How high {say_list([body.label for body in unmeasured])} {_is(unmeasured)} with the toe up is "
            f"not recorded, so whether the lid presses on it is not known."
        )
        yield layout_finding("L40", tuple(body.ref for body in unmeasured), message)


def _to_rail(y: int, frame: Frame) -> int:
    """How far a depth is from the nearest rail; 0 on one."""
    return min(max(rail.from_y - y, y - rail.to_y, 0) for rail in frame.rails)


def _treadles(bodies: Sequence[Body]) -> Iterator[tuple[Body, Pedal, Place]]:
    for body in bodies:
        if body.pedal is not None and body.pedal.treadle and body.pedal.place is not None:
            yield body, body.pedal, body.pedal.place


def _check_end(treadle: Body, end: str, side: str, clear: int, things: Sequence[Thing]) -> Iterator[Finding]:
    strip = beside_box(treadle.box, side, clear)
    for name, label, box in things:
        if overlaps(strip, box):
            free = max(0, clearance(treadle.box, box))
            message = (
                f"{label} leaves {free} mm at the {end} of {treadle.label}, {clear - free} mm less than the "
                f"{clear} mm that its full stroke needs."
            )
            yield layout_finding("L35", (treadle.ref, name), message[0].upper() + message[1:])


def _is(bodies: Sequence[Body]) -> str:
    return "are" if len(bodies) > 1 else "is"
