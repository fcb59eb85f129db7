"""Releasing, and the page that says what is on stage."""

import json
import re
from typing import Any

import pytest
from django.db import IntegrityError, transaction
from django.test import Client as Browser
from django.urls import reverse

from boardshop.boards.models import Board, Placement, Revision
from boardshop.core.boardfile import dump_plan
from boardshop.core.printing import as_json
from boardshop.core.report import compute_report
from boardshop.crew.models import AuditEntry
from boardshop.gear.models import PedalModel, SupplyModel
from tests.board_factories import make_board, plan_of
from tests.core import builders as b
from tests.factories import Cast, make_drawer_item

pytestmark = pytest.mark.django_db

WHY = "the rest is measured at the rehearsal"


@pytest.fixture
def board(cast: Cast) -> Board:
    return make_board(cast.shop, 3)


@pytest.fixture
def browser(cast: Cast) -> Browser:
    return cast.browser("editor")


def release(browser: Browser, board: Board, **typed: Any) -> Any:
    number = Board.objects.get(pk=board.pk).edit_number
    address = reverse("release-revision", args=[board.code])
    return browser.post(address, {"edit": number, "reason": WHY, **typed})


def move(browser: Browser, board: Board, x: int) -> None:
    number = Board.objects.get(pk=board.pk).edit_number
    address = f"/boards/{board.code}/pedals/P2/place"
    answer = browser.post(address, {"edit": number, "x": x, "y": 200, "turn": 0})
    assert answer.status_code == 303


def test_a_release_freezes_file_report_note_and_name(cast: Cast, browser: Browser, board: Board) -> None:
    answer = release(browser, board, note="first night")
    assert (answer.status_code, answer.url) == (303, f"/boards/{board.code}/revisions")
    revision = Revision.objects.get()
    assert (revision.number, revision.note, revision.reason, revision.who) == (
        1,
        "first night",
        WHY,
        str(cast.editor),
    )
    assert json.loads(revision.file) == dump_plan(plan_of(board))
    assert json.loads(revision.report) == as_json(compute_report(plan_of(board)))
    assert AuditEntry.objects.filter(kind="release", about__contains="revision 1").exists()


def test_the_next_one_gets_the_next_number(browser: Browser, board: Board) -> None:
    release(browser, board)
    move(browser, board, 300)
    release(browser, board)
    assert [revision.number for revision in board.revisions.all()] == [2, 1]


def test_what_is_the_same_is_not_released_again(browser: Browser, board: Board) -> None:
    release(browser, board)
    answer = release(browser, board)
    assert answer.status_code == 422
    assert "is as revision 1 has it" in answer.text
    assert Revision.objects.count() == 1


def test_open_faults_ask_for_a_reason(browser: Browser, board: Board) -> None:
    answer = release(browser, board, reason="  ")
    assert answer.status_code == 422
    assert "write why the board goes out with them" in answer.text
    assert not Revision.objects.exists()


def test_what_would_destroy_gear_is_not_released(cast: Cast, browser: Browser) -> None:
    """P04: 18 V into a pedal that takes 9.6 V at most."""
    board = make_board(cast.shop, supplies=(b.supply("S1", b.outlet("1", 18_000)),))
    answer = release(browser, board)
    assert answer.status_code == 422
    assert "would destroy gear or hurt people" in answer.text
    assert not Revision.objects.exists()
    page = browser.get(f"/boards/{board.code}/revisions")
    assert "Not while this stands" in page.text


def test_a_board_that_moved_on_is_not_released_unseen(browser: Browser, board: Board) -> None:
    move(browser, board, 300)
    answer = release(browser, board, edit=0)
    assert answer.status_code == 409
    assert not Revision.objects.exists()


@pytest.mark.parametrize(("role", "status"), [("viewer", 403), ("stranger", 404)])
def test_nobody_else_releases(cast: Cast, board: Board, role: str, status: int) -> None:
    assert release(cast.browser(role), board).status_code == status
    assert not Revision.objects.exists()


def test_release_revision_refuses_get(browser: Browser, board: Board) -> None:
    assert browser.get(f"/boards/{board.code}/release").status_code == 405


def test_a_released_revision_never_changes(browser: Browser, board: Board) -> None:
    release(browser, board)
    for columns in ({"note": "other"}, {"number": 7}, {"file": "{}"}):
        with pytest.raises(IntegrityError, match="never changes"), transaction.atomic():
            Revision.objects.update(**columns)


def test_a_person_who_goes_is_forgotten_but_not_their_name(
    cast: Cast, browser: Browser, board: Board
) -> None:
    release(browser, board)
    name = str(cast.editor)
    cast.editor.delete()
    revision = Revision.objects.get()
    assert (revision.person, revision.who) == (None, name)


def test_the_board_says_whether_it_is_what_is_on_stage(browser: Browser, board: Board) -> None:
    def page() -> str:
        return browser.get(f"/boards/{board.code}").text

    assert "Never released." in page()
    release(browser, board)
    assert "The working copy is as revision 1" in page()
    move(browser, board, 300)
    assert "The working copy differs from revision 1 in 1 thing." in page()
    assert "Pedal 2 (P2) moved from" in browser.get(f"/boards/{board.code}/revisions").text


def test_gear_that_is_measured_otherwise_is_a_difference_too(browser: Browser, board: Board) -> None:
    release(browser, board)
    PedalModel.objects.filter(name="Pedal 2").update(height=60)
    assert "differs from revision 1 in 1 thing" in browser.get(f"/boards/{board.code}").text


def test_what_lies_in_the_drawer_is_no_difference_and_the_revision_keeps_what_did(
    cast: Cast, browser: Browser, board: Board
) -> None:
    item = make_drawer_item(cast.shop, kind="reverser", count=2)
    release(browser, board)
    item.delete()
    supply = SupplyModel.objects.get()
    supply.leads.create(length=450, count=4)
    SupplyModel.objects.update(price=149)
    frozen = json.loads(Revision.objects.get().file)
    assert frozen["drawer"] == [{"kind": "reverser", "count": 2}]
    assert "leads" not in frozen["supplies"][0]
    assert plan_of(board).drawer == ()
    assert plan_of(board).supplies[0].leads[0].length == 450
    assert "differs from revision 1" not in browser.get(f"/boards/{board.code}").text
    release(browser, board, note="again")
    assert Revision.objects.count() == 1


def test_the_stage_page_shows_what_was_released(browser: Browser, board: Board) -> None:
    release(browser, board)
    Placement.objects.filter(board=board, ref="P2").update(settings="gain at noon")
    stage = browser.get(f"/s/{board.code}/").text
    assert "revision 1" in stage
    assert "gain at noon" not in stage
    working = browser.get(f"/s/{board.code}/?working=1").text
    assert "not what is on stage" in working
    assert "gain at noon" in working


def test_the_list_tells_the_revision_and_what_was_edited_since(browser: Browser, board: Board) -> None:
    assert "never released" in browser.get("/").text
    release(browser, board)
    page = browser.get("/").text
    assert "revision 1" in page
    assert "edited since" not in page
    move(browser, board, 300)
    assert "edited since" in browser.get("/").text


@pytest.mark.parametrize("revisions", [1, 3])
def test_the_queries_do_not_grow(
    browser: Browser, board: Board, revisions: int, django_assert_num_queries: Any
) -> None:
    for number in range(revisions):
        move(browser, board, 300 + number)
        release(browser, board)
    browser.get(f"/boards/{board.code}/revisions")
    with django_assert_num_queries(9):
        browser.get(f"/boards/{board.code}/revisions")


def shown_in(page: str) -> list[int]:
    """The numbers of the listed revisions, in their order."""
    return [int(number) for number in re.findall(r'/revisions/([0-9]+)">\1</a></th>', page)]


@pytest.mark.parametrize(
    ("query", "first", "last"),
    [("", 51, 2), ("?page=1", 51, 2), ("?page=2", 1, 1), ("?page=9", 1, 1), ("?page=x", 51, 2)],
)
def test_fifty_are_on_a_page_the_newest_first(
    browser: Browser, board: Board, query: str, first: int, last: int
) -> None:
    many_revisions(browser, board, 51)
    page = browser.get(f"/boards/{board.code}/revisions{query}").text
    assert shown_in(page) == list(range(first, last - 1, -1))
    assert page.count('class="on-stage"') == (first == 51)
    assert ('href="?page=2"' in page) == (first == 51)
    assert ('href="?page=1"' in page) == (first == 1)


def test_fifty_need_no_second_page_and_any_of_more_can_be_compared(browser: Browser, board: Board) -> None:
    many_revisions(browser, board, 50)
    assert "older ones" not in browser.get(f"/boards/{board.code}/revisions").text
    many_revisions(browser, board, 1)
    page = browser.get(f"/boards/{board.code}/compare").text
    assert all(f'<option value="r{number}"' in page for number in range(1, 52))


def many_revisions(browser: Browser, board: Board, count: int) -> None:
    """So many more of the same state, as if it had been released again and again."""
    if not board.revisions.exists():
        release(browser, board)
        count -= 1
    last = board.revisions.latest("number")
    copies = [Revision(**_columns(last, last.number + n)) for n in range(1, count + 1)]
    Revision.objects.bulk_create(copies)


def _columns(revision: Revision, number: int) -> dict[str, Any]:
    names = [field.attname for field in Revision._meta.concrete_fields if not field.primary_key]
    return {name: getattr(revision, name) for name in names} | {"number": number}
