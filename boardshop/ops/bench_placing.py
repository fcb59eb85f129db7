"""Placing on boards drawn by lot: against the best scores known, the serpentine, and a rectangle packer.

    python -m boardshop.ops.bench_placing [SECONDS]

Times are of a machine that does nothing else; the scores are the same on every machine.
"""

import json
import statistics
import sys
import time
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

import rpack

from boardshop.core.boardfile import load_plan_text
from boardshop.core.index import fold
from boardshop.core.placing.answers import Placing, Progress, Wishes
from boardshop.core.placing.proposal import propose_layout
from boardshop.core.placing.score import score_places
from boardshop.core.plan import BoardPlan, Place, Rules
from boardshop.ops.layout_best_known import BEST_KNOWN
from boardshop.ops.layout_instances import NUMBERS, draw_board, effective_fill
from boardshop.ops.serpentine import place_in_rows

SECONDS = 5
SEEDS = (0, 1, 2)
FILLS = (0.55, 0.65)
ROOMY = 0.66
"""Effective fill between the two families of boards."""
SERPENTINE_NUMBERS, SERPENTINE_BOARDS = (8, 12), 3
WIDTH_STEP_MM = 10


@dataclass(frozen=True)
class Run:
    """One search: its answer, when all were placed for the first time, when it was done."""

    placing: Placing
    first_s: float | None
    whole_s: float

    @property
    def places_all(self) -> bool:
        return not self.placing.left_out


@dataclass(frozen=True)
class Row:
    filled: float
    run: Run
    ratio: float | None
    """To the best known score, where one is known and all are placed."""


def bench_placing(seconds: int = SECONDS) -> None:
    """Prints as it goes; takes about 40 times the seconds asked for, and half a minute for the packer."""
    started = time.perf_counter()
    _search(load_board(8, 0.55, 0), 1)
    print(f"placing: the first call of a process takes {time.perf_counter() - started:.1f} s, one of it work")
    _bench_boards(seconds)
    _bench_serpentine(seconds)
    _bench_density()


def _bench_boards(seconds: int) -> None:
    print(
        f"boards drawn by lot, placed with --seconds {seconds}; ratio: score to the best known, 1.00 = equal"
    )
    print(f"  {'pedals fill seed':18}{'effective':>10}{'placed':>9}{'ratio':>8}{'first s':>9}{'whole s':>9}")
    rows = list(_run_boards(seconds))
    for name, some in (
        (f"effective fill below {ROOMY}", [row for row in rows if row.filled < ROOMY]),
        (f"effective fill above {ROOMY}", [row for row in rows if row.filled >= ROOMY]),
    ):
        _print_family(name, some)


def _run_boards(seconds: int) -> Iterator[Row]:
    for fill in FILLS:
        for number in NUMBERS:
            for seed in SEEDS:
                document = draw_board(number, fill, seed)
                run = _search(load_plan_text(json.dumps(document).encode()), seconds)
                known = BEST_KNOWN.get((number, fill, seed))
                ratio = run.placing.score / known[0] if known and run.places_all else None
                row = Row(effective_fill(document), run, ratio)
                placed = number - len(run.placing.left_out)
                print(
                    f"  {f'{number:2} {fill:.2f} {seed}':18}{row.filled:10.3f}{f'{placed}/{number}':>9}"
                    f"{_say(ratio):>8}{_say(run.first_s):>9}{run.whole_s:9.2f}",
                    flush=True,
                )
                yield row


def _print_family(name: str, rows: list[Row]) -> None:
    ratios = [row.ratio for row in rows if row.ratio is not None]
    firsts = [row.run.first_s for row in rows if row.run.first_s is not None]
    placed = sum(row.run.places_all for row in rows)
    print(f"  {name}: all placed on {placed} of {len(rows)}")
    if ratios:
        middle, worst = statistics.median(ratios), max(ratios)
        print(f"  {'ratio, median and worst':32}{middle:8.2f}{worst:8.2f}   ({len(ratios)} boards)")
    if firsts:
        print(f"  {'first s, median and worst':32}{statistics.median(firsts):8.2f}{max(firsts):8.2f}")


def _bench_serpentine(seconds: int) -> None:
    """On the first boards where the serpentine finds room for all."""
    print("beside the serpentine in signal order, on the first boards where that finds room")
    print(f"  {'pedals fill seed':18}{'cable mm':>10}{'s':>8}{'serpentine':>12}{'s':>8}{'ratio':>8}")
    ratios = []
    for number in SERPENTINE_NUMBERS:
        for seed, rows, rows_s in _first_in_rows(number):
            run = _search(load_board(number, FILLS[0], seed), seconds)
            cable = cable_of(rows, {one.ref: one.place for one in rows.pedals if one.place})
            ratio = run.placing.total_mm / cable
            ratios.append(ratio)
            print(
                f"  {f'{number:2} {FILLS[0]:.2f} {seed}':18}{run.placing.total_mm:10}{run.whole_s:8.2f}"
                f"{cable:12}{rows_s:8.2f}{ratio:8.2f}",
                flush=True,
            )
    print(f"  {'cable to that of the serpentine, median':48}{statistics.median(ratios):8.2f}")


def _first_in_rows(number: int) -> Iterator[tuple[int, BoardPlan, float]]:
    found = 0
    for seed in range(20):
        started = time.perf_counter()
        rows = place_in_rows(load_board(number, FILLS[0], seed))
        if rows is not None:
            yield seed, rows, time.perf_counter() - started
            found += 1
        if found == SERPENTINE_BOARDS:
            return


def _bench_density() -> None:
    """The narrowest frame that holds the bodies alone, none turned, in steps of 10 mm."""
    print("bodies alone, none turned: share of the narrowest frame found, of the packer and of the search")
    print(f"  {'pedals':18}{'packer':>10}{'s':>8}{'search':>10}{'s':>8}")
    for number in NUMBERS:
        plan = bodies_alone(load_board(number, FILLS[0], 0))
        area, depth = sum(one.width * one.depth for one in plan.pedals), plan.frame.depth
        started = time.perf_counter()
        packed = narrowest_packed(plan, area)
        between = time.perf_counter()
        searched = narrowest_searched(plan, area, packed)
        times = between - started, time.perf_counter() - between
        print(
            f"  {number:<18}{area / packed / depth:10.3f}{times[0]:8.2f}"
            f"{area / searched / depth:10.3f}{times[1]:8.2f}",
            flush=True,
        )


def bodies_alone(plan: BoardPlan) -> BoardPlan:
    """Nothing but rectangles: no jacks, switches, treadles, turns, pairs or pins, and no gap."""
    pedals = tuple(
        replace(one, jacks=(), switches=(), treadle=False, turns=(0,), together=(), pinned=False, place=None)
        for one in plan.pedals
    )
    frame = replace(plan.frame, tiers=(), keepouts=())
    rules = replace(Rules(), gap_mm=0, plug_gap_mm=0)
    return BoardPlan(frame, pedals=pedals, rules=rules)


def narrowest_packed(plan: BoardPlan, area: int) -> int:
    sizes = [(pedal.width, pedal.depth) for pedal in plan.pedals]
    width = -(-area // plan.frame.depth // WIDTH_STEP_MM) * WIDTH_STEP_MM
    while True:
        try:
            rpack.pack(sizes, max_width=width, max_height=plan.frame.depth)
        except rpack.PackingImpossibleError:
            width += WIDTH_STEP_MM
        else:
            return width


def narrowest_searched(plan: BoardPlan, area: int, packed: int) -> int:
    """Narrower than the packer's while a search of a second places all, else wider until it does."""
    width = packed
    if _fits(plan, width):
        while (width - WIDTH_STEP_MM) * plan.frame.depth >= area and _fits(plan, width - WIDTH_STEP_MM):
            width -= WIDTH_STEP_MM
        return width
    while not _fits(plan, width):
        width += WIDTH_STEP_MM
    return width


def _fits(plan: BoardPlan, width: int) -> bool:
    return _search(replace(plan, frame=replace(plan.frame, width=width)), 1).places_all


def _search(plan: BoardPlan, seconds: int) -> Run:
    started = time.perf_counter()
    first: list[float] = []

    def watch(progress: Progress) -> bool:
        if not first and progress.best is not None and not progress.best.left_out:
            first.append(time.perf_counter() - started)
        return True

    placing = propose_layout(plan, Wishes(seconds=seconds), watch)
    whole = time.perf_counter() - started
    if not placing.left_out:
        first.append(whole)
    return Run(placing, first[0] if first else None, whole)


def cable_of(plan: BoardPlan, places: Mapping[str, Place]) -> int:
    return score_places(plan, {fold(ref): place for ref, place in places.items()})[1]


def load_board(number: int, fill: float, seed: int) -> BoardPlan:
    return load_plan_text(json.dumps(draw_board(number, fill, seed)).encode())


def _say(value: float | None) -> str:
    return "–" if value is None else f"{value:.2f}"


if __name__ == "__main__":
    bench_placing(*map(int, sys.argv[1:2]))
