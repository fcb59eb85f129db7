"""A complete search for few pedals: proves a placing best, or that there is none (CP-SAT)."""

from dataclasses import dataclass
from itertools import combinations

from ortools.sat.python import cp_model

from boardshop.core.placing.arrays import (
    ALONE,
    CABLE_WEIGHT,
    FRONT_SWITCH,
    HIGH_X,
    LEAST_APART,
    LOW_X,
    MOST_APART,
    MOST_DEEP,
    NETS,
    SWITCHES,
    Ints,
)
from boardshop.core.placing.depths import LARGEST_MM
from boardshop.core.placing.forbidden import allowed_turns, forbidden_offsets
from boardshop.core.placing.problem import Problem

MOST_THINGS = 8
"""Beyond so many things that may move nothing was proved in the seconds a person waits."""


@dataclass(frozen=True)
class Proof:
    """``bound`` holds for every placing; ``places`` are better ones than were known, if any."""

    bound: int
    is_optimal: bool
    is_impossible: bool
    places: Ints | None = None
    cost: int = 0


def prove(problem: Problem, known: Ints | None, cost: int, work: float) -> Proof | None:
    """None where the problem is too large or of a sort that is not modelled; ``work`` is deterministic."""
    if not 0 < problem.movable <= MOST_THINGS or _has_wide_pairs(problem):
        return None
    complete = Complete(problem)
    if known is not None:
        complete.suppose(known, cost)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = work
    status = solver.solve(complete.model)
    if status == cp_model.INFEASIBLE:
        # Below what is known there is nothing: that is the proof.
        return Proof(cost if known is not None else 0, known is not None, known is None)
    if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        bound = round(solver.best_objective_bound)
        return Proof(bound, status == cp_model.OPTIMAL, False, complete.read(solver), 0)
    return Proof(0, False, False)


def _has_wide_pairs(problem: Problem) -> bool:
    """Which two switches of such a pair are the nearest depends on the places; that is not modelled."""
    return any(
        problem.model.pairs[i, j] and max(problem.model.counts[[i, j], SWITCHES]) > 1
        for i, j in combinations(range(len(problem.things)), 2)
    )


class Complete:
    """The model: a place and a turn for each thing, pairs kept apart, the score."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.model = cp_model.CpModel()
        self.x: list[cp_model.IntVar] = []
        self.y: list[cp_model.IntVar] = []
        self.turned: list[dict[int, cp_model.IntVar]] = []
        for i in range(len(problem.things)):
            self._add_thing(i)
        for i, j in combinations(range(len(problem.things)), 2):
            if i < problem.movable:
                self._keep_apart(i, j)
        self._pack_bodies()
        self.model.minimize(self._cost())

    def suppose(self, known: Ints, cost: int) -> None:
        """Ask only for something better than what is known."""
        self.model.add(self._cost_var <= cost - 1)

    def read(self, solver: cp_model.CpSolver) -> Ints:
        places = self.problem.start().place
        for i in range(self.problem.movable):
            turn = next(t for t, b in self.turned[i].items() if solver.value(b))
            places[i] = solver.value(self.x[i]), solver.value(self.y[i]), turn
        return places

    def _add_thing(self, i: int) -> None:
        problem, model = self.problem, self.model
        thing = problem.things[i]
        if thing.at is not None:
            self.x.append(model.new_constant(thing.at.x))
            self.y.append(model.new_constant(thing.at.y))
            self.turned.append({thing.at.turn // 90: model.new_constant(1)})
            return
        x = model.new_int_var(-LARGEST_MM, 2 * LARGEST_MM, f"x{i}")
        y = model.new_int_var(0, LARGEST_MM, f"y{i}")
        turned: dict[int, cp_model.IntVar] = {}
        for shape in thing.shapes:
            turn = shape.turn // 90
            turned[turn] = chosen = model.new_bool_var(f"t{i}.{turn}")
            low, high = problem.model.reach[i, turn, LOW_X], problem.model.reach[i, turn, HIGH_X]
            if low > high or not shape.ys:
                model.add(chosen == 0)
                continue
            model.add_linear_constraint(x, int(low), int(high)).only_enforce_if(chosen)
            domain = cp_model.Domain.from_values(shape.ys)
            model.add_linear_expression_in_domain(y, domain).only_enforce_if(chosen)
        model.add_exactly_one(turned.values())
        self.x.append(x)
        self.y.append(y)
        self.turned.append(turned)

    def _keep_apart(self, i: int, j: int) -> None:
        problem, model = self.problem, self.model
        in_x, in_y = self.x[j] - self.x[i], self.y[j] - self.y[i]
        for turn in allowed_turns(problem, i):
            for there in allowed_turns(problem, j):
                both = [self.turned[i][turn], self.turned[j][there]]
                for x0, y0, x1, y1 in _largest(forbidden_offsets(problem, i, turn, j, there)):
                    ways = [model.new_bool_var("") for _ in range(4)]
                    model.add(in_x <= x0).only_enforce_if(ways[0])
                    model.add(in_x >= x1).only_enforce_if(ways[1])
                    model.add(in_y <= y0).only_enforce_if(ways[2])
                    model.add(in_y >= y1).only_enforce_if(ways[3])
                    model.add_bool_or(*ways).only_enforce_if(both)
                if problem.model.pairs[i, j] and problem.model.counts[[i, j], SWITCHES].min() > 0:
                    self._keep_together(i, turn, j, there, both)

    def _keep_together(self, i: int, turn: int, j: int, there: int, both: list[cp_model.IntVar]) -> None:
        model, rules = self.model, self.problem.model.rules
        own, other = self.problem.model.switches[i, turn, 0], self.problem.model.switches[j, there, 0]
        in_x = self.x[j] - self.x[i] + int(other[0] - own[0])
        in_y = self.y[j] - self.y[i] + int(other[1] - own[1])
        least, most, deep = (int(rules[k]) for k in (LEAST_APART, MOST_APART, MOST_DEEP))
        band = cp_model.Domain.from_intervals([[-most, -least], [least, most]])
        model.add_linear_expression_in_domain(in_x, band).only_enforce_if(both)
        model.add_linear_constraint(in_y, -deep, deep).only_enforce_if(both)

    def _pack_bodies(self) -> None:
        """Says once more that bodies do not overlap, all at once, which proves far more."""
        gap, wide, deep = self.problem.plan.rules.gap_mm, [], []
        for i, thing in enumerate(self.problem.things[: self.problem.movable]):
            for shape in thing.shapes:
                body, chosen = shape.parts[0].box, self.turned[i][shape.turn // 90]
                w, d = body.width + gap, body.depth + gap
                wide.append(self.model.new_optional_fixed_size_interval_var(self.x[i], w, chosen, ""))
                deep.append(self.model.new_optional_fixed_size_interval_var(self.y[i], d, chosen, ""))
        self.model.add_no_overlap_2d(wide, deep)

    def _cost(self) -> cp_model.IntVar:
        problem = self.problem
        model = problem.model
        terms: list[cp_model.LinearExpr] = []
        for i in range(len(problem.things)):
            depth = self.y[i] + self._of_turn(i, model.reach[i, :, FRONT_SWITCH])
            terms.append(int(model.use[i]) * depth)
            for k in range(int(model.counts[i, NETS])):
                j = int(model.nets[i, k, 1])
                if j == ALONE or j > i:
                    terms += [int(model.rules[CABLE_WEIGHT]) * far for far in self._net(i, k)]
        total = self.model.new_int_var(0, 10**9, "cost")
        self.model.add(total >= cp_model.LinearExpr.sum(terms))
        self._cost_var = total
        return total

    def _net(self, i: int, k: int) -> list[cp_model.IntVar]:
        """The distances in x and y of one net's ends."""
        model = self.problem.model
        own, j, third, fourth = (int(value) for value in model.nets[i, k])
        found = []
        for axis, at in ((0, self.x), (1, self.y)):
            here = at[i] + self._of_turn(i, model.ends[i, :, own, axis])
            if j == ALONE:
                there: cp_model.LinearExpr = self.model.new_constant((third, fourth)[axis])
            else:
                there = at[j] + self._of_turn(j, model.ends[j, :, third, axis])
            far = self.model.new_int_var(0, 10**6, "")
            self.model.add(far >= here - there)
            self.model.add(far >= there - here)
            found.append(far)
        return found

    def _of_turn(self, i: int, by_turn: Ints) -> cp_model.LinearExpr:
        """What holds in the chosen turn."""
        return cp_model.LinearExpr.sum(
            [int(by_turn[turn]) * chosen for turn, chosen in self.turned[i].items()]
        )


def _largest(boxes: Ints) -> list[tuple[int, int, int, int]]:
    """Without those that lie in another."""
    rows = sorted({tuple(int(value) for value in box) for box in boxes})
    return [
        (one[0], one[1], one[2], one[3])
        for one in rows
        if not any(
            other != one
            and other[0] <= one[0]
            and other[1] <= one[1]
            and other[2] >= one[2]
            and other[3] >= one[3]
            for other in rows
        )
    ]
