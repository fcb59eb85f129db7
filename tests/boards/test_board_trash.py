"""Boards, and pedals taken off boards, go to the trash and come back."""

from datetime import timedelta
from typing import Any

import pytest
from django.urls import reverse
from django.utils import timezone

from boardshop.boards.access import get_board_for
from boardshop.boards.models import Board
from boardshop.boards.plan.read import load_plan
from boardshop.boards.services.trash import purge_boards, trash_board
from boardshop.crew.models import Person
from boardshop.crew.trash import KEPT_DAYS, kept_since
from boardshop.ops.demo.load import load_demo
from tests.factories import make_person, make_shop
from tests.house.test_every_address_is_guarded import browser_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def board(db: None) -> Board:
    shop = load_demo().shop
    code = Board.objects.filter(shop=shop).order_by("pk")[0].code
    return get_board_for(Person.objects.get(memberships__shop=shop), code, editing=True)


def again(board: Board) -> Board:
    return get_board_for(board.person, board.code, editing=True, with_trash=True)


def lie_there(board: Board, days: int) -> None:
    Board.with_trash.filter(pk=board.pk).update(trashed_at=timezone.now() - timedelta(days=days))


def put_back(board: Board, who: Any = None) -> Any:
    return browser_of(who or board.person).post(reverse("restore-board", args=[board.code]))


def test_a_board_comes_back_with_everything_on_it(board: Board) -> None:
    before = load_plan(board)
    trash_board(board, board.edit_number)
    browser = browser_of(board.person)
    assert browser.get(reverse("board", args=[board.code])).status_code == 404
    assert board.name in browser.get(reverse("trash")).text
    answer = browser.post(reverse("restore-board", args=[board.code]), follow=True)
    assert "is back with everything on it" in answer.text
    assert load_plan(again(board)) == before


def test_a_board_that_lies_in_no_trash_is_refused_on_a_page(board: Board) -> None:
    answer = put_back(board)
    assert answer.status_code == 422
    assert "no longer in the trash" in answer.text


@pytest.mark.parametrize(("days", "status"), [(KEPT_DAYS - 1, 302), (KEPT_DAYS + 1, 422)])
def test_a_board_can_be_put_back_for_thirty_days(board: Board, days: int, status: int) -> None:
    trash_board(board, board.edit_number)
    lie_there(board, days)
    assert put_back(board).status_code == status


def test_only_old_boards_are_purged(board: Board) -> None:
    trash_board(board, board.edit_number)
    lie_there(board, KEPT_DAYS - 1)
    assert purge_boards(kept_since()) == 0
    lie_there(board, KEPT_DAYS + 1)
    assert purge_boards(kept_since()) == 1
    assert not Board.with_trash.filter(pk=board.pk).exists()


def take_one_off(board: Board) -> tuple[str, str]:
    """The address that puts it back, and its ref."""
    ref = board.items.filter(placement__isnull=False).order_by("pk")[0].ref
    address = reverse("remove-pedal", args=[board.code, ref])
    assert browser_of(board.person).post(address, {"edit": board.edit_number}).status_code == 303
    number = board.changes.exclude(removed=[]).latest("number").number
    return reverse("restore-pedal", args=[board.code, number]), ref


def test_a_pedal_comes_back_with_its_links_and_its_feed(board: Board) -> None:
    before = load_plan(board)
    address, _ref = take_one_off(board)
    assert load_plan(again(board)) != before
    browser = browser_of(board.person)
    assert address in browser.get(reverse("trash")).text
    assert "back on" in browser.post(address, follow=True).text
    after = load_plan(again(board))
    assert {pedal.ref for pedal in after.pedals} == {pedal.ref for pedal in before.pedals}
    assert set(after.links) == set(before.links)
    assert set(after.feeds) == set(before.feeds)


def test_a_pedal_is_put_back_once(board: Board) -> None:
    address, _ref = take_one_off(board)
    browser = browser_of(board.person)
    assert browser.post(address).status_code == 302
    answer = browser.post(address)
    assert answer.status_code == 422
    assert "no longer in the trash" in answer.text


def test_an_edit_that_is_none_is_not_found(board: Board) -> None:
    address = reverse("restore-pedal", args=[board.code, 10**12])
    assert browser_of(board.person).post(address).status_code == 404


def test_a_viewer_sees_the_trash_but_cannot_put_back(board: Board) -> None:
    trash_board(board, board.edit_number)
    viewer = make_person(board.shop, "viewer")
    page = browser_of(viewer).get(reverse("trash")).text
    assert board.name in page
    assert reverse("restore-board", args=[board.code]) not in page
    assert put_back(board, viewer).status_code == 403


def test_a_stranger_finds_no_board_in_the_trash(board: Board) -> None:
    trash_board(board, board.edit_number)
    stranger = make_person(make_shop(), "owner")
    assert put_back(board, stranger).status_code == 404
    assert board.name not in browser_of(stranger).get(reverse("trash")).text


def test_a_board_that_came_back_is_not_emptied_by_undo(board: Board) -> None:
    """It goes into the trash again by its own button; undo goes on with what was done before."""
    browser, pedals = browser_of(board.person), len(load_plan(board).pedals)
    trash_board(board, board.edit_number)
    put_back(board)
    assert "The board was put back" not in step_of(browser.get(reverse("layout", args=[board.code])).text)
    number = Board.objects.get(pk=board.pk).edit_number
    browser.post(reverse("undo-change", args=[board.code]), {"edit": number, "page": "layout"})
    assert len(load_plan(again(board)).pedals) == pedals


def step_of(page: str) -> str:
    return page.partition('class="steps"')[2].partition("</div>")[0]
