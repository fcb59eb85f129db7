"""Which pieces to cut from which length in hand: reels and off-cuts, cable type by cable type."""

from collections import deque
from collections.abc import Collection, Iterable
from dataclasses import astuple, dataclass
from functools import lru_cache

from boardshop.core.cables.cut_greedy import cut_by_hand, cut_from_one_reel, least_costs
from boardshop.core.cables.cut_problem import CutProblem, Cutting, cost_of, state_problem
from boardshop.core.cables.runs import measure_runs
from boardshop.core.index import fold
from boardshop.core.plan import BoardPlan

REPORT_SECONDS = 2.0
"""The work that a report puts into its cut plan."""

type PieceCut = tuple[str, int]
"""Ref of a link or of a further piece, and its length in mm."""


@dataclass(frozen=True, slots=True)
class UsedLength:
    """One length taken; ``length`` is before trimming, ``left_mm`` after trim and kerfs."""

    cable: str
    length: int
    kind: str
    pieces: tuple[PieceCut, ...]
    left_mm: int


@dataclass(frozen=True, slots=True)
class CutPlan:
    """``short`` lists pieces for which no length is left; ``bound`` the least reels that must be opened."""

    used: tuple[UsedLength, ...]
    short: tuple[PieceCut, ...]
    drawn_mm: int
    waste_mm: int
    optimal: bool
    bound: int


@dataclass(frozen=True, slots=True)
class _CableCutting:
    problem: CutProblem
    cutting: Cutting
    optimal: bool
    bound: int


def plan_cuts(plan: BoardPlan, seconds: float = REPORT_SECONDS, cut_already: Collection[str] = ()) -> CutPlan:
    """The cut plan of a board; ``seconds`` stands for a fixed amount of work, shared among cable types.

    With 0 the plan is the one made by hand, and says whether that is proved best.  Refs in ``cut_already``
    are left out.
    """
    wanted = pieces_to_cut(plan, cut_already)
    rules = plan.rules
    used: list[UsedLength] = []
    short: list[PieceCut] = []
    drawn = waste = bound = 0
    optimal = True
    for cable, pieces in wanted.items():
        stock = [(s.length, s.kind == "reel", s.count) for s in plan.stock if fold(s.cable) == cable]
        lengths = (mm for _, mm in pieces)
        problem = state_problem(lengths, stock, rules.kerf_mm, rules.trim_mm, rules.keep_offcut_mm)
        solved = _solve(problem, seconds / len(wanted))
        cost = cost_of(problem, solved.cutting)
        drawn, waste, bound = drawn + cost.drawn_mm, waste + cost.waste_mm, bound + solved.bound
        optimal &= solved.optimal
        own_used, own_short = _hand_out(_spelled(plan, cable), solved, pieces)
        used += own_used
        short += own_short
    return CutPlan(tuple(used), tuple(short), drawn, waste, optimal, bound)


def pieces_to_cut(plan: BoardPlan, cut_already: Collection[str] = ()) -> dict[str, list[PieceCut]]:
    """By folded cable ref, in the plan's order of cables: links that are cut, then further pieces."""
    left_out = {fold(ref) for ref in cut_already}
    cuts = [(run.link.cable, run.link.ref, run.cut_mm) for run in measure_runs(plan) if run.is_cut]
    cuts += [(piece.cable, piece.ref, piece.cut_mm) for piece in plan.pieces]
    by_cable: dict[str, list[PieceCut]] = {fold(cable.ref): [] for cable in plan.cables}
    for cable, ref, length in cuts:
        if cable is not None and length and fold(ref) not in left_out:
            by_cable[fold(cable)].append((ref, length))
    return {cable: pieces for cable, pieces in by_cable.items() if pieces}


@lru_cache(maxsize=128)
def _solve(problem: CutProblem, work: float) -> _CableCutting:
    """By hand where that is proved best; else with the solver, which is loaded only then: it is large."""
    from_one = cut_from_one_reel(problem)
    if from_one is not None:
        return _CableCutting(problem, from_one, True, 1)
    start = cut_by_hand(problem)
    cost = cost_of(problem, start)
    least = least_costs(problem, cost.short_mm)
    if astuple(cost) == least:
        return _CableCutting(problem, start, True, cost.reels)
    if work <= 0:
        return _CableCutting(problem, start, False, least[1])
    from boardshop.core.cables.cut_solver import solve_cutting

    solved = solve_cutting(problem, start, least, work)
    return _CableCutting(problem, solved.cutting, solved.optimal, solved.bound)


def _spelled(plan: BoardPlan, cable: str) -> str:
    return next(c.ref for c in plan.cables if fold(c.ref) == cable)


def _hand_out(
    cable: str, solved: _CableCutting, pieces: Iterable[PieceCut]
) -> tuple[list[UsedLength], list[PieceCut]]:
    """Which piece is cut from which length: off-cuts first, pieces of one size in the plan's order."""
    problem = solved.problem
    waiting: dict[int, deque[PieceCut]] = {size: deque() for size in problem.sizes}
    for piece in pieces:
        waiting[piece[1]].append(piece)
    used: list[UsedLength] = []
    for number, counts in sorted(solved.cutting.bins, key=lambda its: (its[0], [-n for n in its[1]])):
        lot = problem.lots[number]
        taken = [
            waiting[size].popleft() for size, n in zip(problem.sizes, counts, strict=True) for _ in range(n)
        ]
        kind = "reel" if lot.is_reel else "offcut"
        used.append(UsedLength(cable, lot.length, kind, tuple(taken), problem.left_over(lot, counts)))
    left = {piece for queue in waiting.values() for piece in queue}
    return used, [piece for piece in pieces if piece in left]
