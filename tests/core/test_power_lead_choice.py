"""The assignment of leads, held against SciPy's solver of the rectangular problem and against trying all."""

from itertools import product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment

from boardshop.core.power.lead_choice import assign_cheapest

NEVER = 10**7
"""What no sum of the costs below comes to, for not being placed."""

type Table = list[list[int | None]]


@st.composite
def tables(draw: st.DrawFn, rows: int, columns: int, most: int = 900) -> tuple[Table, list[int]]:
    wide = draw(st.integers(0, columns))
    cost = st.none() | st.integers(0, most)
    table = draw(st.lists(st.lists(cost, min_size=wide, max_size=wide), max_size=rows))
    return table, draw(st.lists(st.integers(0, 3), min_size=wide, max_size=wide))


def cost_of(table: Table, taken: tuple[int | None, ...]) -> int:
    costs = [NEVER if column is None else table[row][column] for row, column in enumerate(taken)]
    assert None not in costs
    return sum(cost for cost in costs if cost is not None)


def is_allowed(table: Table, room: list[int], taken: tuple[int | None, ...]) -> bool:
    placed = [(row, column) for row, column in enumerate(taken) if column is not None]
    return all(table[row][column] is not None for row, column in placed) and all(
        sum(column == one for _, column in placed) <= room[one] for one in range(len(room))
    )


def best_by_scipy(table: Table, room: list[int]) -> int:
    """Every place of a column by itself, and for each row one to be nowhere."""
    places = [column for column, count in enumerate(room) for _ in range(count)]
    costs = np.full((len(table), len(places) + len(table)), 2 * NEVER * (len(table) + 1), dtype=float)
    for number, row in enumerate(table):
        for at, column in enumerate(places):
            if row[column] is not None:
                costs[number, at] = row[column]
        costs[number, len(places) + number] = NEVER
    if not table:
        return 0
    rows, columns = linear_sum_assignment(costs)
    return int(costs[rows, columns].sum())


@given(tables(rows=12, columns=6))
@settings(max_examples=400, deadline=None)
def test_no_assignment_is_better_by_scipy(case: tuple[Table, list[int]]) -> None:
    table, room = case
    taken = assign_cheapest(table, room)
    assert is_allowed(table, room, taken)
    assert cost_of(table, taken) == best_by_scipy(table, room)


@given(tables(rows=4, columns=3, most=3))
@settings(max_examples=400, deadline=None)
def test_of_equally_good_ones_the_first_of_all_there_are(case: tuple[Table, list[int]]) -> None:
    table, room = case
    options: list[int | None] = [*range(len(room)), None]
    everything = [taken for taken in product(options, repeat=len(table)) if is_allowed(table, room, taken)]

    def place(taken: tuple[int | None, ...]) -> tuple[int, list[int]]:
        return cost_of(table, taken), [len(room) if column is None else column for column in taken]

    assert assign_cheapest(table, room) == min(everything, key=place)


@pytest.mark.parametrize(
    ("table", "room", "taken"),
    [
        ([], [], ()),
        ([[]], [], (None,)),
        ([[5]], [0], (None,)),
        # The first row gives way, since the second fits nowhere else.
        ([[0, 9], [0, None]], [1, 1], (1, 0)),
        # Three in a row move along one.
        ([[0, 1, None], [None, 0, 1], [0, None, None]], [1, 1, 1], (1, 2, 0)),
        # More served counts before any length.
        ([[0, 900], [0, None]], [1, 1], (1, 0)),
        ([[7], [7], [7]], [2], (0, 0, None)),
    ],
)
def test_rows_make_way_for_each_other(table: Table, room: list[int], taken: tuple[int | None, ...]) -> None:
    assert assign_cheapest(table, room) == taken


def test_forty_feeds_and_twenty_sorts_take_no_time() -> None:
    """A board larger than any that is built; the sizes of the numbers grow with the rows."""
    table: Table = [[(13 * row + 7 * column) % 300 for column in range(20)] for row in range(40)]
    assert cost_of(table, assign_cheapest(table, [3] * 20)) == best_by_scipy(table, [3] * 20)
