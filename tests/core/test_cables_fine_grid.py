"""Every run of boards drawn by lot against a search of every millimetre that knows nothing of the program."""

import json

import pytest

from boardshop.core.boardfile import load_plan_text
from boardshop.core.cables import Run, list_runs
from tests.core.fine_grid import Json, Route, measure_link, random_board, shortest

SMALL = [random_board(number, 90 + number % 40, 60 + number % 25, 2 + number % 5) for number in range(130)]


def runs_of(board: Json) -> tuple[Run, ...]:
    return list_runs(load_plan_text(json.dumps(board)))


def check_board(board: Json) -> list[bool]:
    """Whether each run is blocked; fails where the two do not agree on every number."""
    blocked = []
    for run, link in zip(runs_of(board), board["links"], strict=True):
        route = measure_link(board, link)
        assert (run.path_mm is None) == (route is None), link["ref"]
        assert bool(run.blocked_by) == (route is None), link["ref"]
        if route is not None:
            assert run.path_mm == route.path_mm, link["ref"]
            assert len(run.corners) == len(route.corners), link["ref"]
            assert [list(corner) for corner in run.corners] == route.corners, link["ref"]
        blocked.append(route is None)
    return blocked


@pytest.mark.parametrize("number", range(len(SMALL)))
def test_runs_are_those_of_a_search_of_every_millimetre(number: int) -> None:
    check_board(SMALL[number])


def test_the_boards_drawn_by_lot_try_everything() -> None:
    """Runs on top and under the frame, with corners and without, and blocked ones on both sides."""
    found = {
        (link["route"], None if route is None else min(len(route.corners), 3))
        for board in SMALL
        for link in board["links"]
        for route in [measure_link(board, link)]
    }
    assert found >= {(side, corners) for side in ("top", "under") for corners in (None, 0, 1, 2, 3)}


@pytest.mark.long
@pytest.mark.parametrize("number", range(60))
def test_runs_of_boards_of_full_size(number: int) -> None:
    check_board(random_board(5_000 + number, 560 + number, 300 + number % 80, 18))


@pytest.mark.long
@pytest.mark.parametrize("number", range(1_000))
def test_runs_of_a_thousand_more_small_boards(number: int) -> None:
    check_board(random_board(10_000 + number, 70 + number % 90, 50 + number % 50, 2 + number % 8))


# The reference itself, on ways that can be told at sight.


def test_the_reference_goes_straight_where_it_can() -> None:
    assert shortest((0, 5), (9, 5), [], (0, 0, 9, 9)) == Route(9, [])


def test_the_reference_goes_around_a_box_and_may_touch_it() -> None:
    assert shortest((0, 5), (9, 5), [(3, 3, 6, 8)], (0, 0, 9, 9)) == Route(13, [[0, 3], [9, 3]])


def test_the_reference_passes_the_seam_between_two_boxes() -> None:
    boxes = [(3, 0, 6, 5), (3, 5, 6, 9)]
    assert shortest((0, 5), (9, 5), boxes, (0, 0, 9, 9)) == Route(9, [])


def test_the_reference_is_stopped_by_a_wall_and_by_a_box_over_an_end() -> None:
    beside = shortest((0, 5), (9, 5), [(3, 0, 6, 9)], (0, 0, 9, 9))
    assert beside == Route(9 + 2 * 4, [[0, 9], [9, 9]])  # along the edge, which the wall only touches
    assert shortest((0, 5), (9, 5), [(3, -1, 6, 10)], (0, 0, 9, 9)) is None
    assert shortest((0, 5), (9, 5), [(8, 4, 10, 6)], (0, 0, 9, 9)) is None
