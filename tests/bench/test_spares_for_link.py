from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from boardshop.boards.models import Board
from tests.board_factories import make_board
from tests.cable_factories import BAD, GOOD, count_queries, make_cable, make_tested, put, read
from tests.factories import Cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def board(cast: Cast) -> Board:
    return make_board(cast.shop, 3)


def url(board: Board, ref: str = "W2") -> str:
    return reverse("spares-for-link", args=[board.code, ref])


def test_the_best_stands_first_and_what_is_no_good_last(cast: Cast, board: Board) -> None:
    failed, longer, fitting = make_cable(cast.shop), make_tested(cast.shop, cast.editor, 900), None
    read(failed, BAD, cast.editor)
    fitting = make_tested(cast.shop, cast.editor, 100)
    used = make_tested(cast.shop, cast.editor, 100)
    put(used, board, "W3", cast.editor)
    spares = cast.browser("editor").get(url(board)).context["spares"]
    assert [spare.cable.code for spare in spares] == [fitting.code, longer.code, failed.code]


def test_each_that_fits_can_be_put_on(cast: Cast, board: Board) -> None:
    cable = make_tested(cast.shop, cast.editor)
    action = reverse("put-cable-on-board", args=[cable.code])
    assert [action in cast.browser(who).get(url(board)).text for who in ("editor", "viewer")] == [True, False]


def test_the_way_to_a_new_one_is_there_without_any_spare(cast: Cast, board: Board) -> None:
    text = cast.browser("editor").get(url(board)).text
    assert "No made cable is free" in text
    assert f"{reverse('add-made-cable')}?board={board.code}&amp;link=W2" in text


def test_queries_do_not_grow_with_the_spares(cast: Cast, board: Board) -> None:
    browser = cast.browser("editor")
    make_tested(cast.shop, cast.editor)
    few = count_queries(browser, url(board))
    for length in range(300, 900, 50):
        make_cable(cast.shop, length)
    assert count_queries(browser, url(board)) == few


def test_a_link_that_is_not_there_is_not_found(cast: Cast, board: Board) -> None:
    assert cast.browser("editor").get(url(board, "W77")).status_code == 404


def test_a_stranger_gets_404(cast: Cast, board: Board) -> None:
    assert cast.browser("stranger").get(url(board)).status_code == 404


def test_spares_for_link_refuses_post(cast: Cast, board: Board) -> None:
    assert cast.browser("owner").post(url(board)).status_code == 405


def test_a_spare_that_is_to_be_tested_again_says_so(cast: Cast, board: Board) -> None:
    fresh, old = make_cable(cast.shop), make_cable(cast.shop)
    read(fresh, GOOD, cast.editor, on=timezone.localdate())
    read(old, GOOD, cast.editor, on=timezone.localdate() - timedelta(days=400))
    rows = cast.browser("editor").get(url(board)).text.split("<tr>")
    due = [row for row in rows if "retest due" in row]
    assert [(old.code in row, fresh.code in row) for row in due] == [(True, False)]
