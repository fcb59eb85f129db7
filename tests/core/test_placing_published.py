"""Packings that others have published and proved: squares of sides 1 to n in their least rectangle."""

import pytest

from tests.core.placing_boards import place
from tests.core.placing_checker import judge
from tests.core.square_boards import PUBLISHED, board_of_squares

LEAST = {int(n): tuple(size) for n, size in PUBLISHED["rectangles"].items()}
"""OEIS A038666 and A081287."""
TOO_SMALL = [
    (n, width - less_wide, depth - (1 - less_wide))
    for n, (width, depth) in LEAST.items()
    for less_wide in (0, 1)
    if n > 1
]


def squares(n, width, depth):
    return board_of_squares(width, depth, list(range(1, n + 1)))


@pytest.mark.parametrize("n", LEAST)
def test_the_least_rectangle_holds_all_squares(n):
    width, depth = LEAST[n]
    assert width * depth == PUBLISHED["least_areas"][str(n)]
    document = squares(n, width, depth)
    answer = place(document, seconds=2)
    assert judge(document, answer) == []
    assert answer["left_out"] == []


@pytest.mark.parametrize(("n", "width", "depth"), TOO_SMALL)
def test_one_less_is_impossible_and_said_so(n, width, depth):
    """Less area than the least: nobody can place them all, and a solver proves it."""
    document = squares(n, width, depth)
    answer = place(document, seconds=2)
    assert judge(document, answer) == []
    assert answer["left_out"]
    assert "impossible" in answer["why"]
