import pytest
from django.http import HttpResponse
from django.urls import reverse

from boardshop.boards.models import Board, LayoutSearch
from boardshop.boards.searching.stored import write_placing
from tests.board_factories import make_board
from tests.boards.contract import HTMX, normal
from tests.boards.searches import PLACING, answered, ask
from tests.factories import Cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def board(cast: Cast) -> Board:
    return make_board(cast.shop)


def watch(cast: Cast, search: LayoutSearch, role: str = "viewer") -> HttpResponse:
    url = reverse("watch-search", args=[search.board.code, search.pk])
    return cast.browser(role).get(url, headers=HTMX)


def test_what_it_answers_stands_in_the_page(cast: Cast, board: Board) -> None:
    search = ask(board)
    LayoutSearch.objects.update(state="running", percent=17, best=write_placing(PLACING))
    answer = watch(cast, search)
    page = cast.browser("viewer").get(reverse("show-search", args=[board.code, search.pk])).text
    assert normal(answer.text) in normal(page)
    assert 'value="17"' in answer.text


def test_the_best_so_far_is_drawn_with_its_score(cast: Cast, board: Board) -> None:
    search = ask(board)
    LayoutSearch.objects.update(state="running", best=write_placing(PLACING))
    text = watch(cast, search).text
    assert "score 1034, cable between plugs 250 mm" in text
    assert 'class="board-drawing"' in text


def test_when_it_has_ended_the_page_is_asked_for_anew(cast: Cast, board: Board) -> None:
    search = answered(board, PLACING)
    answer = watch(cast, search)
    assert answer.status_code == 204
    assert answer["HX-Redirect"] == reverse("show-search", args=[board.code, search.pk])


def test_without_scripts_it_leads_to_the_page(cast: Cast, board: Board) -> None:
    search = ask(board)
    answer = cast.browser("viewer").get(reverse("watch-search", args=[board.code, search.pk]))
    assert (answer.status_code, answer.url) == (302, reverse("show-search", args=[board.code, search.pk]))


def test_a_stranger_gets_404(cast: Cast, board: Board) -> None:
    assert watch(cast, ask(board), "stranger").status_code == 404


def test_a_wrong_method_is_refused(cast: Cast, board: Board) -> None:
    url = reverse("watch-search", args=[board.code, ask(board).pk])
    assert cast.browser("editor").post(url).status_code == 405


@pytest.mark.parametrize("pedals", [1, 18])
def test_its_queries_are_few(cast: Cast, pedals: int, django_assert_max_num_queries: object) -> None:
    search = ask(make_board(cast.shop, pedals))
    LayoutSearch.objects.update(state="running", best=write_placing(PLACING))
    browser = cast.browser("viewer")
    url = reverse("watch-search", args=[search.board.code, search.pk])
    with django_assert_max_num_queries(6):  # type: ignore[operator]
        browser.get(url, headers=HTMX)
