"""Where one thing may not stand beside another: exact, for the bounds and the complete search."""

from itertools import product

import numpy as np

from boardshop.core.placing.arrays import HEIGHT, PARTS, PASSING, SORT, SWITCH_GAP, SWITCHES, TURNS, Ints
from boardshop.core.placing.problem import Problem


def allowed_turns(problem: Problem, i: int) -> list[int]:
    """In quarters."""
    return [int(turn) for turn in problem.model.turns[i, : problem.model.counts[i, TURNS]]]


def forbidden_offsets(problem: Problem, i: int, turn: int, j: int, there: int) -> Ints:
    """[n]: x0 y0 x1 y1 of the open rectangles in which j's place, less i's, makes two parts too near."""
    model, boxes = problem.model, []
    for a, b in product(range(int(model.counts[i, PARTS])), range(int(model.counts[j, PARTS]))):
        one, other = model.parts[i, turn, a], model.parts[j, there, b]
        gap = model.gaps[one[SORT], other[SORT]]
        heights = (one[HEIGHT], other[HEIGHT])
        if min(heights) >= 0 and abs(heights[0] - heights[1]) >= model.rules[PASSING]:
            continue
        low = one[0] - other[2] - gap, one[1] - other[3] - gap
        high = one[2] - other[0] + gap, one[3] - other[1] + gap
        boxes.append((*low, *high))
    gap = model.rules[SWITCH_GAP]
    for a, b in product(range(int(model.counts[i, SWITCHES])), range(int(model.counts[j, SWITCHES]))):
        apart = model.switches[i, turn, a] - model.switches[j, there, b]
        boxes.append((*(apart - gap), *(apart + gap)))
    found = np.array(boxes, np.int64).reshape(-1, 4)
    return found[(found[:, 0] < found[:, 2]) & (found[:, 1] < found[:, 3])]
