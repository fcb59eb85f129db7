"""A released state comes back as the working copy; what is frozen is shown and downloaded as it was."""

import json

import pytest
from django.test import Client as Browser
from django.urls import reverse

from boardshop.boards.access import get_board_for
from boardshop.boards.history.state import read_state
from boardshop.boards.models import Board, Revision
from boardshop.boards.services.boards import change_board
from boardshop.boards.services.history import redo_change, undo_change
from boardshop.boards.services.pedals import remove_pedal
from boardshop.boards.services.revisions import release_revision, restore_revision
from boardshop.boards.views.rows import get_pedal
from boardshop.core.boardfile import dump_plan
from boardshop.crew.models import AuditEntry
from tests.board_factories import make_board, plan_of
from tests.factories import Cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def board(cast: Cast) -> Board:
    return get_board_for(cast.editor, make_board(cast.shop, 3).code)


@pytest.fixture
def browser(cast: Cast) -> Browser:
    return cast.browser("editor")


@pytest.fixture
def revision(board: Board) -> Revision:
    return release_revision(board, 0, reason="as agreed")


def number(board: Board) -> int:
    return Board.objects.get(pk=board.pk).edit_number


def test_the_working_copy_is_what_the_revision_was(board: Board, revision: Revision) -> None:
    before = read_state(board)
    remove_pedal(board, number(board), get_pedal(board, "P2"))
    restore_revision(board, number(board), revision)
    assert read_state(board) == before
    assert json.loads(revision.file) == dump_plan(plan_of(board))


def test_it_can_be_undone_and_done_again(board: Board, revision: Revision) -> None:
    remove_pedal(board, number(board), get_pedal(board, "P2"))
    removed = read_state(board)
    restore_revision(board, number(board), revision)
    undo_change(board, number(board))
    assert read_state(board) == removed
    redo_change(board, number(board))
    assert len(plan_of(board).pedals) == 3


def test_the_boards_name_stays_and_its_note_comes_back(board: Board, revision: Revision) -> None:
    change_board(board, number(board), name="Renamed", note="new words")
    restore_revision(board, number(board), revision)
    stored = Board.objects.get(pk=board.pk)
    assert (stored.name, stored.note) == ("Renamed", "")


def test_restoring_what_is_there_already_is_no_edit(board: Board, revision: Revision) -> None:
    restore_revision(board, number(board), revision)
    assert number(board) == 0


def test_the_form_does_it_and_the_audit_has_it(browser: Browser, board: Board, revision: Revision) -> None:
    remove_pedal(board, number(board), get_pedal(board, "P2"))
    answer = browser.post(reverse("restore-revision", args=[board.code, 1]), {"edit": 1})
    assert (answer.status_code, answer.url) == (303, f"/boards/{board.code}/revisions")
    assert len(plan_of(board).pedals) == 3
    assert AuditEntry.objects.filter(kind="restore").count() == 1


def test_a_late_restore_changes_nothing(browser: Browser, board: Board, revision: Revision) -> None:
    remove_pedal(board, number(board), get_pedal(board, "P2"))
    assert browser.post(f"/boards/{board.code}/revisions/1/restore", {"edit": 0}).status_code == 409
    assert len(plan_of(board).pedals) == 2


@pytest.mark.parametrize(("role", "status"), [("viewer", 403), ("stranger", 404)])
def test_nobody_else_restores(cast: Cast, board: Board, revision: Revision, role: str, status: int) -> None:
    address = f"/boards/{board.code}/revisions/1/restore"
    assert cast.browser(role).post(address, {"edit": 0}).status_code == status


def test_a_revision_of_another_board_is_not_found(
    cast: Cast, browser: Browser, board: Board, revision: Revision
) -> None:
    other = make_board(cast.shop, 2, name="Other")
    for address in ("", "/file", "/report"):
        assert browser.get(f"/boards/{other.code}/revisions/1{address}").status_code == 404
    assert browser.post(f"/boards/{other.code}/revisions/1/restore", {"edit": 0}).status_code == 404


def test_show_revision_shows_it_as_it_was(browser: Browser, board: Board, revision: Revision) -> None:
    remove_pedal(board, number(board), get_pedal(board, "P2"))
    page = browser.get(f"/boards/{board.code}/revisions/1")
    assert page.status_code == 200
    assert "Pedal 2" in page.text
    assert "as agreed" in page.text
    assert "revision 1" in page.text


@pytest.mark.parametrize(("name", "kind"), [("revision-file", "file"), ("revision-report", "report")])
def test_what_is_downloaded_is_what_was_frozen(
    browser: Browser, board: Board, revision: Revision, name: str, kind: str
) -> None:
    remove_pedal(board, number(board), get_pedal(board, "P2"))
    answer = browser.get(f"/boards/{board.code}/revisions/1/{kind}")
    assert answer.text == getattr(revision, kind)
    assert "attachment" in answer["Content-Disposition"]


@pytest.mark.parametrize("number", ["0", "2", "99999999999999999999"])
def test_a_number_that_is_none_is_not_found(browser: Browser, board: Board, number: str) -> None:
    assert browser.get(f"/boards/{board.code}/revisions/{number}").status_code == 404
    for paper in ("build-sheet", "case-label"):
        assert browser.get(reverse(paper, args=[board.code]), {"revision": number}).status_code == 404
