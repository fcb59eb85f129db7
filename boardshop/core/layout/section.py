"""The report's layout section: how full the frame is, where its weight lies, and what does not fit."""

from dataclasses import dataclass
from fractions import Fraction

from boardshop.core.findings import Finding, sort_findings
from boardshop.core.half_recorded import find_half_recorded
from boardshop.core.layout.apart_checks import check_apart_from_supplies
from boardshop.core.layout.body_checks import check_bodies
from boardshop.core.layout.foot_checks import (
    check_pairs,
    check_reach,
    check_switches,
    check_treadles,
    list_switches,
)
from boardshop.core.layout.geometry import Box, body_box, supply_box
from boardshop.core.layout.missing import find_missing
from boardshop.core.layout.plug_checks import check_plugs, list_standing_plugs
from boardshop.core.layout.row_checks import check_rows
from boardshop.core.layout.rules import BALANCE_PERCENT, layout_finding
from boardshop.core.layout.standing import list_bodies, list_reserved, list_used_jacks
from boardshop.core.layout.supply_checks import check_under
from boardshop.core.layout.supply_plugs import check_supply_plugs
from boardshop.core.layout.treadle_checks import (
    check_heel_plugs,
    check_parked_toes,
    check_strokes,
    check_toe_floor,
)
from boardshop.core.plan import BoardPlan, Point, Tier
from boardshop.core.printing import round_percent, round_whole

HALF_RECORDED = ("frame/rails", "frame/tiers", "frame/keepouts", "frame/members", "/switches")
"""Entries of these lists matter here; half a place is no place, and half a slope none, as L21 and L28 say."""


@dataclass(frozen=True, slots=True)
class TierUse:
    from_: int
    to: int
    used_percent: float


@dataclass(frozen=True, slots=True)
class LayoutSection:
    free_percent: float
    tiers: tuple[TierUse, ...]
    centre_of_mass: Point | None
    findings: tuple[Finding, ...]


def compute_layout(plan: BoardPlan) -> LayoutSection:
    """Free part of the frame, use of each tier, centre of mass (None where a weight or place is unknown)."""
    free = free_percent(plan)
    centre = centre_of_mass(plan)
    findings = [
        *find_layout_faults(plan),
        *find_half_recorded(plan, HALF_RECORDED),
        *_judge_spare(plan, free),
        *_judge_balance(plan, centre),
    ]
    return LayoutSection(
        free_percent=round_percent(float(free)),
        tiers=tuple(_tier_use(plan, tier) for tier in plan.frame.tiers),
        centre_of_mass=None
        if centre is None
        else Point(round_whole(float(centre[0])), round_whole(float(centre[1]))),
        findings=sort_findings(findings),
    )


def find_layout_faults(plan: BoardPlan) -> list[Finding]:
    """Every finding about places, without the figures' own."""
    bodies, reserved, used = list_bodies(plan), list_reserved(plan), list_used_jacks(plan)
    plugs, switches = list_standing_plugs(used), list_switches(bodies)
    return [
        *check_bodies(plan, bodies, reserved),
        *check_plugs(plan, plugs, bodies, reserved),
        *check_treadles(bodies, plugs, reserved),
        *check_strokes(bodies, plugs, reserved),
        *check_heel_plugs(used),
        *check_toe_floor(bodies, plan.frame),
        *check_parked_toes(bodies, plan.frame),
        *check_switches(plan.rules, switches),
        *check_pairs(plan, switches),
        *check_reach(plan.rules, switches),
        *check_rows(plan.frame, switches, bodies),
        *check_under(plan),
        *check_supply_plugs(plan),
        *check_apart_from_supplies(plan, bodies),
        *find_missing(plan, bodies, used),
    ]


def free_percent(plan: BoardPlan) -> Fraction:
    """100 less the areas of bodies and keep-outs, summed, over the frame's area."""
    area = plan.frame.width * plan.frame.depth
    return 100 - Fraction(100 * sum(box.area for box in _taking_room(plan)), area)


def centre_of_mass(plan: BoardPlan) -> tuple[Fraction, Fraction] | None:
    """Of the frame (in its middle), the pedals and the supplies (each in the middle of its box)."""
    frame = plan.frame
    parts: list[tuple[int | None, Box | None]] = [(frame.weight, Box(0, 0, frame.width, frame.depth))]
    parts += [(pedal.weight, body_box(pedal)) for pedal in plan.pedals]
    parts += [(supply.weight, supply_box(supply)) for supply in plan.supplies]
    known = [(weight, box) for weight, box in parts if weight is not None and box is not None]
    total = sum(weight for weight, _ in known)
    if len(known) < len(parts) or total == 0:
        return None
    x = sum(weight * (box.x0 + box.x1) for weight, box in known)
    y = sum(weight * (box.y0 + box.y1) for weight, box in known)
    return Fraction(x, 2 * total), Fraction(y, 2 * total)


def _taking_room(plan: BoardPlan) -> list[Box]:
    return [body.box for body in list_bodies(plan)] + [kept.box for kept in list_reserved(plan)]


def _tier_use(plan: BoardPlan, tier: Tier) -> TierUse:
    taken = sum(
        box.width * max(0, min(box.y1, tier.to_y) - max(box.y0, tier.from_y)) for box in _taking_room(plan)
    )
    used = Fraction(100 * taken, plan.frame.width * (tier.to_y - tier.from_y))
    return TierUse(tier.from_y, tier.to_y, round_percent(float(used)))


def _judge_spare(plan: BoardPlan, free: Fraction) -> list[Finding]:
    if free >= plan.rules.spare_percent:
        return []
    message = (
        f"{round_percent(float(free))} % of the frame is free, less than the {plan.rules.spare_percent} % "
        f"that leave room for one more pedal."
    )
    return [layout_finding("L19", ("frame",), message)]


def _judge_balance(plan: BoardPlan, centre: tuple[Fraction, Fraction] | None) -> list[Finding]:
    if centre is None:
        return []
    off = centre[0] - Fraction(plan.frame.width, 2)
    if abs(off) * 100 <= plan.frame.width * BALANCE_PERCENT:
        return []
    side = "right" if off > 0 else "left"
    message = (
        f"The board's weight lies {round_whole(float(abs(off)))} mm {side} of the middle, more than "
        f"{BALANCE_PERCENT} % of its width: it tips when carried by the middle."
    )
    return [layout_finding("L20", ("frame",), message)]
