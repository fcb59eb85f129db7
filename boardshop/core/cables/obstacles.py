"""What a cable must go around on top of the frame and under it, and how those things are called."""

from collections.abc import Iterator
from dataclasses import dataclass

from boardshop.core.index import PlanIndex
from boardshop.core.layout.geometry import Box, body_box, supply_box
from boardshop.core.layout.standing import list_members, list_reserved
from boardshop.core.naming import called
from boardshop.core.plan import BoardPlan

ROUTES = ("top", "under")


@dataclass(frozen=True, slots=True)
class Layer:
    """One side of the frame's top.  ``names`` are refs, `keepout 1` or `member 1`, in the boxes' order."""

    boxes: tuple[Box, ...]
    names: tuple[str, ...]


def obstacles_of(plan: BoardPlan, route: str) -> Layer:
    """On top bodies and keep-outs; under the frame keep-outs, supplies there and the frame's own parts."""
    found = tuple(_under(plan) if route == "under" else _on_top(plan))
    return Layer(tuple(box for _, box in found), tuple(name for name, _ in found))


def call_obstacle(plan: BoardPlan, index: PlanIndex, name: str) -> str:
    """`Low Ember (P4)`, `the supply S1`, `keep-out 1 (hinge)`, `member 1 (crossbar)`."""
    labels = {one.name: one.label for one in (*list_reserved(plan), *list_members(plan))}
    labels |= {supply.ref: f"the supply {supply.ref}" for supply in plan.supplies}
    return labels.get(name) or called(index, name)


def _on_top(plan: BoardPlan) -> Iterator[tuple[str, Box]]:
    yield from ((pedal.ref, box) for pedal in plan.pedals if (box := body_box(pedal)))
    yield from _supplies(plan, under=False)
    yield from ((kept.name, kept.box) for kept in list_reserved(plan))


def _under(plan: BoardPlan) -> Iterator[tuple[str, Box]]:
    yield from _supplies(plan, under=True)
    yield from ((kept.name, kept.box) for kept in list_reserved(plan))
    yield from ((member.name, member.box) for member in list_members(plan))


def _supplies(plan: BoardPlan, *, under: bool) -> Iterator[tuple[str, Box]]:
    for supply in plan.supplies:
        box = supply_box(supply)
        if box is not None and supply.place is not None and supply.place.under == under:
            yield supply.ref, box
