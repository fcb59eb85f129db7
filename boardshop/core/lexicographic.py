"""One aim after the other by OR-Tools CP-SAT: each is brought to its least and held there for the next.

One worker, a fixed seed and a fixed amount of work, so that the same model gives the same answer anywhere.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from ortools.sat.python import cp_model

SEED = 1

type Aim = cp_model.LinearExprT


@dataclass(frozen=True, slots=True)
class Reached:
    """One aim: its value in the last solution, and the proven least that it can be."""

    value: int
    bound: int

    @property
    def is_least(self) -> bool:
        return self.value <= self.bound


@dataclass(slots=True)
class Search:
    """A model with the last solution found; ``work`` is what is left, in the solver's deterministic seconds."""

    model: cp_model.CpModel
    variables: Sequence[cp_model.IntVar]
    work: float
    values: tuple[int, ...] = ()
    """Of ``variables``; empty before the first solution."""

    def hint(self, values: Sequence[int]) -> None:
        self.model.clear_hints()  # type: ignore[no-untyped-call]
        for variable, value in zip(self.variables, values, strict=True):
            self.model.add_hint(variable, value)

    def minimize(self, aim: Aim, least: int) -> Reached | None:
        """The least of this aim, held from then on; None where no solution was found at all.

        ``least`` is a bound that is known beforehand.
        """
        if self.values:
            self.hint(self.values)
        self.model.minimize(aim)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.random_seed = SEED
        solver.parameters.max_deterministic_time = max(self.work, 0.0)
        status = solver.solve(self.model)
        self.work -= solver.response_proto.deterministic_time
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            return None
        self.values = tuple(solver.value(variable) for variable in self.variables)
        value, bound = round(solver.objective_value), round(solver.best_objective_bound)
        self.model.add(aim <= value)
        return Reached(value, max(least, min(bound, value)))


def minimize_in_turn(search: Search, aims: Sequence[Callable[[], Aim]]) -> list[Reached]:
    """Every aim in its turn; ends with the first for which no solution was found in the work that was left."""
    reached: list[Reached] = []
    for aim in aims:
        found = search.minimize(aim(), 0)
        if found is None:
            break
        reached.append(found)
    return reached
