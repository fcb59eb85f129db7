import pytest
from django.http import HttpResponse
from django.urls import reverse

from boardshop.boards.models import Board, LayoutSearch
from boardshop.boards.searching.running import run_search
from tests.board_factories import make_board
from tests.boards.searches import PLACING, answered, ask
from tests.factories import Cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def board(cast: Cast) -> Board:
    return make_board(cast.shop)


def stop(cast: Cast, search: LayoutSearch, role: str = "editor") -> HttpResponse:
    answer = cast.browser(role).post(reverse("stop-search", args=[search.board.code, search.pk]))
    search.refresh_from_db()
    return answer


def test_it_leads_back_to_the_page_of_the_search(cast: Cast, board: Board) -> None:
    search = ask(board)
    answer = stop(cast, search)
    assert (answer.status_code, answer.url) == (303, reverse("show-search", args=[board.code, search.pk]))
    assert search.is_asked_to_stop


def test_one_that_waits_ends_without_a_search(cast: Cast, board: Board) -> None:
    search = ask(board)
    stop(cast, search)
    run_search(search.pk)
    search.refresh_from_db()
    assert (search.state, search.answers) == ("stopped", {})


def test_one_that_has_ended_stays_as_it_is(cast: Cast, board: Board) -> None:
    search = answered(board, PLACING)
    stop(cast, search)
    assert (search.state, search.is_asked_to_stop) == ("done", False)


def test_a_stranger_gets_404_and_a_viewer_403(cast: Cast, board: Board) -> None:
    search = ask(board)
    assert stop(cast, search, "stranger").status_code == 404
    assert stop(cast, search, "viewer").status_code == 403
    assert not search.is_asked_to_stop


def test_a_search_of_another_board_is_not_stopped(cast: Cast, board: Board) -> None:
    search = ask(make_board(cast.shop, name="Other"))
    cast.browser("editor").post(reverse("stop-search", args=[board.code, search.pk]))
    search.refresh_from_db()
    assert not search.is_asked_to_stop


def test_a_wrong_method_is_refused(cast: Cast, board: Board) -> None:
    url = reverse("stop-search", args=[board.code, ask(board).pk])
    assert cast.browser("editor").get(url).status_code == 405
