"""The best cut plan by OR-Tools: aim after aim, with a fixed seed, one worker and a fixed amount of work."""

from dataclasses import astuple, dataclass

from ortools.sat.python import cp_model

from boardshop.core.cables.cut_columns import Columns, generate_columns, may_generate
from boardshop.core.cables.cut_greedy import MOST_ROOM, least_waste
from boardshop.core.cables.cut_models import CutModel, Pattern, build_model, list_patterns, model_cover
from boardshop.core.cables.cut_problem import CutProblem, Cutting, cost_of

MOST_PATTERNS = 2_000
MOST_COUNTS = 1_500
"""Sizes up to which the exact model is worth building: patterns of one lot, piece counts of the others."""
MOST_PATTERNS_IN_ALL = 20_000
"""Patterns of all lots together; with more, building the model takes longer than the work allowed for it."""

_ROUNDS_PER_WORK = 200
_REELS, _WASTE = 1, 3  # positions among the aims
_SEED = 1


@dataclass(frozen=True, slots=True)
class SolvedCutting:
    """``bound`` is a proven least number of reels for plans that make as much as this one."""

    cutting: Cutting
    optimal: bool
    bound: int


def solve_cutting(problem: CutProblem, start: Cutting, least: tuple[int, ...], work: float) -> SolvedCutting:
    """Improve ``start`` aim by aim; ``least`` holds proven lower bounds of the aims.

    ``work`` is in the solver's deterministic seconds, which do not depend on the machine's speed.
    """
    best, bounds = start, list(least)
    cost = cost_of(problem, best)
    if cost.short_mm == 0 and cost.reels > bounds[_REELS] and may_generate(problem):
        columns = generate_columns(problem, best, round(_ROUNDS_PER_WORK * work))
        bounds[_REELS] = max(bounds[_REELS], columns.reel_bound)
        bounds[_WASTE] = max(bounds[_WASTE], least_waste(problem, 0, bounds[_REELS]))
        best = _cover_with(problem, columns, best, bounds[_REELS], work / 2)
    built = build_exact(problem, best)
    if built is not None:
        best = _improve_all(built, problem, best, bounds, work)
    reached = astuple(cost_of(problem, best))
    proven = all(value <= bound for value, bound in zip(reached, bounds, strict=True))
    return SolvedCutting(best, proven, bounds[_REELS])


def _improve_all(
    built: CutModel, problem: CutProblem, best: Cutting, bounds: list[int], work: float
) -> Cutting:
    """Aim after aim, each held from then on; raises ``bounds`` to what is proven."""
    for i, aim in enumerate(built.aims):
        reached = astuple(cost_of(problem, best))[i]
        if reached > bounds[i] and work > 0:
            share = work if i == len(built.aims) - 1 else work / 2
            best, proven, spent = _improve(built, problem, best, aim, share)
            reached = astuple(cost_of(problem, best))[i]
            bounds[i] = max(bounds[i], proven) if proven is not None else bounds[i]
            work -= spent
        built.model.add(aim <= reached)
    return best


def _improve(
    built: CutModel, problem: CutProblem, best: Cutting, aim: cp_model.LinearExpr, work: float
) -> tuple[Cutting, int | None, float]:
    """A plan at least as good, a proven lower bound of this aim if there is one, and the work spent."""
    built.hint(problem, best)
    built.model.minimize(aim)
    solver = _new_solver(work)
    status = solver.solve(built.model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return best, None, solver.deterministic_time
    found = min(best, built.read(solver), key=lambda plan: cost_of(problem, plan))
    return found, round(solver.best_objective_bound), solver.deterministic_time


def _cover_with(problem: CutProblem, columns: Columns, best: Cutting, bound: int, work: float) -> Cutting:
    """Everything made from the generated patterns with the fewest reels they allow."""
    built = model_cover(problem, columns.patterns, bound)
    solver = _new_solver(work)
    if solver.solve(built.model) not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return best
    found = drop_surplus(problem, built.read(solver))
    return min(best, found, key=lambda plan: cost_of(problem, plan))


def drop_surplus(problem: CutProblem, cutting: Cutting) -> Cutting:
    """The same plan without pieces beyond what is wanted, dropped from the last lengths."""
    wanted = list(problem.demand)
    kept: list[Pattern] = []
    for lot, counts in cutting.bins:
        fewer = tuple(min(n, have) for n, have in zip(counts, wanted, strict=True))
        wanted = [have - n for have, n in zip(wanted, fewer, strict=True)]
        if any(fewer):
            kept.append((lot, fewer))
    return Cutting(tuple(kept))


def build_exact(problem: CutProblem, start: Cutting) -> CutModel | None:
    """The exact model; None when it would be too large to be of use."""
    if any(lot.usable + problem.kerf > MOST_ROOM for lot in problem.lots):
        return None
    cost = cost_of(problem, start)
    most_reels = cost.reels if cost.short_mm == 0 else sum(problem.demand)
    patterns: list[Pattern] = []
    counted: dict[int, int] = {}
    for number, lot in enumerate(problem.lots):
        holds_all = problem.load(problem.demand) <= lot.usable + problem.kerf
        own = None if holds_all else list_patterns(problem, number, MOST_PATTERNS)
        if own is None:
            counted[number] = min(lot.count, most_reels) if lot.is_reel else lot.count
        else:
            patterns += own
        # Asked after each lot: hundreds of lots would be listed for nothing.
        if sum(counted.values()) * len(problem.sizes) > MOST_COUNTS or len(patterns) > MOST_PATTERNS_IN_ALL:
            return None
    return build_model(problem, patterns, counted)


def _new_solver(work: float) -> cp_model.CpSolver:
    """One worker and no probing, which costs more than it gives on these models; measured."""
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = _SEED
    solver.parameters.linearization_level = 2
    solver.parameters.cp_model_probing_level = 0
    solver.parameters.symmetry_level = 0
    solver.parameters.max_deterministic_time = max(work, 0.01)
    return solver
