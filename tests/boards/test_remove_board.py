import pytest
from django.urls import reverse

from boardshop.boards.models import Board
from boardshop.gear.models import PedalModel
from tests.board_factories import make_board
from tests.factories import Cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def board(cast: Cast) -> Board:
    return make_board(cast.shop, 3)


@pytest.fixture
def url(board: Board) -> str:
    return reverse("remove-board", args=[board.code])


def test_the_board_is_gone_and_its_gear_is_not(cast: Cast, url: str) -> None:
    answer = cast.browser("editor").post(url, {"edit": 0}, follow=True)
    assert answer.redirect_chain[-1][0] == "/"
    assert "is in the trash for 30 days; its gear is free for other boards" in answer.text
    assert reverse("trash") in answer.text
    assert not Board.objects.exists()
    assert PedalModel.objects.count() == 3


def test_a_board_that_was_changed_meanwhile_stays(cast: Cast, url: str) -> None:
    Board.objects.update(edit_number=3)
    answer = cast.browser("editor").post(url, {"edit": 2})
    assert answer.status_code == 409
    assert Board.objects.exists()


@pytest.mark.parametrize(("role", "status"), [("viewer", 403), ("stranger", 404)])
def test_nobody_else_removes_it(cast: Cast, url: str, role: str, status: int) -> None:
    assert cast.browser(role).post(url, {"edit": 0}).status_code == status
    assert Board.objects.exists()


def test_without_the_edit_number_it_stays(cast: Cast, url: str) -> None:
    assert cast.browser("editor").post(url).status_code == 422
    assert Board.objects.exists()


def test_remove_board_refuses_get(cast: Cast, url: str) -> None:
    assert cast.browser("editor").get(url).status_code == 405
