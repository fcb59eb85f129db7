import pytest
from django.urls import reverse

from boardshop.boards.models import Board
from boardshop.boards.services.made_cables import link_of
from boardshop.gear.models import MadeCable
from tests.board_factories import make_board
from tests.cable_factories import make_cable, make_tested, put
from tests.factories import Cast

pytestmark = pytest.mark.django_db


def url(cable: object) -> str:
    return reverse("take-cable-off", args=[str(cable)])


@pytest.fixture
def board(cast: Cast) -> Board:
    return make_board(cast.shop, 3)


@pytest.fixture
def cable(cast: Cast, board: Board) -> MadeCable:
    made = make_tested(cast.shop, cast.editor)
    put(made, board, "W2", cast.editor)
    return made


def number(board: Board) -> dict[str, int]:
    return {"edit": Board.objects.get(pk=board.pk).edit_number}


def test_it_is_spare_then(cast: Cast, board: Board, cable: MadeCable) -> None:
    answer = cast.browser("editor").post(url(cable), number(board))
    assert answer.url == reverse("cables", args=[board.code]) + "#link-W2"
    assert link_of(cable) is None


def test_a_late_form_takes_nothing_off(cast: Cast, board: Board, cable: MadeCable) -> None:
    late = number(board)
    put(make_tested(cast.shop, cast.owner), board, "W3", cast.owner)
    assert cast.browser("editor").post(url(cable), late).status_code == 409
    assert link_of(cable) is not None


def test_a_form_without_its_edit_number_is_told(cast: Cast, cable: MadeCable) -> None:
    assert cast.browser("editor").post(url(cable)).status_code == 422


def test_one_that_is_on_no_board_is_told_so(cast: Cast) -> None:
    answer = cast.browser("editor").post(url(make_cable(cast.shop)), follow=True)
    assert "is on no board any more" in answer.text


def test_a_viewer_gets_403_and_a_stranger_404(cast: Cast, cable: MadeCable) -> None:
    assert cast.browser("viewer").post(url(cable)).status_code == 403
    assert cast.browser("stranger").post(url(cable)).status_code == 404


def test_take_cable_off_refuses_get(cast: Cast, cable: MadeCable) -> None:
    assert cast.browser("editor").get(url(cable)).status_code == 405
