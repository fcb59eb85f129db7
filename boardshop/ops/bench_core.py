"""The core on the largest demo board, section by section, with nothing remembered from the call before."""

import json
import sys
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import _lru_cache_wrapper
from itertools import count
from typing import Any

from boardshop.core.boardfile import dump_plan, load_plan_text
from boardshop.core.cables import compute_cables
from boardshop.core.cables.runs import measure_runs
from boardshop.core.grounds import compute_grounds
from boardshop.core.kinds.places import list_kinds
from boardshop.core.layout import compute_layout
from boardshop.core.order import compute_order, rank_of, suggest_board
from boardshop.core.plan import Amp, BoardPlan, Frame, Jack, Link, Pedal, Scene, Source
from boardshop.core.power import compute_power
from boardshop.core.tone import PickupCircuit, compute_tone, frequency_response
from boardshop.core.tone.comparing import log_frequencies, plot_responses
from boardshop.core.tone.trying import AddedBuffer, try_tone
from boardshop.core.vocabulary import SCHOOLS
from boardshop.core.weight import compute_weight
from boardshop.ops.demo.boards import TALLOW_LEFT
from boardshop.ops.demo.build import build

SECTIONS: tuple[Callable[[BoardPlan], Any], ...] = (
    compute_order,
    compute_layout,
    compute_cables,
    compute_tone,
    compute_power,
    compute_grounds,
    compute_weight,
)

RANKED = [kind for kind in list_kinds() if rank_of(Pedal("P", kind, 70, 120), "common") is not None]
LONG_CHAINS = {
    "backwards": list(reversed((RANKED * 2)[:40])),
    "mixed": [RANKED[7 * number % len(RANKED)] for number in range(40)],
}
"""Two sequences of 40, judged by both schools."""

RUNS_OF = ("boardshop.core.cables.runs", "boardshop.core.cables.routing")
"""Whose memories hold the runs of a board."""

type Measure = Callable[[Callable[[], object]], float]


def bench_core(measure: Measure) -> None:
    """Prints ms for each section of an 18-pedal board; runs and cut plans stand apart."""
    plan = replace(build(TALLOW_LEFT), stock=())
    text = json.dumps(dump_plan(plan)).encode()
    print(f"core, {len(plan.pedals)} pedals, {len(plan.links)} links, {len(plan.feeds)} feeds: median ms")
    print(f"  {'board file read and checked':32}{measure(lambda: load_plan_text(text)):8.1f}")
    routing = measure(lambda: fresh(measure_runs, plan))
    print(f"  {'all runs routed':32}{routing:8.1f}")
    total = 0.0
    for compute in SECTIONS:
        ms = measure(lambda compute=compute: _routed(compute, plan))  # type: ignore[misc]
        total += ms
        print(f"  {compute.__name__:32}{ms:8.1f}")
    print(f"  {'report, runs and cut plan apart':32}{total:8.1f}   (aim: under 30)")
    _bench_tone(measure, plan)
    for name, pedals in LONG_CHAINS.items():
        ms = measure(lambda pedals=pedals: fresh(_suggest, in_a_row(pedals)))  # type: ignore[misc]
        print(f"  {f'40 pedals {name}, fewest moves':32}{ms:8.1f}   (aim: under 50)")


def _bench_tone(measure: Measure, plan: BoardPlan) -> None:
    """One curve of a thousand points, and the tone of all states with everything known of it forgotten."""
    frequencies, run_pf = log_frequencies(1000), count(700)
    ms = measure(lambda: frequency_response(_pickup(next(run_pf)), frequencies))
    print(f"  {'response, 1000 points':32}{ms:8.1f}   (aim: under 5)")
    scenes = tuple(Scene(f"s{n}", tuple(p.ref for p in plan.pedals[n::6])) for n in range(6))
    staged = replace(plan, scenes=scenes)
    ms = measure(lambda: _routed(compute_tone, staged))
    states = 2 + len(scenes)
    print(f"  {f'tone, {len(plan.pedals)} pedals, {states} states':32}{ms:8.1f}")
    ms = measure(lambda: _routed(lambda one: try_tone(one, [AddedBuffer("G1")]), staged))
    print(f"  {'tone, a buffer tried':32}{ms:8.1f}")
    ms = measure(lambda: _routed(_plot_all, staged))
    print(f"  {f'curves of {states} states':32}{ms:8.1f}")


def _pickup(run_pf: int) -> PickupCircuit:
    return PickupCircuit(6_000, 2.5, 110, 1e6, run_pf, 250e3, 250e3, 22)


def _plot_all(plan: BoardPlan) -> None:
    for source in plan.sources:
        plot_responses(plan, source)


def _suggest(plan: BoardPlan) -> None:
    for school in SCHOOLS:
        suggest_board(plan, school)


def in_a_row(kinds: Sequence[str]) -> BoardPlan:
    """Pedals of these kinds from an instrument to an amp, in this sequence."""
    jacks = (Jack("IN", "in"), Jack("OUT", "out"))
    pedals = tuple(Pedal(f"P{n}", kind, 70, 120, jacks=jacks) for n, kind in enumerate(kinds, start=1))
    outs = ["G1.OUT", *(f"{pedal.ref}.OUT" for pedal in pedals)]
    ins = [*(f"{pedal.ref}.IN" for pedal in pedals), "A1.IN"]
    links = tuple(Link(f"W{n}", *ends) for n, ends in enumerate(zip(outs, ins, strict=True), start=1))
    return BoardPlan(Frame(2000, 400), pedals=pedals, sources=(Source("G1"),), amps=(Amp("A1"),), links=links)


def fresh(compute: Callable[[BoardPlan], Any], plan: BoardPlan) -> None:
    """With nothing remembered from the last call."""
    for cached in _caches():
        cached.cache_clear()
    compute(plan)


def _routed(compute: Callable[[BoardPlan], Any], plan: BoardPlan) -> None:
    """With the runs known and nothing else remembered."""
    measure_runs(plan)
    for cached in _caches():
        if cached.__module__ not in RUNS_OF:
            cached.cache_clear()
    compute(plan)


def _caches() -> list[Any]:
    """Every memory of the core's functions."""
    modules = [module for name, module in sys.modules.items() if name.startswith("boardshop.core")]
    found = {id(value): value for module in modules for value in vars(module).values()}
    return [value for value in found.values() if isinstance(value, _lru_cache_wrapper)]
