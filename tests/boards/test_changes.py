"""The list of every change, and what a late edit is told of it."""

from typing import Any

import pytest
from django.test import Client as Browser
from django.urls import reverse

from boardshop.boards.models import Board, Change
from tests.board_factories import make_board, plan_of
from tests.factories import Cast, make_pedal_model

pytestmark = pytest.mark.django_db


@pytest.fixture
def board(cast: Cast) -> Board:
    return make_board(cast.shop, 3)


def number(board: Board) -> int:
    return Board.objects.get(pk=board.pk).edit_number


def place(browser: Browser, board: Board, ref: str, x: Any, edit: int | None = None) -> Any:
    typed = {"edit": number(board) if edit is None else edit, "x": x, "y": 200, "turn": 0}
    return browser.post(f"/boards/{board.code}/pedals/{ref}/place", typed)


def test_each_edit_says_who_when_and_what(cast: Cast, board: Board) -> None:
    place(cast.browser("editor"), board, "P2", 300)
    change = Change.objects.get()
    assert (change.number, change.who, change.person) == (1, str(cast.editor), cast.editor)
    assert change.sentences == [
        "Pedal 2 (P2) moved from x 100 mm, y 10 mm to x 300 mm, y 200 mm.",
    ]
    page = cast.browser("viewer").get(f"/boards/{board.code}/changes").text
    assert str(cast.editor) in page
    assert "Pedal 2 (P2) moved from" in page


def test_a_board_that_is_begun_copied_or_imported_has_a_first_line(cast: Cast) -> None:
    browser = cast.browser("editor")
    typed = {"name": "New", "width": "600", "depth": "320", "once": "abc"}
    browser.post("/boards/begin", typed)
    begun = Board.objects.get(name="New")
    assert begun.changes.get().sentences == ["The board was begun on an empty frame."]
    assert begun.changes.get().who == str(cast.editor)
    browser.post("/boards/copy", {"board": begun.pk, "name": "Second", "once": "abd"})
    copied = Board.objects.get(name="Second")
    assert copied.changes.get().sentences == [f"The board was begun as a copy of New ({begun.code})."]


def test_what_was_undone_is_marked_and_stays(cast: Cast, board: Board) -> None:
    browser = cast.browser("editor")
    place(browser, board, "P2", 300)
    browser.post(f"/boards/{board.code}/undo", {"edit": 1, "page": "board"})
    browser.post(reverse("redo-change", args=[board.code]), {"edit": 2, "page": "board"})
    assert [(c.number, c.kind) for c in board.changes.all()] == [(3, "redo"), (2, "undo"), (1, "edit")]
    page = browser.get(f"/boards/{board.code}/changes").text
    assert "Undone (1):" in page
    assert "Done again (1):" in page


def test_lengths_are_told_in_the_shops_unit(cast: Cast, board: Board) -> None:
    cast.shop.length_unit = "in"
    cast.shop.save()
    browser = cast.browser("editor")
    typed = {"edit": 0, "x": "10", "y": "5", "turn": 0}
    browser.post(f"/boards/{board.code}/pedals/P2/place", typed)
    assert "x 10.00 in, y 5.00 in" in browser.get(f"/boards/{board.code}/changes").text


def test_a_late_edit_is_told_what_the_other_did_and_can_be_made_again(cast: Cast, board: Board) -> None:
    place(cast.browser("owner"), board, "P2", 300)
    browser = cast.browser("editor")
    answer = place(browser, board, "P1", 450, edit=0)
    assert answer.status_code == 409
    assert "Pedal 2 (P2) moved from" in answer.text
    assert str(cast.owner) in answer.text
    again = f'<form class="inline" method="post" action="/boards/{board.code}/pedals/P1/place"'
    form = answer.text[answer.text.index(again) :].partition("</form>")[0]
    assert 'name="edit" value="1"' in form
    assert 'name="x" value="450"' in form
    assert place(browser, board, "P1", 450, edit=1).status_code == 303
    assert [pedal.place.x for pedal in plan_of(board).pedals[:2] if pedal.place] == [450, 300]


def test_ones_own_edit_of_another_tab_is_told_as_ones_own(cast: Cast, board: Board) -> None:
    browser = cast.browser("editor")
    place(browser, board, "P2", 300)
    answer = place(browser, board, "P1", 450, edit=0)
    assert (answer.status_code, " you: " in answer.text) == (409, True)


def test_the_same_form_sent_twice_is_kept_once(cast: Cast, board: Board) -> None:
    make_pedal_model(cast.shop, name="Newcomer")
    browser = cast.browser("editor")
    page = browser.get(f"/boards/{board.code}/order").text
    gear = page.partition("Newcomer")[0].rpartition('value="')[2].partition('"')[0]
    for _ in range(2):
        answer = browser.post(f"/boards/{board.code}/pedals/add", {"edit": 0, "gear": gear, "ref": ""})
        assert answer.status_code == 303
    assert len(plan_of(board).pedals) == 4
    assert number(board) == 1


def test_another_persons_same_form_is_late(cast: Cast, board: Board) -> None:
    place(cast.browser("owner"), board, "P2", 300, edit=0)
    assert place(cast.browser("editor"), board, "P2", 300, edit=0).status_code == 409


@pytest.mark.parametrize("edits", [2, 9])
def test_the_queries_do_not_grow(
    cast: Cast, board: Board, edits: int, django_assert_num_queries: Any
) -> None:
    browser = cast.browser("editor")
    for x in range(edits):
        place(browser, board, "P2", 300 + x)
    with django_assert_num_queries(8):
        browser.get(f"/boards/{board.code}/changes")
