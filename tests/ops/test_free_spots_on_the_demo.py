"""On the demo's boards everything that is taken off finds a free spot again, and no fault with it."""

from dataclasses import replace

import pytest

from boardshop.core.layout import compute_layout
from boardshop.core.layout.free_spot import find_pedal_spot, find_supply_spot
from boardshop.core.plan import BoardPlan, Place, SupplyPlace
from boardshop.ops.demo.boards import demo_boards

BOARDS = dict(demo_boards())


def faults(plan: BoardPlan) -> set[tuple[str, tuple[str, ...]]]:
    return {(f.rule, f.subjects) for f in compute_layout(plan).findings if f.severity == "fault"}


def with_pedal(plan: BoardPlan, ref: str, place: Place | None) -> BoardPlan:
    return replace(plan, pedals=tuple(replace(p, place=place) if p.ref == ref else p for p in plan.pedals))


def with_supply(plan: BoardPlan, ref: str, place: SupplyPlace | None) -> BoardPlan:
    supplies = tuple(replace(s, place=place) if s.ref == ref else s for s in plan.supplies)
    return replace(plan, supplies=supplies)


@pytest.mark.parametrize("name", sorted(BOARDS))
def test_every_pedal_finds_a_spot_without_a_fault(name: str) -> None:
    for pedal in BOARDS[name].pedals:
        off = with_pedal(BOARDS[name], pedal.ref, None)
        spot = find_pedal_spot(off, pedal.ref)
        assert spot is not None, pedal.ref
        assert faults(with_pedal(off, pedal.ref, spot)) <= faults(off), pedal.ref


@pytest.mark.parametrize("name", sorted(BOARDS))
def test_every_supply_finds_a_spot_without_a_fault(name: str) -> None:
    for supply in BOARDS[name].supplies:
        off = with_supply(BOARDS[name], supply.ref, None)
        spot = find_supply_spot(off, supply.ref)
        assert spot is not None, supply.ref
        assert faults(with_supply(off, supply.ref, spot)) <= faults(off), supply.ref
