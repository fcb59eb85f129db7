"""Patterns worth having when there are too many to list: column generation after Gilmore and Gomory.

A linear program (OR-Tools GLOP) over the patterns found so far prices the pieces; for each lot the most
valuable load at these prices is a new pattern.  The prices also prove a bound: as no length holds more value
than its most valuable load, the pieces' value divided among the lengths tells how many reels there must be.
Basis: Gilmore, Gomory: A linear programming approach to the cutting-stock problem (1961).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import gcd

import numpy as np
from ortools.linear_solver import pywraplp

from boardshop.core.cables.cut_models import Pattern
from boardshop.core.cables.cut_problem import Counts, CutProblem, Cutting

MOST_CELLS = 4_000_000
"""Room times sizes up to which the most valuable load is looked for; measured."""

_PRICE_UNIT = 1_000_000  # prices become whole numbers, so that the bound holds exactly
_UNMADE = 1_000.0


@dataclass(frozen=True, slots=True)
class Columns:
    patterns: tuple[Pattern, ...]
    reel_bound: int
    """Least number of reels for plans that make everything."""


def may_generate(problem: CutProblem) -> bool:
    """Whether the most valuable load of the longest length is found in reasonable work."""
    unit = gcd(*(size + problem.kerf for size in problem.sizes))
    longest = max(lot.usable for lot in problem.lots) + problem.kerf
    return longest // unit * len(problem.sizes) <= MOST_CELLS


def generate_columns(problem: CutProblem, start: Cutting, rounds: int) -> Columns:
    """The patterns of a plan and the ones that better prices ask for, in at most so many rounds."""
    patterns = list(dict.fromkeys(start.bins))
    bound = 0
    for _ in range(rounds):
        prices, lot_prices = _price(problem, patterns)
        fresh = []
        values = []
        for number, lot in enumerate(problem.lots):
            counts = most_valuable_load(problem, lot.usable + problem.kerf, prices)
            value = sum(price * n for price, n in zip(prices, counts, strict=True))
            values.append(value)
            cost = _PRICE_UNIT * lot.is_reel
            if cost - value - lot_prices[number] < -1 and (number, counts) not in patterns:
                fresh.append((number, counts))
        bound = max(bound, bound_reels(problem, prices, values))
        if not fresh:
            break
        patterns += fresh
    return Columns(tuple(patterns), bound)


def bound_reels(problem: CutProblem, prices: Sequence[int], values: Sequence[int]) -> int:
    """The fewest reels whose most valuable loads, with all off-cuts', reach the value of all pieces."""
    lacking = sum(price * n for price, n in zip(prices, problem.demand, strict=True))
    pairs = list(zip(problem.lots, values, strict=True))
    lacking -= sum(value * lot.count for lot, value in pairs if not lot.is_reel)
    reels = 0
    for lot, value in sorted((p for p in pairs if p[0].is_reel), key=lambda p: -p[1]):
        if lacking > 0 and value > 0:
            opened = min(lot.count, -(-lacking // value))
            reels += opened
            lacking -= opened * value
    return reels


def most_valuable_load(problem: CutProblem, room: int, prices: Sequence[int]) -> Counts:
    """The bounded knapsack, exactly: pieces that fit ``room`` with the largest sum of prices."""
    needs = [size + problem.kerf for size in problem.sizes]
    unit = gcd(*needs)
    best = np.zeros(room // unit + 1, dtype=np.int64)
    batches: list[tuple[int, int, np.ndarray]] = []
    for i, (need, price, wanted) in enumerate(zip(needs, prices, problem.demand, strict=True)):
        copies = min(wanted, room // need) if price > 0 else 0
        step = 1
        while copies > 0:
            n = min(step, copies)
            shift = n * need // unit
            if shift >= len(best):
                break
            better = best[:-shift] + n * price
            taken = np.zeros(len(best), dtype=bool)
            taken[shift:] = better > best[shift:]
            best = np.where(taken, np.concatenate([best[:shift], better]), best)
            batches.append((i, n, taken))
            copies -= n
            step *= 2
    counts = [0] * len(needs)
    at = len(best) - 1
    for i, n, taken in reversed(batches):
        if taken[at]:
            counts[i] += n
            at -= n * needs[i] // unit
    return tuple(counts)


def _price(problem: CutProblem, patterns: Sequence[Pattern]) -> tuple[list[int], list[int]]:
    """What the pieces and the lots are worth at the linear program's optimum, in millionths of a reel."""
    solver = pywraplp.Solver.CreateSolver("GLOP")
    objective = solver.Objective()
    demand = [solver.Constraint(wanted, solver.infinity()) for wanted in problem.demand]
    stock = [solver.Constraint(-solver.infinity(), lot.count) for lot in problem.lots]
    for size, row in zip(problem.sizes, demand, strict=True):
        unmade = solver.NumVar(0, solver.infinity(), "")
        objective.SetCoefficient(unmade, _UNMADE * size / problem.sizes[0])
        row.SetCoefficient(unmade, 1)
    for lot, counts in patterns:
        often = solver.NumVar(0, solver.infinity(), "")
        objective.SetCoefficient(often, float(problem.lots[lot].is_reel))
        stock[lot].SetCoefficient(often, 1)
        for row, n in zip(demand, counts, strict=True):
            if n:
                row.SetCoefficient(often, n)
    objective.SetMinimization()
    solver.Solve()
    return (
        [max(0, round(row.dual_value() * _PRICE_UNIT)) for row in demand],
        [min(0, round(row.dual_value() * _PRICE_UNIT)) for row in stock],
    )
