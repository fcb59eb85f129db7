"""Bodies: inside the frame, on one tier, apart, off keep-outs, under the lid, on the rails."""

from collections.abc import Iterator, Sequence
from itertools import combinations

from boardshop.core.findings import Finding
from boardshop.core.layout.geometry import Box, clearance, room_inside
from boardshop.core.layout.heights import lid_spare
from boardshop.core.layout.rules import LID_MARGIN_MM, RAIL_HOLD_MM, RAILS_HOLDING, layout_finding
from boardshop.core.layout.standing import Body, Reserved, frame_box, tier_height
from boardshop.core.plan import BoardPlan, Frame


def check_bodies(plan: BoardPlan, bodies: Sequence[Body], reserved: Sequence[Reserved]) -> Iterator[Finding]:
    outline = frame_box(plan)
    for body in bodies:
        yield from _check_inside(body, outline)
        yield from _check_tier(body, plan.frame)
        yield from _check_lid(body, plan.frame)
        yield from _check_rails(body, plan.frame)
        for kept in reserved:
            yield from _check_keepout(body, kept)
    for one, other in combinations(bodies, 2):
        yield from check_apart(one, other, plan.rules.gap_mm)


def check_apart(one: Body, other: Body, gap_mm: int) -> Iterator[Finding]:
    """L03 where two bodies overlap or are nearer than the gap."""
    free = clearance(one.box, other.box)
    if free >= gap_mm:
        return
    both = f"{one.label} and {other.label}"
    if free < 0:
        message = f"{both} overlap by {-free} mm, so they do not both fit."
        if gap_mm:
            message += f" With the gap of {gap_mm} mm between bodies {gap_mm - free} mm are missing."
    else:
        message = (
            f"{both} are {free} mm apart, {gap_mm - free} mm less than the gap of {gap_mm} mm between bodies."
        )
    yield layout_finding("L03", (one.ref, other.ref), message)


def _check_inside(body: Body, outline: Box) -> Iterator[Finding]:
    room = room_inside(body.box, outline)
    if room < 0:
        message = f"{body.label} sticks out of the frame by {-room} mm, where nothing carries or protects it."
        yield layout_finding("L01", (body.ref,), message)


def _check_tier(body: Body, frame: Frame) -> Iterator[Finding]:
    """A single tier over the whole depth is the frame itself, which L01 judges."""
    if not frame.tiers or [(tier.from_y, tier.to_y) for tier in frame.tiers] == [(0, frame.depth)]:
        return
    beyond = min(max(0, tier.from_y - body.box.y0) + max(0, body.box.y1 - tier.to_y) for tier in frame.tiers)
    if beyond:
        message = (
            f"{body.label} lies on no one tier: it reaches {beyond} mm beyond the nearest, so it would tilt."
        )
        yield layout_finding("L02", (body.ref,), message)


def _check_keepout(body: Body, kept: Reserved) -> Iterator[Finding]:
    free = clearance(body.box, kept.box)
    if free < 0:
        message = f"{body.label} reaches {-free} mm over {kept.label}, which must stay free."
        yield layout_finding("L04", (body.ref, kept.name), message)


def _check_lid(body: Body, frame: Frame) -> Iterator[Finding]:
    spare = lid_spare(body, frame)
    if spare is None:
        return
    standing = tier_height(body, frame)
    on_tier = f" on its tier of {standing} mm" if standing else ""
    if spare < 0:
        message = (
            f"{body.label} is {body.height} mm high{on_tier}: {-spare} mm more than the {frame.lid} mm "
            f"under the lid, so the lid does not close."
        )
        yield layout_finding("L13", (body.ref,), message)
    elif spare < LID_MARGIN_MM:
        message = (
            f"{body.label} is {body.height} mm high{on_tier} and leaves {spare} mm under the lid, "
            f"{LID_MARGIN_MM - spare} mm less than usual, so foam may press on its knobs."
        )
        yield layout_finding("L14", (body.ref,), message)


def _check_rails(body: Body, frame: Frame) -> Iterator[Finding]:
    if frame.surface != "slotted" or not frame.rails or body.pedal is None:
        return
    holds = [min(rail.to_y, body.box.y1) - max(rail.from_y, body.box.y0) for rail in frame.rails]
    firm = sum(hold >= RAIL_HOLD_MM for hold in holds)
    if firm < RAILS_HOLDING:
        carried = sorted((hold for hold in holds if hold > 0), reverse=True)
        on = " and ".join(f"{hold} mm" for hold in carried[:RAILS_HOLDING]) or "nothing"
        weaker = carried[RAILS_HOLDING - 1] if len(carried) >= RAILS_HOLDING else 0
        message = (
            f"{body.label} bears on {on} of the rails, {RAIL_HOLD_MM - weaker} mm short on one of two: it "
            f"needs {RAIL_HOLD_MM} mm on each of {RAILS_HOLDING} so as not to tip into a gap when stepped on."
        )
        yield layout_finding("L17", (body.ref,), message)
