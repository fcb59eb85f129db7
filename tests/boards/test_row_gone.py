"""Forms about something that another edit took off the board meanwhile, at addresses that name a thing."""

from typing import Any

import pytest
from django.test import Client as Browser

from boardshop.boards.models import Board
from tests.board_factories import links_of, make_board, plan_of
from tests.boards.contract import HTMX
from tests.factories import Cast

pytestmark = pytest.mark.django_db

PLACE = {"x": 300, "y": 200, "turn": 0}


@pytest.fixture
def board(cast: Cast) -> Board:
    return make_board(cast.shop, 3)


def post(browser: Browser, board: Board, what: str, edit: int, **typed: Any) -> Any:
    headers = {"Referer": f"http://testserver/boards/{board.code}/cables"} | HTMX
    return browser.post(f"/boards/{board.code}/{what}", {"edit": edit, **typed}, headers=headers)


@pytest.mark.parametrize(
    ("gone", "what", "typed"),
    [
        ("pedals/P2", "pedals/P2/place", PLACE),
        ("pedals/P2", "pedals/P2/play", {"role": "", "on": "true", "use": 3}),
        ("pedals/P2", "pedals/P2/change", {"ref": "P7"}),
        ("links/W2", "links/W2/change", {"length": "40"}),
        ("supplies/S1", "supplies/S1/place", PLACE),
        ("ends/A1", "ends/A1/change", {"ref": "A2"}),
    ],
)
def test_it_came_too_late(cast: Cast, board: Board, gone: str, what: str, typed: dict[str, Any]) -> None:
    assert post(cast.browser("owner"), board, f"{gone}/remove", 0).status_code == 200
    before = plan_of(board)
    answer = post(cast.browser("editor"), board, what, 0, **typed)
    assert answer.status_code == 409
    assert "after you opened it" in answer.text
    assert str(cast.owner) in answer.text
    assert 'id="edit-number" value="1"' in answer.text
    assert plan_of(board) == before


def test_removing_it_twice_is_kept_once_and_answered_twice(cast: Cast, board: Board) -> None:
    browser = cast.browser("editor")
    answers = [post(browser, board, "links/W2/remove", 0) for _click in range(2)]
    assert [answer.status_code for answer in answers] == [200, 200]
    assert ("W2" in links_of(board), Board.objects.get(pk=board.pk).edit_number) == (False, 1)
    assert answers[1].context["page"] == "cables"


def test_what_was_not_there_either_is_no_page(cast: Cast, board: Board) -> None:
    assert post(cast.browser("editor"), board, "pedals/P9/place", 0, **PLACE).status_code == 404


@pytest.mark.parametrize(("role", "status"), [("viewer", 403), ("stranger", 404)])
def test_it_tells_nobody_else(cast: Cast, board: Board, role: str, status: int) -> None:
    post(cast.browser("owner"), board, "pedals/P2/remove", 0)
    assert post(cast.browser(role), board, "pedals/P2/place", 0, **PLACE).status_code == status


def test_a_page_about_it_is_not_there(cast: Cast, board: Board) -> None:
    post(cast.browser("owner"), board, "pedals/P2/remove", 0)
    address = f"/boards/{board.code}/pedals/P2/change"
    assert cast.browser("editor").get(address, {"edit": 0}).status_code == 404
