"""Supplies under the frame: inside its outline, apart, and low enough for the sloping height."""

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from math import ceil, floor

from boardshop.core.findings import Finding
from boardshop.core.layout.geometry import Box, clearance, room_inside, supply_box
from boardshop.core.layout.rules import layout_finding
from boardshop.core.layout.standing import frame_box
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
        return
    message = (
        f"The supply {supply.ref} needs {needed} mm under the frame ({supply.height} mm and "
        f"{plan.rules.under_gap_mm} mm of air), but at its {edge} edge there are {_floor(free)} mm: "
        f"{_mm(needed - free)} mm short."
    )
    yield layout_finding("L15", (supply.ref,), message, _cure(plan, under, needed, placed.box.depth))


def _cure(plan: BoardPlan, under: Under, needed: int, depth: int) -> str | None:
    """Where it would fit under a frame that rises to the rear; None where it would not."""
    front, rear = Fraction(str(under.front)), Fraction(str(under.rear))
    if rear <= front:
        return None
    first = max(Fraction(0), (needed - front) * plan.frame.depth / (rear - front))
    if first + depth > plan.frame.depth:
        return None
    return f"Move its front edge to {_mm(first)} mm from the frame's front edge or further back."


def _mm(value: Fraction) -> str:
    """One decimal, upward, so that nothing is said to fit that does not."""
    return f"{ceil(value * 10) / 10:.1f}".removesuffix(".0")


def _floor(value: Fraction) -> str:
    return f"{floor(value * 10) / 10:.1f}".removesuffix(".0")
