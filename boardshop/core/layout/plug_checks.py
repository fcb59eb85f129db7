"""Plugs in used jacks: clear of other bodies, keep-outs, other pedals' plugs and the frame's edge."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from boardshop.core.findings import Finding
from boardshop.core.layout.geometry import Box, clearance, is_nearer, room_inside
from boardshop.core.layout.rules import SAME_HEIGHT_MM, layout_finding
from boardshop.core.layout.standing import Body, Reserved, UsedJack, frame_box
from boardshop.core.plan import BoardPlan, Jack


@dataclass(frozen=True, slots=True)
class StandingPlug:
    """A plug whose rectangle on the frame is known."""

    used: UsedJack
    jack: Jack
    box: Box

    @property
    def label(self) -> str:
        return f"the plug in {self.used.label}"


def list_standing_plugs(used: Sequence[UsedJack]) -> tuple[StandingPlug, ...]:
    return tuple(
        StandingPlug(use, use.jack, box)
        for use in used
        if (box := use.box) is not None and use.jack is not None
    )


def check_plugs(
    plan: BoardPlan, plugs: Sequence[StandingPlug], bodies: Sequence[Body], reserved: Sequence[Reserved]
) -> Iterator[Finding]:
    gap, outline = plan.rules.plug_gap_mm, frame_box(plan)
    for plug in plugs:
        yield from _check_edge(plug, outline, gap)
        for body in bodies:
            if is_nearer(plug.box, body.box, gap) and body.ref != plug.used.pedal.ref:
                yield _too_near_body(plug, body, gap)
        for kept in reserved:
            if is_nearer(plug.box, kept.box, gap):
                yield _too_near_keepout(plug, kept, gap)
    for one, other in combinations(plugs, 2):
        if not is_nearer(one.box, other.box, gap) or one.used.pedal.ref == other.used.pedal.ref:
            continue
        if not pass_at_height(one.jack, other.jack):
            yield _too_near_plug(one, other, gap)


def pass_at_height(one: Jack, other: Jack) -> bool:
    """Whether two plugs pass over each other; jacks of which a height is not recorded do not."""
    if one.height is None or other.height is None:
        return False
    return abs(one.height - other.height) >= SAME_HEIGHT_MM


def _check_edge(plug: StandingPlug, outline: Box, gap: int) -> Iterator[Finding]:
    room = room_inside(plug.box, outline)
    if room < gap:
        beyond = (
            f"stands {-room} mm out of the frame" if room < 0 else f"ends {room} mm from the frame's edge"
        )
        message = f"{_start(plug)} {beyond}: {gap - room} mm short, so the lead cannot be led away."
        yield layout_finding("L08", (plug.used.end,), message)


def _too_near_body(plug: StandingPlug, body: Body, gap: int) -> Finding:
    free = clearance(plug.box, body.box)
    message = (
        f"{_start(plug)} {_against(free, body.label)}: {gap - free} mm short, so it cannot be plugged in."
    )
    return layout_finding("L05", (plug.used.end, body.ref), message)


def _too_near_keepout(plug: StandingPlug, kept: Reserved, gap: int) -> Finding:
    free = clearance(plug.box, kept.box)
    message = f"{_start(plug)} {_against(free, kept.label)}: {gap - free} mm short."
    return layout_finding("L06", (plug.used.end, kept.name), message)


def _too_near_plug(one: StandingPlug, other: StandingPlug, gap: int) -> Finding:
    free = clearance(one.box, other.box)
    heights = (one.jack.height, other.jack.height)
    message = (
        f"{_start(one)} {_against(free, other.label)}: {gap - free} mm short, so only one of them goes in."
    )
    if None in heights:
        message += (
            f" Heights that differ by {SAME_HEIGHT_MM} mm would let them pass, but not both are recorded."
        )
    return layout_finding("L07", (one.used.end, other.used.end), message)


def _start(plug: StandingPlug) -> str:
    return f"T{plug.label[1:]}"


def _against(free: int, what: str) -> str:
    return f"overlaps {what} by {-free} mm" if free < 0 else f"is {free} mm from {what}"
