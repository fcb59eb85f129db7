"""Undo and redo: the rows themselves, and what others did meanwhile."""

import pytest
from django.test import Client as Browser
from django.urls import reverse

from boardshop.boards.access import get_board_for
from boardshop.boards.errors import ChangedSince, NothingToRedo, NothingToUndo
from boardshop.boards.history.state import read_state
from boardshop.boards.models import Board, Change, Link, Placement
from boardshop.boards.services.history import redo_change, undo_change
from boardshop.boards.services.links import remove_link
from boardshop.boards.services.pedals import add_pedal, place_pedal, remove_pedal
from boardshop.boards.services.revisions import release_revision, restore_revision
from boardshop.core.boardfile import dump_plan
from tests.board_factories import make_board, plan_of
from tests.factories import Cast, make_pedal_model, make_person

pytestmark = pytest.mark.django_db


@pytest.fixture
def board(cast: Cast) -> Board:
    return get_board_for(cast.editor, make_board(cast.shop, 3).code)


def pedal(board: Board, ref: str) -> Placement:
    return Placement.objects.get(board=board, ref=ref)


def now(board: Board) -> int:
    return Board.objects.get(pk=board.pk).edit_number


def move(board: Board, ref: str, x: int) -> None:
    place_pedal(board, now(board), pedal(board, ref), x, 200, 0)


def undo(board: Board) -> Change:
    return undo_change(board, now(board))


def redo(board: Board) -> Change:
    return redo_change(board, now(board))


def test_a_pedal_goes_back_and_forth(board: Board) -> None:
    before = pedal(board, "P2").x
    move(board, "P2", 300)
    undo(board)
    assert pedal(board, "P2").x == before
    redo(board)
    assert pedal(board, "P2").x == 300


def test_a_removed_pedal_comes_back_with_its_links_feeds_and_keys(board: Board) -> None:
    before, file = read_state(board), dump_plan(plan_of(board))
    remove_pedal(board, now(board), pedal(board, "P1"))
    assert len(plan_of(board).pedals) == 2
    undo(board)
    assert read_state(board) == before
    assert dump_plan(plan_of(board)) == file


def test_several_steps_back_and_forth_end_where_they_began(board: Board) -> None:
    states = [read_state(board)]
    for x in (300, 400, 500):
        move(board, "P3", x)
        states.append(read_state(board))
    for state in states[-2::-1]:
        undo(board)
        assert read_state(board) == state
    with pytest.raises(NothingToUndo):
        undo(board)
    for state in states[1:]:
        redo(board)
        assert read_state(board) == state
    with pytest.raises(NothingToRedo):
        redo(board)


def test_a_new_edit_ends_the_way_forward(board: Board) -> None:
    move(board, "P2", 300)
    undo(board)
    move(board, "P3", 400)
    with pytest.raises(NothingToRedo):
        redo(board)


def test_only_ones_own_changes_go_back(cast: Cast, board: Board) -> None:
    move(board, "P2", 300)
    others = get_board_for(cast.owner, board.code)
    with pytest.raises(NothingToUndo):
        undo(others)
    move(others, "P3", 400)
    undo(board)
    assert pedal(board, "P3").x == 400
    assert pedal(board, "P2").x != 300


def test_what_somebody_changed_since_is_told_and_not_overwritten(cast: Cast, board: Board) -> None:
    move(board, "P2", 300)
    move(get_board_for(cast.owner, board.code), "P2", 350)
    with pytest.raises(ChangedSince, match=cast.owner.username):
        undo(board)
    assert pedal(board, "P2").x == 350
    assert now(board) == 2


def test_a_pedal_that_somebody_wired_is_not_taken_away(cast: Cast, board: Board) -> None:
    model = make_pedal_model(cast.shop, jacks="IN:in OUT:out")
    added = add_pedal(board, now(board), model)
    others = get_board_for(cast.owner, board.code)
    link = Link.objects.get(board=board, ref="W2")
    Link.objects.filter(pk=link.pk).update(to_item=added, to_jack=model.jacks.get(name="IN"))
    with pytest.raises(ChangedSince):
        undo(board)
    assert Placement.objects.filter(pk=added.pk).exists()
    remove_link(others, now(board), link)
    undo(board)
    assert not Placement.objects.filter(pk=added.pk).exists()


def test_somebody_who_did_nothing_has_nothing_to_undo(cast: Cast, board: Board) -> None:
    move(board, "P2", 300)
    with pytest.raises(NothingToUndo):
        undo(get_board_for(make_person(cast.shop, "editor"), board.code))


def test_the_button_on_the_page_says_what_it_takes_back(cast: Cast, board: Board) -> None:
    browser: Browser = cast.browser("editor")
    move(board, "P2", 300)
    page = browser.get(f"/boards/{board.code}/layout")
    assert 'action="/boards/' in page.text
    assert "undo-change" not in page.text
    answer = browser.post(f"/boards/{board.code}/undo", {"edit": now(board), "page": "layout"})
    assert (answer.status_code, answer.url) == (303, f"/boards/{board.code}/layout")
    assert pedal(board, "P2").x != 300


@pytest.mark.parametrize("name", ["board", "order", "power", "changes", "revisions", "variants"])
def test_it_leads_back_to_the_page_on_which_it_was_pressed(cast: Cast, board: Board, name: str) -> None:
    move(board, "P2", 300)
    typed = {"edit": now(board), "page": name}
    answer = cast.browser("editor").post(f"/boards/{board.code}/undo", typed)
    assert (answer.status_code, answer.url) == (303, reverse(name, args=[board.code]))


def test_a_restored_revision_is_told_as_such(cast: Cast, board: Board) -> None:
    revision = release_revision(board, now(board), reason="as agreed")
    move(board, "P2", 300)
    restore_revision(board, now(board), revision)
    page = cast.browser("editor").get(f"/boards/{board.code}/revisions").text
    assert "Revision 1 was restored." in page
