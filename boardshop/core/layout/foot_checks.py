"""What the foot needs: treadles at the front edge, switches apart, pairs side by side, all in reach."""

from collections.abc import Iterator, Sequence
from itertools import combinations

from boardshop.core.findings import Finding
from boardshop.core.index import fold, index_plan
from boardshop.core.layout.geometry import Box, clearance, overlaps, switch_points
from boardshop.core.layout.plug_checks import StandingPlug
from boardshop.core.layout.rules import TOGETHER_DEPTH_MM, TREADLE_EDGE_MM, layout_finding
from boardshop.core.layout.standing import Body, Reserved
from boardshop.core.plan import BoardPlan, Pedal, Point, Rules

type Switches = tuple[Body, tuple[Point, ...]]


def check_treadles(
    bodies: Sequence[Body], plugs: Sequence[StandingPlug], reserved: Sequence[Reserved]
) -> Iterator[Finding]:
    for body in bodies:
        if body.pedal is None or not body.pedal.treadle:
            continue
        back = body.box.y0
        if back > TREADLE_EDGE_MM:
            message = (
                f"{body.label} is a treadle {back} mm from the front edge, {back - TREADLE_EDGE_MM} mm too "
                f"far: the heel has no floor to stand on."
            )
            yield layout_finding("L09", (body.ref,), message)
        strip = Box(body.box.x0, 0, body.box.x1, back)
        if back > 0:
            yield from _check_strip(body, strip, bodies, plugs, reserved)


def _check_strip(
    treadle: Body,
    strip: Box,
    bodies: Sequence[Body],
    plugs: Sequence[StandingPlug],
    reserved: Sequence[Reserved],
) -> Iterator[Finding]:
    things = [(other.ref, other.label, other.box) for other in bodies if other.ref != treadle.ref]
    things += [(p.used.end, p.label, p.box) for p in plugs if p.used.pedal.ref != treadle.ref]
    things += [(kept.name, kept.label, kept.box) for kept in reserved]
    for name, label, box in things:
        if overlaps(strip, box):
            message = (
                f"{label} stands before the treadle {treadle.label}, where the heel comes down: "
                f"{-clearance(strip, box)} mm in its way."
            )
            yield layout_finding("L10", (treadle.ref, name), message[0].upper() + message[1:])


def list_switches(bodies: Sequence[Body]) -> tuple[Switches, ...]:
    """Every placed pedal that has foot switches, with their points on the frame."""
    return tuple((b, points) for b in bodies if b.pedal is not None and (points := switch_points(b.pedal)))


def check_switches(rules: Rules, switches: Sequence[Switches]) -> Iterator[Finding]:
    for (one, own), (other, others) in combinations(switches, 2):
        apart = min(switch_distance(a, b) for a in own for b in others)
        if apart >= max(rules.switch_gap_mm, rules.switch_min_mm):
            continue
        too_near = apart < rules.switch_min_mm
        least = rules.switch_min_mm if too_near else rules.switch_gap_mm
        message = (
            f"The foot switches of {one.label} and {other.label} are {apart} mm apart, {least - apart} mm "
            f"less than {least} mm: one foot {'presses both' if too_near else 'may press both in the dark'}."
        )
        severity = "fault" if too_near else "caution"
        yield layout_finding("L11", (one.ref, other.ref), message, severity=severity)


def switch_distance(one: Point, other: Point) -> int:
    """The larger of the two distances in x and in y."""
    return max(abs(one.x - other.x), abs(one.y - other.y))


def list_pairs(plan: BoardPlan) -> tuple[tuple[Pedal, Pedal], ...]:
    """Pedals stepped on together, each pair once, whichever of the two names the other."""
    index = index_plan(plan)
    pairs: dict[tuple[str, str], tuple[Pedal, Pedal]] = {}
    for pedal in plan.pedals:
        for ref in pedal.together:
            other = index.pedals.get(fold(ref))
            if other is not None and other.ref != pedal.ref:
                low, high = sorted((fold(pedal.ref), fold(other.ref)))
                pairs.setdefault((low, high), (pedal, other))
    return tuple(pairs.values())


def check_pairs(plan: BoardPlan, switches: Sequence[Switches]) -> Iterator[Finding]:
    standing = {fold(body.ref): (body, points) for body, points in switches}
    least, most = plan.rules.together_mm
    for one, other in list_pairs(plan):
        if fold(one.ref) not in standing or fold(other.ref) not in standing:
            continue
        (body, own), (partner, others) = standing[fold(one.ref)], standing[fold(other.ref)]
        apart = _nearest(own, others, (least, most))
        if _is_together(apart, (least, most)):
            continue
        message = (
            f"{body.label} and {partner.label} are stepped on together, but their nearest switches are "
            f"{apart.x} mm apart across the board and {apart.y} mm from front to rear; one foot takes both "
            f"at {least} to {most} mm across and at most {TOGETHER_DEPTH_MM} mm from front to rear."
        )
        yield layout_finding("L12", (body.ref, partner.ref), message)


def check_reach(rules: Rules, switches: Sequence[Switches]) -> Iterator[Finding]:
    for body, points in switches:
        nearest = min(point.y for point in points)
        if body.pedal is not None and body.pedal.use > 0 and nearest > rules.reach_mm:
            message = (
                f"{body.label} is stepped on, but its switch is {nearest} mm from the front edge, "
                f"{nearest - rules.reach_mm} mm beyond easy reach."
            )
            yield layout_finding("L18", (body.ref,), message)


def _nearest(own: tuple[Point, ...], others: tuple[Point, ...], band: tuple[int, int]) -> Point:
    """The distances in x and y of the nearest two switches; of equally near ones a right one."""
    apart = [Point(abs(a.x - b.x), abs(a.y - b.y)) for a in own for b in others]
    return min(apart, key=lambda d: (max(d.x, d.y), not _is_together(d, band), d.y, d.x))


def _is_together(apart: Point, band: tuple[int, int]) -> bool:
    return band[0] <= apart.x <= band[1] and apart.y <= TOGETHER_DEPTH_MM
