"""Which of the leads at hand serves which feed: an assignment with a proved optimum.

Rows are taken in one after the other, each along the shortest augmenting path, so that the rows taken in so
far are always placed best (the successive shortest path method; Bellman and Ford's, since moves may gain).
"""

from collections.abc import Sequence

type Costs = Sequence[Sequence[int | None]]
"""A row for each feed, a column for each sort of lead; None where the lead does not do."""


def assign_cheapest(costs: Costs, room: Sequence[int]) -> tuple[int | None, ...]:
    """The column that each row takes, or None; no column takes more rows than it has ``room`` for.

    Most rows placed; then the least sum of costs; then the first columns for the first rows.
    Costs are zero or more.
    """
    keys = _weigh(costs, len(room))
    nowhere = len(room)
    spaces = [*room, len(costs)]
    placed: list[int] = []
    for row in range(len(costs)):
        _take_in(row, keys, spaces, placed)
    return tuple(None if column == nowhere else column for column in placed)


def _weigh(costs: Costs, columns: int) -> list[list[int | None]]:
    """The three aims in one whole number for each row and column; the last column means nowhere.

    The columns taken, read as the digits of a number, come below one unit of cost: so the best is unique.
    """
    base, rows = columns + 1, len(costs)
    unit = base**rows
    dear = 1 + sum(max((cost for cost in row if cost is not None), default=0) for row in costs)
    keys: list[list[int | None]] = []
    for number, row in enumerate(costs):
        digit = base ** (rows - 1 - number)
        own: list[int | None] = [None if c is None else c * unit + n * digit for n, c in enumerate(row)]
        keys.append([*own, dear * unit + columns * digit])
    return keys


def _take_in(row: int, keys: list[list[int | None]], spaces: list[int], placed: list[int]) -> None:
    """Place one more row, moving others where that is best; changes ``placed`` and ``spaces``."""
    least = list(keys[row])
    mover: list[int] = [row] * len(least)
    changed = True
    while changed:
        changed = False
        for other, column in enumerate(placed):
            here, own = least[column], keys[other][column]
            if here is None or own is None:
                continue
            for target, key in enumerate(keys[other]):
                if key is None or target == column:
                    continue
                so_far, through = least[target], here - own + key
                if so_far is None or through < so_far:
                    least[target], mover[target] = through, other
                    changed = True
    reached = [(key, column) for column, key in enumerate(least) if key is not None and spaces[column]]
    target = min(reached)[1]
    spaces[target] -= 1
    placed.append(-1)
    while mover[target] != row:
        moving = mover[target]
        placed[moving], target = target, placed[moving]
    placed[row] = target
