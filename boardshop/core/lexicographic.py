"""One aim after the other by OR-Tools CP-SAT: each is brought to its least and held there for the next.

Aims with small values are searched for together, as the digits of one number.
One worker, a fixed seed and a fixed amount of work, so that the same model gives the same answer anywhere.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from ortools.sat.python import cp_model

SEED = 1
MOST_TOGETHER = 2**45
"""So large a number the digits of aims may make; the solver's own numbers end at 2**63."""

FULL_LINEARIZATION = 2
"""Assignments are proved by their linear relaxation."""


@dataclass(frozen=True, slots=True)
class Aim:
    """An expression to bring to its least; its values lie between 0 and ``most``."""

    expression: cp_model.LinearExprT
    most: int


@dataclass(frozen=True, slots=True)
class Reached:
    """One aim: its value in the last solution, and the proven least that it can be after those before it."""

    value: int
    bound: int

    @property
    def is_least(self) -> bool:
        return self.value <= self.bound


@dataclass(slots=True)
class Search:
    """A model with its last solution; ``work`` is what is left, in the solver's deterministic seconds."""

    model: cp_model.CpModel
    variables: Sequence[cp_model.IntVar]
    work: float
    values: tuple[int, ...] = ()
    """Of ``variables``; empty before the first solution."""

    def minimize(self, aims: Sequence[Aim]) -> list[Reached]:
        """The least of the first aim, then of the next, held from then on; nothing where none was found."""
        weights = [1]
        for aim in reversed(aims[1:]):
            weights.append(weights[-1] * (aim.most + 1))
        weights.reverse()
        terms = [aim.expression for aim in aims]
        self.model.minimize(cp_model.LinearExpr.weighted_sum(terms, weights))
        solver = self._solve()
        if solver is None:
            return []
        found = [round(solver.value(aim.expression)) for aim in aims]
        for aim, value in zip(aims, found, strict=True):
            self.model.add(aim.expression <= value)
        return _read_digits(found, weights, round(solver.best_objective_bound))

    def minimize_at_zero(self, zeros: Sequence[Aim], aims: Sequence[Aim]) -> list[Reached]:
        """As `minimize` of both, where ``zeros`` can all be 0, below which nothing is; else nothing.

        That they can is mostly seen at once, while their least is proved slowly when it is sought.
        """
        all_zero = self.model.new_bool_var("")
        for aim in zeros:
            self.model.add(aim.expression <= 0).only_enforce_if(all_zero)
        self.model.add_assumption(all_zero)
        reached = self.minimize(aims)
        self.model.clear_assumptions()
        if not reached:
            return []
        self.model.add(all_zero == 1)
        return [*(Reached(0, 0) for _ in zeros), *reached]

    def _solve(self) -> cp_model.CpSolver | None:
        self.model.clear_hints()  # type: ignore[no-untyped-call]
        for variable, value in zip(self.variables, self.values, strict=False):
            self.model.add_hint(variable, value)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = SEED
        solver.parameters.linearization_level = FULL_LINEARIZATION
        solver.parameters.max_deterministic_time = max(self.work, 0.0)
        status = solver.solve(self.model)
        self.work -= solver.response_proto.deterministic_time
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return None
        self.values = tuple(solver.value(variable) for variable in self.variables)
        return solver


def minimize_in_turn(search: Search, aims: Sequence[Aim], largest: int = MOST_TOGETHER) -> list[Reached]:
    """Every aim in its turn; ends early where no solution was found in the work that was left.

    ``largest`` bounds the number that aims searched for together make: 1 for one aim at a time.
    """
    reached: list[Reached] = []
    for together in _pack(aims, largest):
        found = search.minimize(together)
        reached += found
        if not found:
            break
    return reached


def _pack(aims: Sequence[Aim], largest: int) -> list[list[Aim]]:
    """As many at once as make no more than ``largest``, and one at least."""
    packed: list[list[Aim]] = []
    size = 1
    for aim in aims:
        size *= aim.most + 1
        if not packed or size > largest:
            packed.append([])
            size = aim.most + 1
        packed[-1].append(aim)
    return packed


def _read_digits(found: Sequence[int], weights: Sequence[int], bound: int) -> list[Reached]:
    """Each aim's own bound in that of their sum: known for the first that is not at its least, and before."""
    reached: list[Reached] = []
    left: int | None = bound
    for value, weight in zip(found, weights, strict=True):
        least = 0 if left is None else min(value, -(-left // weight) if weight == 1 else left // weight)
        reached.append(Reached(value, max(least, 0)))
        left = left - value * weight if left is not None and least == value else None
    return reached
