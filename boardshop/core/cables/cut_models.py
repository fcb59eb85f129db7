"""A cut plan as a model for OR-Tools CP-SAT.

Two kinds of variables: how often a pattern (all that is cut from one length) is used, which proves fast, and
what is cut from one length piece by piece, for lengths so long that not all their patterns can be listed.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from ortools.sat.python import cp_model

from boardshop.core.cables.cut_greedy import most_load
from boardshop.core.cables.cut_problem import Counts, CutProblem, Cutting, Lot

type Pattern = tuple[int, Counts]
"""The number of a lot and what is cut from one length of it."""


@dataclass(frozen=True, slots=True)
class LengthVars:
    """One length: what is cut from it, and what is left of it when it is used."""

    lot: int
    counts: list[cp_model.IntVar]
    used: cp_model.IntVar
    load: cp_model.LinearExpr
    left: cp_model.LinearExpr
    drawn: cp_model.LinearExpr
    waste: cp_model.LinearExpr


@dataclass(slots=True)
class CutModel:
    """``aims`` in their order of weight: short mm, reels, drawn mm, waste mm, minus the longest left-over."""

    model: cp_model.CpModel
    patterns: list[tuple[Pattern, cp_model.IntVar]] = field(default_factory=list)
    lengths: list[LengthVars] = field(default_factory=list)
    aims: tuple[cp_model.LinearExpr, ...] = ()

    def read(self, solver: cp_model.CpSolver) -> Cutting:
        """The plan in a solution."""
        found = [pattern for pattern, often in self.patterns for _ in range(solver.value(often))]
        found += [(row.lot, tuple(solver.value(n) for n in row.counts)) for row in self.lengths]
        return Cutting(tuple((lot, counts) for lot, counts in found if any(counts)))

    def hint(self, problem: CutProblem, cutting: Cutting) -> None:
        """Start the next search from this plan."""
        self.model.clear_hints()  # type: ignore[no-untyped-call]
        taken = Counter(cutting.bins)
        for pattern, often in self.patterns:
            self.model.add_hint(often, taken[pattern])
        falling = sorted(cutting.bins, key=lambda its: problem.load(its[1]), reverse=True)
        for row in self.lengths:
            own = next((its for its in falling if its[0] == row.lot), None)
            if own is not None:
                falling.remove(own)
            for var, n in zip(row.counts, own[1] if own else (0,) * len(row.counts), strict=True):
                self.model.add_hint(var, n)
            self.model.add_hint(row.used, own is not None)


def list_patterns(problem: CutProblem, lot: int, most: int) -> list[Pattern] | None:
    """Every load that fits the lot's length, but the empty one; None when there are more than ``most``."""
    found: list[Pattern] = []
    for counts in _loads(problem, problem.lots[lot].usable + problem.kerf, ()):
        if any(counts):
            found.append((lot, counts))
        if len(found) > most:
            return None
    return found


def build_model(problem: CutProblem, patterns: Sequence[Pattern], counted: Mapping[int, int]) -> CutModel:
    """``patterns`` of some lots, and of each other lot how many lengths to model one by one."""
    model = cp_model.CpModel()
    lots = problem.lots
    built = CutModel(model)
    for lot, counts in patterns:
        most = min(lots[lot].count, _times(problem, counts))
        built.patterns.append(((lot, counts), model.new_int_var(0, most, "")))
    _add_stock(problem, built)
    for number, count in counted.items():
        built.lengths += _add_lengths(problem, model, number, count)
    built.aims = (
        _add_demand(problem, built),
        *_weigh_lengths(problem, built),
        _add_longest(problem, built),
    )
    return built


def model_cover(problem: CutProblem, patterns: Sequence[Pattern], bound: int) -> CutModel:
    """Fewest reels with which these patterns make at least what is wanted; ``bound`` is proven."""
    model = cp_model.CpModel()
    built = CutModel(model)
    built.patterns = [(its, model.new_int_var(0, problem.lots[its[0]].count, "")) for its in patterns]
    often = [n for _, n in built.patterns]
    for i, wanted in enumerate(problem.demand):
        model.add(_weigh(often, [counts[i] for _, counts in patterns]) >= wanted)
    _add_stock(problem, built)
    reels = _weigh(often, [problem.lots[lot].is_reel for lot, _ in patterns])
    model.add(reels >= bound)
    model.minimize(reels)
    return built


def _loads(problem: CutProblem, room: int, chosen: Counts) -> Iterator[Counts]:
    i = len(chosen)
    if i == len(problem.sizes):
        yield chosen
        return
    need = problem.sizes[i] + problem.kerf
    for n in range(min(problem.demand[i], room // need), -1, -1):
        yield from _loads(problem, room - n * need, (*chosen, n))


def _add_stock(problem: CutProblem, built: CutModel) -> None:
    """No more lengths of a lot than there are."""
    of_lot: dict[int, list[cp_model.IntVar]] = {number: [] for number in range(len(problem.lots))}
    for (lot, _), often in built.patterns:
        of_lot[lot].append(often)
    for number, lot_ in enumerate(problem.lots):
        built.model.add(cp_model.LinearExpr.sum(of_lot[number]) <= lot_.count)


def _times(problem: CutProblem, counts: Counts) -> int:
    return min(wanted // n for wanted, n in zip(problem.demand, counts, strict=True) if n)


def _add_lengths(problem: CutProblem, model: cp_model.CpModel, number: int, count: int) -> list[LengthVars]:
    """Equal lengths, in falling order of load."""
    lot = problem.lots[number]
    fullest = most_load(problem, lot)
    rows = [_add_length(problem, model, number, fullest) for _ in range(count)]
    for one, other in pairwise(rows):
        model.add(one.load >= other.load)
    return rows


def _add_length(problem: CutProblem, model: cp_model.CpModel, number: int, fullest: int) -> LengthVars:
    lot = problem.lots[number]
    needs = [size + problem.kerf for size in problem.sizes]
    counts = [
        model.new_int_var(0, min(wanted, (lot.usable + problem.kerf) // need), "")
        for need, wanted in zip(needs, problem.demand, strict=True)
    ]
    used = model.new_bool_var("")
    load = _weigh(counts, needs)
    model.add(load <= fullest * used)
    model.add(cp_model.LinearExpr.sum(counts) >= used)
    left, kept = _add_left_over(problem, model, lot, used, load, fullest)
    drawn = lot.length * used - left
    waste = lot.length * used - _weigh(counts, problem.sizes) - kept
    return LengthVars(number, counts, used, load, left, drawn, waste)


def _add_left_over(
    problem: CutProblem,
    model: cp_model.CpModel,
    lot: Lot,
    used: cp_model.IntVar,
    load: cp_model.LinearExpr,
    fullest: int,
) -> tuple[cp_model.LinearExpr, cp_model.LinearExpr]:
    """What is left of a used length, and that again where it is worth keeping, else 0."""
    if lot.usable - fullest >= problem.keep:  # whatever is cut from it, the rest is worth keeping
        left = lot.usable * used - load
        return left, left
    tight, keeps = (model.new_bool_var("") for _ in range(2))
    rest, kept = (model.new_int_var(0, lot.usable, "") for _ in range(2))
    # ``tight``: the last kerf falls off the end, so nothing is left.
    model.add(rest == lot.usable - load).only_enforce_if(used, tight.negated())
    model.add(rest == 0).only_enforce_if(tight)
    model.add(load >= lot.usable).only_enforce_if(tight)
    model.add(rest == 0).only_enforce_if(used.negated())
    model.add(rest >= problem.keep).only_enforce_if(keeps)
    model.add(kept <= rest)
    model.add(kept == 0).only_enforce_if(keeps.negated())
    return rest, kept


def _add_demand(problem: CutProblem, built: CutModel) -> cp_model.LinearExpr:
    """No more pieces than wanted; the length of those not made."""
    often = [n for _, n in built.patterns]
    made: list[cp_model.LinearExpr] = []
    for i, wanted in enumerate(problem.demand):
        by_pattern = _weigh(often, [counts[i] for (_, counts), _ in built.patterns])
        made.append(by_pattern + cp_model.LinearExpr.sum([row.counts[i] for row in built.lengths]))
        built.model.add(made[i] <= wanted)
    return sum(s * n for s, n in zip(problem.sizes, problem.demand, strict=True)) - _weigh(
        made, problem.sizes
    )


def _weigh_lengths(problem: CutProblem, built: CutModel) -> Iterator[cp_model.LinearExpr]:
    """Reels opened, length drawn from them, waste."""
    often, lots = [n for _, n in built.patterns], problem.lots
    taken = [(lots[lot], counts) for (lot, counts), _ in built.patterns]
    of_reel = [lots[row.lot].is_reel for row in built.lengths]
    yield _weigh(often, [lot.is_reel for lot, _ in taken]) + _weigh(
        [row.used for row in built.lengths], of_reel
    )
    drawn = _weigh([row.drawn for row in built.lengths], of_reel)
    yield _weigh(often, [problem.drawn(lot, counts) for lot, counts in taken]) + drawn
    waste = cp_model.LinearExpr.sum([row.waste for row in built.lengths])
    yield _weigh(often, [problem.waste(lot, counts) for lot, counts in taken]) + waste


def _add_longest(problem: CutProblem, built: CutModel) -> cp_model.LinearExpr:
    """Minus the left-over of one off-cut in use, which the solver picks."""
    model = built.model
    picks: list[cp_model.IntVar] = []
    shown: list[cp_model.LinearExpr] = []
    for (lot, counts), often in built.patterns:
        left = problem.kept_offcut(problem.lots[lot], counts)
        if left:
            picks.append(model.new_bool_var(""))
            model.add(often >= picks[-1])
            shown.append(left * picks[-1])
    for row in built.lengths:
        if not problem.lots[row.lot].is_reel:
            picks.append(model.new_bool_var(""))
            left_shown = model.new_int_var(0, problem.lots[row.lot].usable, "")
            model.add(left_shown <= row.left)
            model.add(left_shown == 0).only_enforce_if(picks[-1].negated())
            shown.append(left_shown)
    model.add_at_most_one(picks)
    return -cp_model.LinearExpr.sum(shown)


def _weigh(terms: Sequence[cp_model.LinearExpr], weights: Sequence[int]) -> cp_model.LinearExpr:
    weighed = [(term, int(weight)) for term, weight in zip(terms, weights, strict=True) if weight]
    return cp_model.LinearExpr.weighted_sum([term for term, _ in weighed], [weight for _, weight in weighed])
