"""A score that no placing goes below: each cable and each step for itself, as if the rest did not exist.

Calculation: of a cable between two pedals, the least distance of its ends over all turns of both and all
positions of one beside the other at which no two of their parts are too near; of a lead, the least distance
within the frame; of a step, the least depth of its switch.
"""

from itertools import product

import numpy as np

from boardshop.core.placing.arrays import (
    ALONE,
    CABLE_WEIGHT,
    FRONT_SWITCH,
    HIGH_X,
    HIGH_Y,
    LOW_X,
    LOW_Y,
    NETS,
    Ints,
)
from boardshop.core.placing.forbidden import allowed_turns, forbidden_offsets
from boardshop.core.placing.problem import Problem


def score_bound(problem: Problem) -> int:
    """No placing of all things of the problem has a lower score."""
    model, total = problem.model, 0
    for i in range(len(problem.things)):
        total += int(model.use[i]) * min(_step_depth(problem, i, turn) for turn in allowed_turns(problem, i))
        for k in range(int(model.counts[i, NETS])):
            other = int(model.nets[i, k, 1])
            if other == ALONE:
                total += int(model.rules[CABLE_WEIGHT]) * _least_lead(problem, i, k)
            elif other > i:
                total += int(model.rules[CABLE_WEIGHT]) * _least_cable(problem, i, k)
    return total


def _step_depth(problem: Problem, i: int, turn: int) -> int:
    at = problem.things[i].at
    lowest = at.y if at is not None else int(problem.model.reach[i, turn, LOW_Y])
    return lowest + int(problem.model.reach[i, turn, FRONT_SWITCH])


def _least_lead(problem: Problem, i: int, net: int) -> int:
    model, at = problem.model, problem.things[i].at
    own, _, to_x, to_y = (int(value) for value in model.nets[i, net])
    least = []
    for turn in allowed_turns(problem, i):
        reach = model.reach[i, turn]
        xs = (at.x, at.x) if at else (int(reach[LOW_X]), int(reach[HIGH_X]))
        ys = (at.y, at.y) if at else (int(reach[LOW_Y]), int(reach[HIGH_Y]))
        end = model.ends[i, turn, own]
        least.append(_outside(to_x - int(end[0]), xs) + _outside(to_y - int(end[1]), ys))
    return min(least)


def _outside(value: int, span: tuple[int, int]) -> int:
    return max(span[0] - value, value - span[1], 0)


def _least_cable(problem: Problem, i: int, net: int) -> int:
    """Over all turns of both; both where they are fixed."""
    model = problem.model
    own, j, other, _ = (int(value) for value in model.nets[i, net])
    one, two = problem.things[i].at, problem.things[j].at
    least = []
    for turn, there in product(allowed_turns(problem, i), allowed_turns(problem, j)):
        wanted = model.ends[i, turn, own] - model.ends[j, there, other]
        if one is not None and two is not None:
            least.append(abs(two.x - one.x - int(wanted[0])) + abs(two.y - one.y - int(wanted[1])))
        else:
            least.append(_nearest_allowed(wanted, forbidden_offsets(problem, i, turn, j, there)))
    return min(least)


def _nearest_allowed(wanted: Ints, forbidden: Ints) -> int:
    """The least sum of the distances in x and y to a point in none of the rectangles.

    The nearest such point has its x from the wanted point or a rectangle's side, and its y likewise.
    """
    xs = np.unique(np.concatenate(([wanted[0]], forbidden[:, 0], forbidden[:, 2])))
    ys = np.unique(np.concatenate(([wanted[1]], forbidden[:, 1], forbidden[:, 3])))
    in_x = (forbidden[:, 0, None] < xs) & (xs < forbidden[:, 2, None])
    in_y = (forbidden[:, 1, None] < ys) & (ys < forbidden[:, 3, None])
    is_inside = np.einsum("kx,ky->xy", in_x.astype(np.int64), in_y.astype(np.int64)) > 0
    far = np.abs(xs - wanted[0])[:, None] + np.abs(ys - wanted[1])[None, :]
    return int(far[~is_inside].min())
