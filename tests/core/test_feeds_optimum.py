"""That proposed feeds are the best there are: against every choice, and against another solver."""

import random
from dataclasses import astuple
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
from ortools.sat.python import cp_model
from scipy.optimize import Bounds, LinearConstraint, milp

from boardshop.core.feeds import propose_feeds
from boardshop.core.lexicographic import Aim, Search, minimize_in_turn
from boardshop.core.plan import BoardPlan, OutletSetting
from tests.core.builders import board, draws, feed, outlet, pedal, supply, wired_board
from tests.core.feeds_by_hand import find_best_score

GAP = Path(__file__).parent / "published" / "gap1.txt"
GAP_OPTIMA = (336, 327, 339, 341, 326)
"""OR-Library (J. E. Beasley), generalised assignment c515, maximised; published with the file."""


def small_board(dice: random.Random) -> BoardPlan:
    """Up to four pedals and outlets with everything that a choice can turn on."""
    pedals = [_small_pedal(f"P{n}", dice) for n in range(1, dice.choice([2, 3, 3, 4]) + 1)]
    outlets = [_small_outlet(str(n), dice) for n in range(1, dice.choice([2, 3, 3, 4]) + 1)]
    spare = list(outlets)
    feeds = []
    for one in pedals:
        if spare and dice.random() < 0.4:
            its = spare.pop()
            feeds.append(feed(f"S1.{its.name}", f"{one.ref}.DC", its.settings[0].min_mv, lead=None))
    make = wired_board if dice.random() < 0.7 else board
    limited = supply("S1", *outlets, limit_mw=dice.choice([None, 1500, 3000]))
    return make(*pedals, supplies=[limited], feeds=feeds)


def _small_pedal(ref: str, dice: random.Random):
    mv = dice.choice([9000] * 4 + [12000, 18000])
    return draws(
        pedal(ref, circuit=dice.choice(["digital", "analog", "analog"])),
        rated=dice.choice([5, 20, 45, 60, 90, 100, 150, 180]),
        peak=1,
        nominal=mv,
        min=mv,
        max=dice.choice([mv, mv, 18000]),
        share=dice.choice(["ok", "ok", "poor"]),
        polarity=dice.choice(["centre-negative"] * 4 + ["centre-positive"]),
        ground_pole=dice.choice(["negative"] * 4 + ["positive", "floating"]),
        connector=dice.choice(["barrel 5.5/2.1"] * 5 + ["3.5 mono"]),
    )


def _small_outlet(name: str, dice: random.Random):
    group = dice.choice([None, None, "A"])
    fixed = (OutletSetting(9000, 9000, dice.choice([50, 100, 100, 200, 300])),)
    two = (OutletSetting(9000, 9000, 200), OutletSetting(18000, 18000, 100))
    return outlet(
        name,
        settings=dice.choice([fixed, fixed, two]),
        group=group,
        group_max_ma=dice.choice([None, 200]) if group else None,
        parallel_ok=dice.random() < 0.6,
        series_ok=dice.random() < 0.5,
        polarity=dice.choice(["centre-negative"] * 5 + ["centre-positive"]),
    )


def _is_best(seed: int) -> bool:
    plan = small_board(random.Random(seed))
    proposal = propose_feeds(plan)
    return proposal.optimal and astuple(proposal.exact) == find_best_score(plan)


@pytest.mark.parametrize("seed", range(40))
def test_no_choice_is_better(seed):
    assert _is_best(seed)


@pytest.mark.long
@pytest.mark.parametrize("hundred", range(1, 11))
def test_no_choice_is_better_a_thousand_times(hundred):
    assert [seed for seed in range(100 * hundred, 100 * hundred + 100) if not _is_best(seed)] == []


def plain_board(dice: random.Random, jacks: int, outlets: int) -> BoardPlan:
    """Isolated outlets of one voltage each and pedals that never share: an assignment problem."""
    limits = [dice.choice([50, 100, 200, 300, 500]) for _ in range(outlets)]
    volts = [dice.choice([9000, 9000, 12000]) for _ in range(outlets)]
    own = [outlet(str(n), mv=mv, max_ma=ma) for n, (mv, ma) in enumerate(zip(volts, limits, strict=True), 1)]
    pedals = []
    for number in range(1, jacks + 1):
        mv = dice.choice([9000, 9000, 12000])
        needs = {"nominal": mv, "min": mv, "max": mv, "share": "never", "peak": 1}
        pedals.append(draws(pedal(f"P{number}"), rated=dice.choice([5, 20, 60, 100, 180, 300, 420]), **needs))
    taken = dice.sample(range(1, outlets + 1), min(jacks, outlets))
    feeds = [feed(f"S1.{o}", f"P{p}.DC", volts[o - 1], lead=None) for p, o in enumerate(taken, 1)]
    return wired_board(*pedals, supplies=[supply("S1", *own)], feeds=feeds)


def solve_as_assignment(plan: BoardPlan) -> tuple[object, ...]:
    """Unfed, above headroom, largest percent, changes and squares by SciPy's milp (HiGHS), in turn."""
    (only,) = plan.supplies
    now = {end: f.outlets[0] for f in plan.feeds for end in f.jacks}
    pairs, percent, kept = [], [], []
    for j, one in enumerate(plan.pedals):
        need = one.power[0]
        for o, its in enumerate(only.outlets):
            setting = its.settings[0]
            if setting.min_mv == need.nominal and (need.rated or 0) <= setting.max_ma:
                pairs.append((j, o))
                percent.append(Fraction(100 * need.rated, setting.max_ma))
                kept.append(now.get(f"{one.ref}.DC") == f"S1.{its.name}")
    rows = np.zeros((len(plan.pedals) + len(only.outlets), len(pairs)))
    for n, (j, o) in enumerate(pairs):
        rows[j, n] = rows[len(plan.pedals) + o, n] = 1
    rules = [LinearConstraint(rows, -np.inf, 1)]
    counts = np.ones(len(pairs))
    fed = _least(-counts, rules)
    above = _least(np.array([float(p > 80) for p in percent]), rules)
    levels = sorted(set(percent))
    while len(levels) > 1 and _is_possible(percent, levels[-2], rules):
        levels.pop()
    rules.append(LinearConstraint(np.array([float(p > levels[-1]) for p in percent]), -np.inf, 0))
    stay = _least(-np.array(kept, dtype=float), rules)
    scale = 10**4 * 9  # limits up to 500 divide 3000; squares of percents are whole in ninths
    squares = _least(np.array([float(p * p * scale) for p in percent]), rules)
    return len(plan.pedals) + fed, above, levels[-1] if fed else 0, stay, Fraction(round(squares), scale)


def _least(costs, rules) -> int:
    """The least of these costs, held from then on."""
    found = milp(
        costs,
        constraints=rules,
        integrality=np.ones(len(costs)),
        bounds=Bounds(0, 1),
        options={"mip_rel_gap": 0},
    )
    value = round(found.fun)
    rules.append(LinearConstraint(costs, -np.inf, value + 0.5))
    return value


def _is_possible(percent, most, rules) -> bool:
    costs = np.array([float(p > most) for p in percent])
    found = milp(costs, constraints=rules, integrality=np.ones(len(costs)), bounds=Bounds(0, 1))
    return bool(round(found.fun) == 0)


@pytest.mark.parametrize("seed", range(12))
def test_an_assignment_is_solved_as_well_as_by_another_solver(seed):
    """SciPy's milp on its own formulation: 16 pedals, 20 outlets."""
    plan = plain_board(random.Random(seed), 16, 20)
    proposal = propose_feeds(plan)
    unfed, above, largest, stay, squares = solve_as_assignment(plan)
    exact = proposal.exact
    assert proposal.optimal
    assert (exact.unfed, exact.above_headroom, exact.largest_percent) == (unfed, above, largest)
    assert exact.squares == squares
    assert exact.changed == len(plan.pedals) + stay


def read_gap() -> list[tuple[np.ndarray, np.ndarray, np.ndarray]]:
    """Profits, needs (agents x jobs) and capacities of each problem of the file."""
    numbers = iter(int(n) for line in GAP.open() if not line.startswith("#") for n in line.split())
    problems = []
    for _ in range(next(numbers)):
        agents, jobs = next(numbers), next(numbers)
        profits = np.array([[next(numbers) for _ in range(jobs)] for _ in range(agents)])
        needs = np.array([[next(numbers) for _ in range(jobs)] for _ in range(agents)])
        problems.append((profits, needs, np.array([next(numbers) for _ in range(agents)])))
    return problems


@pytest.mark.parametrize(("number", "published"), list(enumerate(GAP_OPTIMA)))
def test_the_engine_reaches_the_published_optimum(number, published):
    """OR-Library, generalised assignment gap1 (c515): every job to one agent within its capacity."""
    profits, needs, capacities = read_gap()[number]
    model = cp_model.CpModel()
    x = [[model.new_bool_var("") for _ in row] for row in profits]
    for job in range(profits.shape[1]):
        model.add_exactly_one(row[job] for row in x)
    for row, takes, capacity in zip(x, needs, capacities, strict=True):
        model.add(cp_model.LinearExpr.weighted_sum(row, [int(n) for n in takes]) <= int(capacity))
    most = int(profits.max()) * profits.shape[1]
    flat = [variable for row in x for variable in row]
    gained = cp_model.LinearExpr.weighted_sum(flat, [int(n) for n in profits.ravel()])
    (reached,) = minimize_in_turn(Search(model, flat, 10.0), [Aim(most - gained, most)])
    assert (most - reached.value, reached.is_least) == (published, True)


def test_aims_are_held_in_their_turn():
    model = cp_model.CpModel()
    one, other = model.new_int_var(0, 9, ""), model.new_int_var(0, 9, "")
    model.add(one + other >= 7)
    found = minimize_in_turn(Search(model, [one, other], 1.0), [Aim(one, 9), Aim(other, 9)])
    assert [(aim.value, aim.bound) for aim in found] == [(0, 0), (7, 7)]
