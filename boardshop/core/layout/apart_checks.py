"""What is kept apart because it disturbs: coils and antennas from supplies, antennas from each other.

Distances are straight lines in plan between outlines; where in its box a coil or an antenna sits is not
recorded.
"""

from collections.abc import Iterator, Sequence
from itertools import combinations

from boardshop.core.findings import Finding
from boardshop.core.layout.geometry import Box, straight_distance, supply_box
from boardshop.core.layout.missing import say_list
from boardshop.core.layout.rules import (
    RECEIVER_FROM_SUPPLY_MM,
    RECEIVERS_APART_MM,
    WAH_FROM_LINEAR_MM,
    layout_finding,
)
from boardshop.core.layout.standing import Body
from boardshop.core.plan import BoardPlan, Supply

type StandingSupply = tuple[Supply, Box]


def check_apart_from_supplies(plan: BoardPlan, bodies: Sequence[Body]) -> Iterator[Finding]:
    wahs, receivers = _of_kind(bodies, "wah"), _of_kind(bodies, "wireless-receiver")
    if not wahs and not receivers:
        return
    supplies = [(one, box) for one in plan.supplies if (box := supply_box(one)) is not None]
    yield from _check(wahs, supplies, "linear", WAH_FROM_LINEAR_MM)
    yield from _check(receivers, supplies, "switch-mode", RECEIVER_FROM_SUPPLY_MM)
    yield from _check_receivers(receivers)
    near = [*_near(wahs, supplies, WAH_FROM_LINEAR_MM), *_near(receivers, supplies, RECEIVER_FROM_SUPPLY_MM)]
    unsaid = [(body.label, supply.ref) for body, supply, _ in near if supply.conversion is None]
    if unsaid:
        pedals, refs = (list(dict.fromkeys(names)) for names in zip(*unsaid, strict=True))
        message = (
            f"Whether {say_list(refs)} {'are' if len(refs) > 1 else 'is'} linear or switch-mode is not "
            f"recorded, so whether {say_list(pedals)} {'are' if len(pedals) > 1 else 'is'} far enough off is "
            f"not known."
        )
        yield layout_finding("L47", tuple(refs), message)


def _of_kind(bodies: Sequence[Body], kind: str) -> list[Body]:
    return [body for body in bodies if body.pedal is not None and body.pedal.kind == kind]


def _near(
    bodies: Sequence[Body], supplies: Sequence[StandingSupply], least: int
) -> Iterator[tuple[Body, Supply, int]]:
    for body in bodies:
        for supply, box in supplies:
            apart = straight_distance(body.box, box)
            if apart < least:
                yield body, supply, apart


def _check(
    bodies: Sequence[Body], supplies: Sequence[StandingSupply], conversion: str, least: int
) -> Iterator[Finding]:
    rule, why = {
        "linear": ("L45", "the coil of a wah picks up the hum of its transformer"),
        "switch-mode": ("L46", "its switching reaches the antenna, and the receiver loses range"),
    }[conversion]
    for body, supply, apart in _near(bodies, supplies, least):
        if supply.conversion == conversion:
            message = (
                f"{body.label} is {apart} mm from the {conversion} supply {supply.ref}, {least - apart} mm "
                f"less than {least} mm: {why}."
            )
            yield layout_finding(rule, (body.ref, supply.ref), message)


def _check_receivers(receivers: Sequence[Body]) -> Iterator[Finding]:
    for one, other in combinations(receivers, 2):
        apart = straight_distance(one.box, other.box)
        if apart < RECEIVERS_APART_MM:
            message = (
                f"The receivers {one.label} and {other.label} are {apart} mm apart, "
                f"{RECEIVERS_APART_MM - apart} mm less than {RECEIVERS_APART_MM} mm: their antennas take "
                f"from each other."
            )
            yield layout_finding("L46", (one.ref, other.ref), message)
