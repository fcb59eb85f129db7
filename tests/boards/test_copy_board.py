import pytest
from django.urls import reverse

from boardshop.boards.errors import NameMissing
from boardshop.boards.models import Board
from boardshop.boards.services import boards as services
from tests.board_factories import feeds_of, links_of, make_board, plan_of
from tests.factories import Cast

pytestmark = pytest.mark.django_db
URL = reverse("copy-board")


@pytest.fixture
def board(cast: Cast) -> Board:
    return make_board(cast.shop, 3)


def test_the_copy_has_the_same_gear_places_wiring_and_feeds(cast: Cast, board: Board) -> None:
    cast.browser("editor").post(URL, {"board": board.pk, "name": "Spare"})
    copy = Board.objects.get(name="Spare")
    assert (links_of(copy), feeds_of(copy)) == (links_of(board), feeds_of(board))
    assert plan_of(copy).pedals == plan_of(board).pedals
    assert copy.code != board.code


def test_a_copy_needs_a_name(cast: Cast, board: Board) -> None:
    answer = cast.browser("editor").post(URL, {"board": board.pk, "name": ""})
    assert answer.status_code == 422
    assert f'<option value="{board.pk}" selected>' in answer.text


def test_a_stranger_cannot_copy_it(cast: Cast, board: Board) -> None:
    answer = cast.browser("stranger").post(URL, {"board": board.pk, "name": "Mine"})
    assert answer.status_code == 422
    assert Board.objects.count() == 1


def test_a_viewer_gets_403(cast: Cast, board: Board) -> None:
    assert cast.browser("viewer").post(URL, {"board": board.pk, "name": "Spare"}).status_code == 403


def test_copy_board_refuses_get(cast: Cast) -> None:
    assert cast.browser("editor").get(URL).status_code == 405


def refuse(*_args: object, **_values: object) -> None:
    raise NameMissing


def test_what_the_service_refuses_leaves_what_was_typed(
    cast: Cast, monkeypatch: pytest.MonkeyPatch, board: Board
) -> None:
    """As when the tables refuse what the form let pass."""
    monkeypatch.setattr(services, "copy_board", refuse)
    answer = cast.browser("editor").post(URL, {"board": board.pk, "name": "Spare"})
    assert answer.status_code == 422
    assert "A board needs a name" in answer.context["copy_form"].errors["name"][0]
    assert 'value="Spare"' in answer.text
