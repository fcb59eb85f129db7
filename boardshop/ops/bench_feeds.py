"""Proposed feeds on boards drawn by lot: how long the proof takes, and what first-fit by current makes."""

import random
import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass
from itertools import pairwise

from boardshop.core.feeds import propose_feeds
from boardshop.core.feeds.score import Score, score_feeds
from boardshop.core.plan import BoardPlan, Feed, Frame, Link, Outlet, OutletSetting, Pedal, PowerJack, Supply
from boardshop.core.power import is_wrongly_fed, make_feeding

BOARDS = 20


@dataclass(frozen=True)
class Size:
    jacks: int
    supplies: int
    outlets: int
    """Together."""
    aim_ms: int


ROWS: tuple[tuple[str, Callable[[Score], int]], ...] = (
    ("boards fed fully", lambda score: score.unfed == 0),
    ("boards that share an outlet", lambda score: score.sharing > 0),
    ("outlets above headroom", lambda score: score.above_headroom),
)

SIZES = (Size(12, 2, 14, 500), Size(24, 3, 30, 2000))


def bench_feeds() -> None:
    for size in SIZES:
        boards = [draw_board(random.Random(seed), size) for seed in range(BOARDS)]  # noqa: S311 - a lot, no secret
        best, times = [], []
        for plan in boards:
            started = time.perf_counter()
            best.append(propose_feeds.__wrapped__(plan))
            times.append((time.perf_counter() - started) * 1000)
        simple = [score_feeds(plan, fit_first(plan), list_jacks(plan)) for plan in boards]
        exact = [proposal.exact for proposal in best]
        drawn = f"{size.jacks} jacks, {size.supplies} supplies, {size.outlets} outlets"
        print(f"proposed feeds, {drawn}: {BOARDS} boards")
        median, longest = statistics.median(times), max(times)
        print(
            f"  {'median, longest ms':32}{median:8.0f}{longest:8.0f}   (under {size.aim_ms}; aim half of it)"
        )
        print(f"  {'proved':32}{sum(proposal.optimal for proposal in best):8}")
        print(f"  {'':32}{'proposed':>12}{'first-fit':>12}")
        for name, count in ROWS:
            print(f"  {name:32}{sum(map(count, exact)):12}{sum(map(count, simple)):12}")


def fit_first(plan: BoardPlan) -> list[Feed]:
    """First-fit by current: the hungriest jack first, each on the first outlet where nothing is wrong."""
    draws = {f"{p.ref}.{j.name}": j.rated or 0 for p in plan.pedals for j in p.power}
    feeds: list[Feed] = []
    for end in sorted(draws, key=lambda end: (-draws[end], end)):
        for supply in plan.supplies:
            placed = next((one for one in _list_feeds(supply, end) if _is_right(plan, [*feeds, one])), None)
            if placed is not None:
                feeds.append(placed)
                break
    return feeds


def _list_feeds(supply: Supply, end: str) -> list[Feed]:
    return [
        Feed((f"{supply.ref}.{outlet.name}",), (end,), (setting.min_mv,))
        for outlet in supply.outlets
        for setting in outlet.settings
    ]


def _is_right(plan: BoardPlan, feeds: list[Feed]) -> bool:
    settings = {(feed.outlets[0], feed.settings[0]) for feed in feeds}
    if len(settings) > len({outlet for outlet, _ in settings}):
        return False
    feeding = make_feeding(plan, feeds)
    last = feeding.connections[-1]
    beside = [c for c in feeding.connections if c.taps[0].supply == last.taps[0].supply]
    return not any(is_wrongly_fed(feeding, c, fed) for c in beside for fed in c.jacks)


def list_jacks(plan: BoardPlan) -> list[str]:
    return [f"{pedal.ref}.{jack.name}" for pedal in plan.pedals for jack in pedal.power]


def draw_board(dice: random.Random, size: Size) -> BoardPlan:
    """Pedals in a row, isolated outlets and groups, some that may be joined, some with a switch."""
    pedals = tuple(_draw_pedal(f"P{n}", dice) for n in range(1, size.jacks + 1))
    each = size.outlets // size.supplies
    supplies = tuple(
        Supply(
            f"S{n}",
            outlets=tuple(_draw_outlet(str(o), dice) for o in range(1, each + 1)),
            limit_mw=dice.choice([None, 12_000, 20_000]),
        )
        for n in range(1, size.supplies + 1)
    )
    pairs = pairwise(pedals)
    links = tuple(Link(f"W{n}", f"{a.ref}.OUT", f"{b.ref}.IN") for n, (a, b) in enumerate(pairs, start=1))
    return BoardPlan(Frame(1000, 400), pedals=pedals, links=links, supplies=supplies)


def _draw_pedal(ref: str, dice: random.Random) -> Pedal:
    mv = dice.choice([9000] * 6 + [12_000, 18_000])
    ma = dice.choice([5, 12, 20, 45, 60, 100, 180, 230, 300, 400])
    jack = PowerJack(
        current="dc",
        nominal=mv,
        min=mv,
        max=dice.choice([mv, mv, 18_000]),
        polarity=dice.choice(["centre-negative"] * 6 + ["centre-positive"]),
        ground_pole=dice.choice(["negative"] * 8 + ["positive", "floating"]),
        connector="barrel 5.5/2.1",
        rated=ma,
        peak=ma,
        share=dice.choice(["ok", "ok", "poor", "never"]),
    )
    return Pedal(ref, "delay", 70, 120, circuit=dice.choice(["digital", "analog"]), power=(jack,))


def _draw_outlet(name: str, dice: random.Random) -> Outlet:
    group = dice.choice([None, None, None, "A"])
    fixed = (OutletSetting(9000, 9000, dice.choice([100, 100, 200, 300, 500])),)
    switched = tuple(OutletSetting(mv, mv, ma) for mv, ma in ((9000, 500), (12_000, 400), (18_000, 250)))
    return Outlet(
        name,
        current="dc",
        settings=dice.choice([fixed, fixed, switched]),
        polarity="centre-negative",
        connector="barrel 5.5/2.1",
        regulated=True,
        sag=False,
        group=group,
        group_max_ma=600 if group else None,
        parallel_ok=dice.random() < 0.2,
        series_ok=dice.random() < 0.2,
    )
