"""Supplies under the frame: inside its outline, apart, clear of its parts, low enough for the height."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, product
from math import ceil, floor

from boardshop.core.findings import Finding
from boardshop.core.layout.geometry import Box, clearance, room_inside, supply_box
from boardshop.core.layout.rules import VENT_AIR_MM, layout_finding
from boardshop.core.layout.standing import frame_box, list_members
from boardshop.core.plan import BoardPlan, Supply, Under


@dataclass(frozen=True, slots=True)
class UnderSupply:
    supply: Supply
    box: Box


def list_under(plan: BoardPlan) -> tuple[UnderSupply, ...]:
    """Supplies placed under the frame whose outline is known."""
    return tuple(
        UnderSupply(supply, box)
        for supply in plan.supplies
        if supply.place is not None and supply.place.under and (box := supply_box(supply)) is not None
    )


def check_under(plan: BoardPlan) -> Iterator[Finding]:
    placed, outline = list_under(plan), frame_box(plan)
    for under in placed:
        room = room_inside(under.box, outline)
        if room < 0:
            message = f"The supply {under.supply.ref} sticks out from under the frame by {-room} mm."
            yield layout_finding("L01", (under.supply.ref,), message)
        yield from _check_height(plan, under)
    for one, other in combinations(placed, 2):
        free = clearance(one.box, other.box)
        if free < 0:
            refs = (one.supply.ref, other.supply.ref)
            message = f"The supplies {refs[0]} and {refs[1]} overlap under the frame by {-free} mm."
            yield layout_finding("L16", refs, message)
    for under, member in product(placed, list_members(plan)):
        free = clearance(under.box, member.box)
        if free < 0:
            ref = under.supply.ref
            message = f"The supply {ref} overlaps {member.label} under the frame's top by {-free} mm."
            yield layout_finding("L48", (ref, member.name), message)


def free_height(plan: BoardPlan, under: Under, y: int) -> Fraction:
    """Free height below the top at a depth: straight from the front edge to the rear edge, exact."""
    front, rear = Fraction(str(under.front)), Fraction(str(under.rear))
    inside = min(max(y, 0), plan.frame.depth)
    return front + (rear - front) * inside / plan.frame.depth


def _check_height(plan: BoardPlan, placed: UnderSupply) -> Iterator[Finding]:
    supply, under = placed.supply, plan.frame.under
    if supply.height is None or under is None:
        return
    needed = supply.height + plan.rules.under_gap_mm
    edge, y = ("front", placed.box.y0) if under.front <= under.rear else ("rear", placed.box.y1)
    free = free_height(plan, under, y)
    if free >= needed:
        yield from _check_air(supply, free - supply.height, edge)
        return
    message = (
        f"The supply {supply.ref} needs {needed} mm under the frame ({supply.height} mm and "
        f"{plan.rules.under_gap_mm} mm of air), but at its {edge} edge there are {_floor(free)} mm: "
        f"{_mm(needed - free)} mm short."
    )
    yield layout_finding("L15", (supply.ref,), message, _cure(plan, under, needed, placed.box.depth))


def _check_air(supply: Supply, air: Fraction, edge: str) -> Iterator[Finding]:
    if air < VENT_AIR_MM:
        message = (
            f"At its {edge} edge the supply {supply.ref} has {_floor(air)} mm of air below the frame, "
            f"{_mm(VENT_AIR_MM - air)} mm less than the {VENT_AIR_MM} mm that its vents want."
        )
        yield layout_finding("L44", (supply.ref,), message)


def _cure(plan: BoardPlan, under: Under, needed: int, depth: int) -> str:
    """Where it would fit; where it would not, by how much the frame must rise."""
    front, rear = Fraction(str(under.front)), Fraction(str(under.rear))
    low, high = min(front, rear), max(front, rear)
    if low == high:
        return f"Raise the frame by {ceil(needed - low)} mm, to {_mm(Fraction(needed))} mm."
    low_edge, high_edge, way = ("front", "rear", "back") if front < rear else ("rear", "front", "forward")
    first = max(Fraction(0), (needed - low) * plan.frame.depth / (high - low))
    if first + depth <= plan.frame.depth:
        return (
            f"Move its {low_edge} edge to {_mm(first)} mm from the frame's {low_edge} edge or further {way}."
        )
    behind = Fraction(max(0, plan.frame.depth - depth), plan.frame.depth)
    lift = needed - low - (high - low) * behind
    return (
        f"Raise the frame by {ceil(lift)} mm, at the {low_edge} edge from {_mm(low, 2)} to "
        f"{_mm(low + lift, 2)} mm at the same slope, and put the supply at the {high_edge} edge."
    )


def _mm(value: Fraction, decimals: int = 1) -> str:
    """Upward in the last decimal, so that nothing is said to fit that does not."""
    scale = 10**decimals
    return f"{ceil(value * scale) / scale:.{decimals}f}".rstrip("0").removesuffix(".")


def _floor(value: Fraction) -> str:
    return f"{floor(value * 10) / 10:.1f}".removesuffix(".0")
