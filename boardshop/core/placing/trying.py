"""What the search tries next: a thing's other place, or two things changing places; compiled."""

from boardshop.core.placing.arrays import HIGH_X, HIGH_Y, LOW_X, LOW_Y, NETS, PARTS, SORT, TURNS, Model, State
from boardshop.core.placing.compiled import inlined
from boardshop.core.placing.standing import draw

type Spot = tuple[int, int, int]


@inlined
def shift(state: State, i: int, window: int) -> Spot:
    """A little to the side, to the front or rear, or both."""
    x, y = state.place[i, 0], state.place[i, 1]
    way = draw(state.random) & 3
    if way != 1:
        x += draw(state.random) % (2 * window + 1) - window
    if way != 0:
        y += draw(state.random) % (2 * window + 1) - window
    return x, y, state.place[i, 2]


@inlined
def turn_about(model: Model, state: State, i: int, window: int) -> Spot:
    """Another allowed turn about the middle of its outline, half the time moved as well."""
    x, y, old = state.place[i, 0], state.place[i, 1], state.place[i, 2]
    new = model.turns[i, draw(state.random) % model.counts[i, TURNS]]
    x += (
        model.reach[i, old, 0] + model.reach[i, old, 2] - model.reach[i, new, 0] - model.reach[i, new, 2]
    ) // 2
    y += (
        model.reach[i, old, 1] + model.reach[i, old, 3] - model.reach[i, new, 1] - model.reach[i, new, 3]
    ) // 2
    if draw(state.random) & 1:
        x += draw(state.random) % (2 * window + 1) - window
        y += draw(state.random) % (2 * window + 1) - window
    return x, y, new


@inlined
def jump(model: Model, state: State, i: int) -> Spot:
    """Anywhere."""
    turn = model.turns[i, draw(state.random) % model.counts[i, TURNS]]
    low_x, low_y = model.reach[i, turn, LOW_X], model.reach[i, turn, LOW_Y]
    x = low_x + draw(state.random) % max(1, model.reach[i, turn, HIGH_X] - low_x + 1)
    y = low_y + draw(state.random) % max(1, model.reach[i, turn, HIGH_Y] - low_y + 1)
    return x, y, turn


@inlined
def go_home(model: Model, state: State, i: int) -> Spot:
    """Back to where it stood, if that is asked for."""
    if model.home[i, 3] == 0:
        return state.place[i, 0], state.place[i, 1], state.place[i, 2]
    return model.home[i, 0], model.home[i, 1], model.home[i, 2]


@inlined
def snap(model: Model, state: State, i: int) -> Spot:
    """One of its parts just clear of another thing's part, or the thing against the frame."""
    x, y, turn = state.place[i, 0], state.place[i, 1], state.place[i, 2]
    other = draw(state.random) % state.place.shape[0]
    if other == i:
        return x, y, turn
    a, b = draw(state.random) % model.counts[i, PARTS], draw(state.random) % model.counts[other, PARTS]
    gap = model.gaps[model.parts[i, turn, a, SORT], model.parts[other, 0, b, SORT]]
    side = draw(state.random) & 7
    if side == 0:
        x = state.standing[other, b, 2] + gap - model.parts[i, turn, a, 0]
    elif side == 1:
        x = state.standing[other, b, 0] - gap - model.parts[i, turn, a, 2]
    elif side == 2:
        y = state.standing[other, b, 3] + gap - model.parts[i, turn, a, 1]
    elif side == 3:
        y = state.standing[other, b, 1] - gap - model.parts[i, turn, a, 3]
    elif side < 6:
        x = model.reach[i, turn, LOW_X if side == 4 else HIGH_X]
    else:
        y = model.reach[i, turn, LOW_Y if side == 6 else HIGH_Y]
    return x, y, turn


@inlined
def align(model: Model, state: State, i: int) -> Spot:
    """One of its jacks in line with the jack at the other end of the cable."""
    x, y, turn = state.place[i, 0], state.place[i, 1], state.place[i, 2]
    if model.counts[i, NETS] == 0:
        return x, y, turn
    k = draw(state.random) % model.counts[i, NETS]
    own, j = model.nets[i, k, 0], model.nets[i, k, 1]
    if j == i:
        return x, y, turn
    if j < 0:
        to_x, to_y = model.nets[i, k, 2], model.nets[i, k, 3]
    else:
        end, there = model.nets[i, k, 2], state.place[j, 2]
        to_x = state.place[j, 0] + model.ends[j, there, end, 0]
        to_y = state.place[j, 1] + model.ends[j, there, end, 1]
    way = draw(state.random) % 3
    if way != 0:
        x = to_x - model.ends[i, turn, own, 0]
    if way != 1:
        y = to_y - model.ends[i, turn, own, 1]
    return x, y, turn


@inlined
def in_place_of(model: Model, state: State, i: int, turn: int, j: int) -> Spot:
    """Thing i with the middle of its outline where thing j has its own."""
    x, y, there = state.place[j, 0], state.place[j, 1], state.place[j, 2]
    x += (
        model.reach[j, there, 0]
        + model.reach[j, there, 2]
        - model.reach[i, turn, 0]
        - model.reach[i, turn, 2]
    ) // 2
    y += (
        model.reach[j, there, 1]
        + model.reach[j, there, 3]
        - model.reach[i, turn, 1]
        - model.reach[i, turn, 3]
    ) // 2
    return x, y, turn


@inlined
def some_turn(model: Model, state: State, i: int, may_turn: int) -> int:
    if may_turn and model.counts[i, TURNS] > 1:
        return int(model.turns[i, draw(state.random) % model.counts[i, TURNS]])
    return int(state.place[i, 2])


@inlined
def inside(model: Model, i: int, spot: Spot) -> Spot:
    """The nearest place within the frame."""
    x, y, turn = spot
    x = min(max(x, model.reach[i, turn, LOW_X]), model.reach[i, turn, HIGH_X])
    y = min(max(y, model.reach[i, turn, LOW_Y]), model.reach[i, turn, HIGH_Y])
    return x, y, turn


@inlined
def is_allowed(model: Model, i: int, spot: Spot) -> bool:
    x, y, turn = spot
    if x < model.reach[i, turn, LOW_X] or y < model.reach[i, turn, LOW_Y]:
        return False
    return bool(model.allowed_y[i, turn, y])
