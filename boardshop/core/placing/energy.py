"""What a place costs, and how far it breaks the rules; compiled."""

from boardshop.core.placing.arrays import (
    CABLE_WEIGHT,
    FRONT_SWITCH,
    HEIGHT,
    LEAST_APART,
    MOST_APART,
    MOST_DEEP,
    NETS,
    PARTS,
    PASSING,
    SORT,
    SWITCH_GAP,
    SWITCHES,
    Model,
    State,
)
from boardshop.core.placing.compiled import inlined

TOUCH = 4
"""Added to the depth of every overlap, so that many shallow ones do not look like none."""


@inlined
def own_cost(model: Model, state: State, i: int, x: int, y: int, turn: int, skip: int) -> int:
    """Cable of thing i's nets (but those to thing ``skip``), its step's distance, its way from home."""
    cable = 0
    for k in range(model.counts[i, NETS]):
        own, j = model.nets[i, k, 0], model.nets[i, k, 1]
        from_x, from_y = x + model.ends[i, turn, own, 0], y + model.ends[i, turn, own, 1]
        if j < 0:
            cable += 2 * (abs(from_x - model.nets[i, k, 2]) + abs(from_y - model.nets[i, k, 3]))
        elif j == i:
            other = model.nets[i, k, 2]
            cable += abs(from_x - x - model.ends[i, turn, other, 0])
            cable += abs(from_y - y - model.ends[i, turn, other, 1])
        elif j != skip:
            other, there = model.nets[i, k, 2], state.place[j, 2]
            cable += 2 * abs(from_x - state.place[j, 0] - model.ends[j, there, other, 0])
            cable += 2 * abs(from_y - state.place[j, 1] - model.ends[j, there, other, 1])
    cost = model.rules[CABLE_WEIGHT] * cable // 2 + model.use[i] * (y + model.reach[i, turn, FRONT_SWITCH])
    leaving = model.home[i, 3]
    if leaving > 0 and (x != model.home[i, 0] or y != model.home[i, 1] or turn != model.home[i, 2]):
        far = abs(x - model.home[i, 0]) + abs(y - model.home[i, 1])
        cost += leaving + model.home[i, 4] * far
    return int(cost)


@inlined
def part_overlap(model: Model, state: State, i: int, x: int, y: int, turn: int, j: int) -> int:
    """How far the parts of i at a place come too near to those of j where it stands."""
    sum_of_depths = 0
    left, front, right, rear = (
        state.outline[j, 0],
        state.outline[j, 1],
        state.outline[j, 2],
        state.outline[j, 3],
    )
    for a in range(model.counts[i, PARTS]):
        x0, x1 = model.parts[i, turn, a, 0] + x, model.parts[i, turn, a, 2] + x
        y0, y1 = model.parts[i, turn, a, 1] + y, model.parts[i, turn, a, 3] + y
        if x0 >= right or left >= x1 or y0 >= rear or front >= y1:
            continue
        for b in range(model.counts[j, PARTS]):
            gap = model.gaps[model.parts[i, turn, a, SORT], model.parts[j, 0, b, SORT]]
            in_x = min(x1, state.standing[j, b, 2]) - max(x0, state.standing[j, b, 0]) + gap
            if in_x <= 0:
                continue
            in_y = min(y1, state.standing[j, b, 3]) - max(y0, state.standing[j, b, 1]) + gap
            if in_y <= 0:
                continue
            one, other = model.parts[i, turn, a, HEIGHT], model.parts[j, 0, b, HEIGHT]
            if one >= 0 and other >= 0 and abs(one - other) >= model.rules[PASSING]:
                continue
            sum_of_depths += min(in_x, in_y) + TOUCH
    return sum_of_depths


@inlined
def switches_too_near(model: Model, state: State, i: int, x: int, y: int, turn: int, j: int) -> int:
    """How far the switches of i and j are nearer than allowed."""
    gap = model.rules[SWITCH_GAP]
    total = 0
    for a in range(model.counts[i, SWITCHES]):
        own_x, own_y = x + model.switches[i, turn, a, 0], y + model.switches[i, turn, a, 1]
        for b in range(model.counts[j, SWITCHES]):
            apart = max(abs(own_x - state.feet[j, b, 0]), abs(own_y - state.feet[j, b, 1]))
            if apart < gap:
                total += gap - apart + TOUCH
    return total


@inlined
def pair_too_far(model: Model, state: State, i: int, x: int, y: int, turn: int, j: int) -> int:
    """How far the nearest switches of two that are stepped on together miss the band."""
    least, most, deep = model.rules[LEAST_APART], model.rules[MOST_APART], model.rules[MOST_DEEP]
    nearest, miss_of_nearest = 1 << 40, 0
    for a in range(model.counts[i, SWITCHES]):
        own_x, own_y = x + model.switches[i, turn, a, 0], y + model.switches[i, turn, a, 1]
        for b in range(model.counts[j, SWITCHES]):
            in_x, in_y = abs(own_x - state.feet[j, b, 0]), abs(own_y - state.feet[j, b, 1])
            miss = max(0, least - in_x) + max(0, in_x - most) + max(0, in_y - deep)
            rank = 2 * max(in_x, in_y) + (miss > 0)
            if rank < nearest:
                nearest, miss_of_nearest = rank, miss
    return miss_of_nearest + TOUCH if miss_of_nearest > 0 else 0


@inlined
def penalty(
    model: Model, state: State, i: int, x: int, y: int, turn: int, skip: int, limit: int, row: int
) -> int:
    """Weighed penalty of thing i at a place, by thing in ``state.rows[row]``; gives up above ``limit``."""
    x0, y0 = model.reach[i, turn, 0] + x, model.reach[i, turn, 1] + y
    x1, y1 = model.reach[i, turn, 2] + x, model.reach[i, turn, 3] + y
    steps = model.counts[i, SWITCHES] > 0
    total = 0
    for j in range(state.place.shape[0]):
        amount = 0
        if j != i and j != skip:
            in_x = x0 < state.outline[j, 2] and state.outline[j, 0] < x1
            if in_x and y0 < state.outline[j, 3] and state.outline[j, 1] < y1:
                amount = part_overlap(model, state, i, x, y, turn, j)
            if steps and model.counts[j, SWITCHES] > 0:
                amount += switches_too_near(model, state, i, x, y, turn, j)
                if model.pairs[i, j]:
                    amount += pair_too_far(model, state, i, x, y, turn, j)
            if amount > 0:
                amount = (amount * state.weights[i, j]) >> 4
        state.rows[row, j] = amount
        total += amount
        if total > limit:
            return total
    return total
