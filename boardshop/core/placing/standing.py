"""Random draws, and a thing put at a place; compiled."""

import numpy as np

from boardshop.core.placing.arrays import PARTS, SWITCHES, WIDEST, Model, Random, State
from boardshop.core.placing.compiled import inlined


@inlined
def draw(random: Random) -> int:
    """31 random bits: the xorshift64* generator (S. Vigna, ACM Trans. Math. Softw. 42(4), 2016)."""
    x = random[0]
    x ^= x >> np.uint64(12)
    x ^= x << np.uint64(25)
    x ^= x >> np.uint64(27)
    random[0] = x
    return int((x * np.uint64(2685821657736338717)) >> np.uint64(33))


@inlined
def put(model: Model, state: State, i: int, x: int, y: int, turn: int) -> None:
    """Stand thing i at a place, with its boxes and switches."""
    state.place[i, 0], state.place[i, 1], state.place[i, 2] = x, y, turn
    widest = model.rules[WIDEST]
    state.outline[i, 0] = model.reach[i, turn, 0] + x - widest
    state.outline[i, 1] = model.reach[i, turn, 1] + y - widest
    state.outline[i, 2] = model.reach[i, turn, 2] + x + widest
    state.outline[i, 3] = model.reach[i, turn, 3] + y + widest
    for k in range(model.counts[i, PARTS]):
        state.standing[i, k, 0] = model.parts[i, turn, k, 0] + x
        state.standing[i, k, 1] = model.parts[i, turn, k, 1] + y
        state.standing[i, k, 2] = model.parts[i, turn, k, 2] + x
        state.standing[i, k, 3] = model.parts[i, turn, k, 3] + y
    for k in range(model.counts[i, SWITCHES]):
        state.feet[i, k, 0] = model.switches[i, turn, k, 0] + x
        state.feet[i, k, 1] = model.switches[i, turn, k, 1] + y
