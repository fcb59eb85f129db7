"""The worst that a file may ask of the core: what grows with a square where one is careless."""

import json
from collections.abc import Callable

from boardshop.core.boardfile import RefusedBoardFile, load_plan_text
from boardshop.core.cables.cut_plan import plan_cuts
from boardshop.core.order.lane_grid import lay_out_lanes
from boardshop.core.order.lanes import find_lanes
from boardshop.core.plan import (
    Amp,
    BoardPlan,
    CableType,
    Frame,
    Jack,
    Link,
    Pedal,
    Piece,
    Source,
    StockLength,
)
from boardshop.ops.bench_core import fresh

type Measure = Callable[[Callable[[], object], int], float]

ROUNDS = 3

_MANY_KEYS = json.dumps({f"k{number}": number for number in range(30_000)}).encode()


def bench_worst(measure: Measure) -> None:
    """Prints ms for each."""
    dense, cutting = linked_to_all(40), many_offcuts(500, 300)
    print("core, the worst that a file may ask: median ms")
    print(
        f"  {f'{len(dense.links)} links between 40 pedals':32}{measure(lambda: _lanes(dense), ROUNDS):8.1f}"
    )
    print(f"  {'30,000 unknown keys refused':32}{measure(_refuse, ROUNDS):8.1f}")
    print(f"  {'500 pieces from 300 off-cuts':32}{measure(lambda: fresh(plan_cuts, cutting), ROUNDS):8.1f}")


def linked_to_all(count: int) -> BoardPlan:
    """Each pedal has an output for every other one."""
    numbers = range(1, count + 1)
    others = {one: [other for other in numbers if other != one] for one in numbers}
    pedals = tuple(Pedal(f"P{one}", "other", 70, 120, jacks=tuple(_jacks(others[one]))) for one in numbers)
    ends = [(f"P{one}.out {other}", f"P{other}.in {one}") for one in numbers for other in others[one]]
    links = tuple(Link(f"W{n}", *both) for n, both in enumerate(ends, start=1))
    return BoardPlan(
        Frame(4000, 4000), pedals=pedals, sources=(Source("G1"),), amps=(Amp("A1"),), links=links
    )


def many_offcuts(pieces: int, offcuts: int) -> BoardPlan:
    """Pieces of many lengths and as many off-cuts, no two alike."""
    return BoardPlan(
        Frame(1000, 1000),
        cables=(CableType("C1"),),
        pieces=tuple(Piece(f"X{n}", "C1", 100 + n * 37 % 900) for n in range(pieces)),
        stock=tuple(StockLength("C1", 1000 + n, kind="offcut") for n in range(offcuts)),
    )


def _jacks(others: list[int]) -> list[Jack]:
    return [Jack(f"{role} {other}", role) for other in others for role in ("in", "out")]


def _lanes(plan: BoardPlan) -> None:
    lay_out_lanes(find_lanes(plan))


def _refuse() -> None:
    try:
        load_plan_text(_MANY_KEYS)
    except RefusedBoardFile:
        return
    raise AssertionError("A file of nothing but unknown keys was taken.")
