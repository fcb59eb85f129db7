"""Simulated annealing over places that may overlap, at a price that rises; compiled.

Energy is cost + price x penalty.  Beside the common price every pair of things has a weight of its own, which
grows as long as the two overlap and decays when they do not (guided local search), so that the pairs that
nothing else parts are parted in the end.  Whole numbers throughout: the same seed gives the same places.
"""

import numpy as np

from boardshop.core.placing.arrays import FAR, UNIT, Ints, Model, State
from boardshop.core.placing.compiled import compiled, inlined
from boardshop.core.placing.energy import own_cost, penalty
from boardshop.core.placing.standing import draw, put
from boardshop.core.placing.trying import (
    Spot,
    align,
    go_home,
    in_place_of,
    inside,
    is_allowed,
    jump,
    shift,
    snap,
    some_turn,
    turn_about,
)

MOST_WEIGHT = 64 * UNIT
NOBODY = -2
PLACES = 112
"""Of 128 trials so many move one thing, the others let two change places; the parts were set by trying."""


@compiled
def settle(model: Model, state: State) -> None:
    """Fill everything that follows from the places and weights."""
    count = state.place.shape[0]
    for i in range(count):
        put(model, state, i, state.place[i, 0], state.place[i, 1], state.place[i, 2])
    state.sums[0], state.sums[1] = 0, 0
    for i in range(count):
        x, y, turn = state.place[i, 0], state.place[i, 1], state.place[i, 2]
        state.trouble[i] = penalty(model, state, i, x, y, turn, NOBODY, FAR, 0)
        for k in range(count):
            state.overlap[i, k] = state.rows[0, k]
        state.sums[1] += state.trouble[i]
    state.sums[1] //= 2


@compiled
def raise_weights(state: State, growth: int, decay: int) -> None:
    """Pairs that overlap weigh more from now on (growth/256 of their weight), others less again."""
    for a in range(state.place.shape[0]):
        for b in range(a):
            old = state.weights[a, b]
            if old == 0:
                continue
            held = state.overlap[a, b]
            if held > 0:
                new = min(old + max(1, (old * growth) >> 8), MOST_WEIGHT)
            else:
                new = max(old - ((old * decay) >> 8), UNIT)
            state.weights[a, b] = state.weights[b, a] = new
            if held > 0 and new != old:
                now = held * new // old
                state.overlap[a, b] = state.overlap[b, a] = now
                state.trouble[a] += now - held
                state.trouble[b] += now - held
                state.sums[1] += now - held


@inlined
def try_place(model: Model, state: State, i: int, spot: Spot, price: int, bar: int) -> bool:
    """Move thing i there if the energy rises by no more than ``bar`` sixteenths."""
    spot = inside(model, i, spot)
    x, y, turn = spot
    old_x, old_y, old_turn = state.place[i, 0], state.place[i, 1], state.place[i, 2]
    if not is_allowed(model, i, spot) or (x == old_x and y == old_y and turn == old_turn):
        return False
    rise = own_cost(model, state, i, x, y, turn, NOBODY) - own_cost(
        model, state, i, old_x, old_y, old_turn, NOBODY
    )
    limit = state.trouble[i] * price + bar - rise * UNIT
    if limit < 0:
        return False
    found = penalty(model, state, i, x, y, turn, NOBODY, limit // price, 0)
    if found > limit // price:
        return False
    state.sums[0] += rise
    state.sums[1] += found - state.trouble[i]
    for k in range(state.place.shape[0]):
        if state.rows[0, k] != state.overlap[i, k]:
            state.trouble[k] += state.rows[0, k] - state.overlap[i, k]
            state.overlap[i, k] = state.overlap[k, i] = state.rows[0, k]
    state.trouble[i] = found
    put(model, state, i, x, y, turn)
    return True


@inlined
def try_swap(model: Model, state: State, i: int, j: int, price: int, bar: int) -> bool:
    """Let two things change places, perhaps turned, if the energy rises by no more than ``bar``."""
    may_turn = draw(state.random) & 1
    here = (state.place[i, 0], state.place[i, 1], state.place[i, 2])
    there = (state.place[j, 0], state.place[j, 1], state.place[j, 2])
    to = inside(model, i, in_place_of(model, state, i, some_turn(model, state, i, may_turn), j))
    fro = inside(model, j, in_place_of(model, state, j, some_turn(model, state, j, may_turn), i))
    if not is_allowed(model, i, to) or not is_allowed(model, j, fro):
        return False
    rise = -own_cost(model, state, i, here[0], here[1], here[2], NOBODY)
    rise -= own_cost(model, state, j, there[0], there[1], there[2], i)
    put(model, state, j, fro[0], fro[1], fro[2])
    rise += own_cost(model, state, i, to[0], to[1], to[2], NOBODY)
    put(model, state, i, to[0], to[1], to[2])
    rise += own_cost(model, state, j, fro[0], fro[1], fro[2], i)
    before = state.trouble[i] + state.trouble[j] - state.overlap[i, j]
    limit = before * price + bar - rise * UNIT
    if limit >= 0 and swap_penalties(model, state, i, to, j, fro, before, limit // price):
        state.sums[0] += rise
        return True
    put(model, state, i, here[0], here[1], here[2])
    put(model, state, j, there[0], there[1], there[2])
    return False


@inlined
def swap_penalties(
    model: Model, state: State, i: int, to: Spot, j: int, fro: Spot, before: int, limit: int
) -> bool:
    """Both stand at their new places: take the new penalties in if they stay within the limit."""
    own = penalty(model, state, i, to[0], to[1], to[2], j, limit, 0)
    if own > limit:
        return False
    others = penalty(model, state, j, fro[0], fro[1], fro[2], NOBODY, limit - own, 1)
    if own + others > limit:
        return False
    both = state.rows[1, i]
    state.rows[0, j] = both
    state.sums[1] += own + others - before
    for k in range(state.place.shape[0]):
        if k not in (i, j):
            state.trouble[k] += state.rows[0, k] - state.overlap[i, k]
            state.trouble[k] += state.rows[1, k] - state.overlap[j, k]
    for k in range(state.place.shape[0]):
        state.overlap[i, k] = state.overlap[k, i] = state.rows[0, k]
    for k in range(state.place.shape[0]):
        state.overlap[j, k] = state.overlap[k, j] = state.rows[1, k]
    state.trouble[i], state.trouble[j] = own + both, others
    return True


@inlined
def think_of(model: Model, state: State, i: int, lot: int, window: int) -> Spot:
    """Another place for thing i."""
    if lot < 58:
        return shift(state, i, window)
    if lot < 68:
        return turn_about(model, state, i, window)
    if lot < 71:
        return jump(model, state, i)
    if lot < 72:
        return go_home(model, state, i)
    if lot < 100:
        return snap(model, state, i)
    return align(model, state, i)


@inlined
def remember(state: State) -> None:
    state.best_cost[0] = state.sums[0]
    for i in range(state.place.shape[0]):
        for k in range(3):
            state.best[i, k] = state.place[i, k]


@compiled
def run_steps(model: Model, state: State, movable: int, schedule: Ints, logs: Ints, per_step: int) -> None:
    """One row of the schedule after the other: temperature, price (sixteenths), window, growth, decay."""
    for step in range(schedule.shape[0]):
        heat, price, window = schedule[step, 0], schedule[step, 1], schedule[step, 2]
        if schedule[step, 3] > 0:
            raise_weights(state, schedule[step, 3], schedule[step, 4])
        for _ in range(per_step):
            bar = (heat * logs[draw(state.random) & 4095]) >> 16
            i = draw(state.random) % movable
            lot = draw(state.random) & 127
            if lot < PLACES:
                moved = try_place(model, state, i, think_of(model, state, i, lot, window), price, bar)
            else:
                j = draw(state.random) % movable
                moved = i != j and try_swap(model, state, i, j, price, bar)
            if moved and state.sums[1] == 0 and state.sums[0] < state.best_cost[0]:
                remember(state)


@compiled
def whole_cost(model: Model, state: State) -> int:
    """The cost of all places: each net once."""
    total = np.int64(0)
    for i in range(state.place.shape[0]):
        total += own_cost(model, state, i, state.place[i, 0], state.place[i, 1], state.place[i, 2], NOBODY)
        for j in range(i):
            x, y, turn = state.place[i, 0], state.place[i, 1], state.place[i, 2]
            total -= own_cost(model, state, i, x, y, turn, NOBODY)
            total += own_cost(model, state, i, x, y, turn, j)
    return int(total)
