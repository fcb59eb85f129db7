import json

import pytest

from boardshop.boards.models import Board
from boardshop.core.boardfile import dump_plan, load_plan_text
from tests.board_factories import make_board, plan_of
from tests.factories import Cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def board(cast: Cast) -> Board:
    return make_board(cast.shop, 3, name="Nightjar <main>")


def test_the_file_is_the_whole_board(cast: Cast, board: Board) -> None:
    answer = cast.browser("viewer").get(f"/boards/{board.code}/file")
    assert answer["Content-Type"] == "application/json"
    assert answer["Content-Disposition"] == f'attachment; filename="nightjar-main-{board.code}.json"'
    assert json.loads(answer.content) == dump_plan(plan_of(board))
    assert dump_plan(load_plan_text(answer.content)) == dump_plan(plan_of(board))


def test_a_stranger_gets_404(cast: Cast, board: Board) -> None:
    assert cast.browser("stranger").get(f"/boards/{board.code}/file").status_code == 404


def test_board_file_refuses_post(cast: Cast, board: Board) -> None:
    assert cast.browser("editor").post(f"/boards/{board.code}/file").status_code == 405
