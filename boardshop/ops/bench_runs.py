"""Runs of the largest demo board: from nothing, and after one pedal was moved.

python -m boardshop.ops.bench_runs
"""

import statistics
import sys
import time
from dataclasses import replace

from boardshop.core.cables.checks import check_cables
from boardshop.core.cables.runs import measure_runs
from boardshop.core.plan import BoardPlan
from boardshop.ops.bench import measure
from boardshop.ops.bench_core import Measure, fresh
from boardshop.ops.demo.boards import TALLOW_LEFT
from boardshop.ops.demo.build import build

AIM_MS = 150
"""For all runs of a board of 18 pedals, in process."""
STEP_MM = 3


def bench_runs(measure: Measure) -> None:
    """Prints ms for all runs as the board is wired, all on top, all underneath, and after a move."""
    plan = build(TALLOW_LEFT)
    print(f"runs, {len(plan.pedals)} pedals, {len(plan.links)} links: median ms")
    for name, wired in (
        ("as wired", plan),
        ("all on top", led(plan, "top")),
        ("all under the frame", led(plan, "under")),
    ):
        ms = measure(lambda wired=wired: fresh(measure_runs, wired))  # type: ignore[misc]
        print(f"  {f'{name}, from nothing':32}{ms:8.1f}   (aim: under {AIM_MS})")
    moves = [after_move(plan, number) for number in range(len(plan.pedals))]
    print(f"  {'after one pedal was moved':32}{statistics.median(moves):8.1f}   (longest {max(moves):.1f})")
    both = measure(lambda: fresh(check_cables, plan))
    print(f"  {'runs and their findings':32}{both:8.1f}")


def led(plan: BoardPlan, route: str) -> BoardPlan:
    """Every cable that is routed led one way."""
    return replace(plan, links=tuple(replace(link, route=route) for link in plan.links))


def after_move(plan: BoardPlan, number: int) -> float:
    """ms for the runs once one pedal is moved a little, those of the board before being known."""
    fresh(measure_runs, plan)
    pedals = list(plan.pedals)
    place = pedals[number].place
    if place is not None:
        pedals[number] = replace(pedals[number], place=replace(place, y=place.y + STEP_MM))
    moved = replace(plan, pedals=tuple(pedals))
    started = time.perf_counter()
    measure_runs(moved)
    return (time.perf_counter() - started) * 1000


def main() -> int:
    bench_runs(measure)
    return 0


if __name__ == "__main__":
    sys.exit(main())
