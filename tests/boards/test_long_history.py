"""A board with years behind it: 5,000 changes and 200 revisions cost its pages no query more."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import timedelta
from time import perf_counter
from typing import Any

import pytest
from django.db import connection
from django.test import Client as Browser
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from boardshop.boards.access import get_board_for, last_released
from boardshop.boards.history.moment import Moment, read_moment
from boardshop.boards.history.state import digest_of
from boardshop.boards.models import Board, Change, Revision
from boardshop.boards.services.history import find_undoable, list_changes, next_steps
from boardshop.boards.services.revisions import file_text, report_text
from boardshop.core.report import compute_report
from tests.board_factories import make_board
from tests.factories import Cast

pytestmark = pytest.mark.django_db

PEDALS = 6
FEW, MANY = (5, 2), (5000, 200)
PAGES = {
    "board": "/boards/{code}",
    "order": "/boards/{code}/order",
    "layout": "/boards/{code}/layout",
    "cables": "/boards/{code}/cables",
    "power": "/boards/{code}/power",
    "changes": "/boards/{code}/changes",
    "changes, last page": "/boards/{code}/changes?page=last",
    "revisions": "/boards/{code}/revisions",
    "show-revision": "/boards/{code}/revisions/1",
    "compare": "/boards/{code}/compare?one=r1&other=r2",
    "compare with the working copy": "/boards/{code}/compare",
    "variants": "/boards/{code}/variants",
    "stage-board": "/s/{code}/",
    "boards": "/",
    "trash": "/trash",
}
MOST_QUERIES = 17
"""The trash asks for most: once for each kind of thing that may lie in it."""
READ_AT_MOST = 60
"""Rows that a look-up for a page may touch, however long the history is: a page of the list has 50."""


@dataclass(frozen=True)
class Past:
    """What a board of the test has behind it; the rows are those that the board really has."""

    board: Board
    cast: Cast
    moment: Moment

    def change(self, number: int) -> Change:
        """Somebody moves a pedal, owner and editor by turns; some moves were taken back, some pedals off."""
        person = self.cast.editor if number % 2 else self.cast.owner
        key, row = sorted(self.moment.state["boards_placement"].items())[number % PEDALS]
        ref = self.moment.state["boards_item"][key]["ref"]
        pair = [row | {"x": number, "y": 10}, row | {"x": number + 1, "y": 10}]
        return Change(
            board=self.board,
            number=number,
            at=timezone.now() - timedelta(minutes=6000 - number),
            person=person,
            who=str(person),
            sentences=[
                f"Pedal {ref} ({ref}) moved from x {number} mm, y 10 mm to x {number + 1} mm, y 10 mm."
            ],
            removed=[f"Pedal {ref} ({ref})"] if number % 250 == 3 else [],
            patch={"boards_placement": {key: pair}},
            digest=f"{number:064x}",
            is_undone=number % 7 == 0,
        )

    def revision(self, number: int) -> Revision:
        """Each with the file of another frame, so that no two of them are read as one."""
        plan = replace(self.moment.plan, frame=replace(self.moment.plan.frame, width=900 + number))
        return Revision(
            board=self.board,
            number=number,
            edit_number=number,
            at=timezone.now(),
            person=self.cast.owner,
            who=str(self.cast.owner),
            file=file_text(plan),
            report=report_text(compute_report(plan)),
            state=self.moment.state,
            digest=digest_of(self.moment.state),
        )


def make_past(cast: Cast, changes: int, revisions: int) -> Board:
    board = make_board(cast.shop, PEDALS)
    past = Past(board, cast, read_moment(board))
    Change.objects.bulk_create([past.change(number) for number in range(1, changes + 1)], batch_size=500)
    first = past.revision(1)
    Revision.objects.bulk_create([first, *(later(first, n) for n in range(2, revisions + 1))])
    Board.objects.filter(pk=board.pk).update(edit_number=changes)
    with connection.cursor() as cursor:
        cursor.execute("ANALYZE boards_change, boards_revision")
    return board


def later(first: Revision, number: int) -> Revision:
    """Of the same file but for its frame: a report of each would take the test minutes."""
    values = {field.attname: getattr(first, field.attname) for field in Revision._meta.concrete_fields}
    file = first.file.replace('"width": 901', f'"width": {900 + number}', 1)
    return Revision(**values | {"id": None, "number": number, "edit_number": number, "file": file})


def queries_of(browser: Browser, board: Board, page: str) -> tuple[int, float]:
    """So many, and in how many milliseconds the page comes."""
    address = PAGES[page].format(code=board.code)
    browser.get(address)
    began = perf_counter()
    with CaptureQueriesContext(connection) as queries:
        answer = browser.get(address)
    assert answer.status_code == 200, page
    return len(queries), 1000 * (perf_counter() - began)


def test_a_long_history_costs_no_page_a_query(cast: Cast) -> None:
    browser = cast.browser("editor")
    found: list[dict[str, tuple[int, float]]] = []
    for size in (FEW, MANY):
        board = make_past(cast, *size)
        found.append({page: queries_of(browser, board, page) for page in PAGES})
        Board.objects.all().update(trashed_at=timezone.now() - timedelta(days=31))
    few, many = found
    for page, (queries, ms) in many.items():
        print(f"{page:32}{queries:4} queries{few[page][1]:9.1f} ms {ms:9.1f} ms")
    assert {page: n for page, (n, _ms) in many.items()} == {page: n for page, (n, _ms) in few.items()}
    assert max(queries for queries, _ms in many.values()) <= MOST_QUERIES


def plan_of_query(work: Callable[[], Any]) -> dict[str, Any]:
    """How Postgres came to the answer of the one query that this work asks."""
    with CaptureQueriesContext(connection) as queries:
        work()
    (query,) = queries
    with connection.cursor() as cursor:
        cursor.execute("EXPLAIN (ANALYZE, FORMAT JSON) " + query["sql"])
        plan = cursor.fetchone()[0]
    root: dict[str, Any] = (json.loads(plan) if isinstance(plan, str) else plan)[0]
    print(f"{root['Execution Time']:.2f} ms")
    return dict(root["Plan"])


def rows_read(node: dict[str, Any]) -> int:
    """All that were fetched from tables, those that a filter threw away included."""
    below = sum(rows_read(child) for child in node.get("Plans", ()))
    if "Relation Name" not in node:
        return below
    thrown = sum(value for name, value in node.items() if name.startswith("Rows Removed"))
    return int(below + (node["Actual Rows"] + thrown) * node["Actual Loops"])


LOOK_UPS: dict[str, Callable[[Board], Any]] = {
    "the next steps": next_steps,
    "undo": find_undoable,
    "the newest revision": last_released,
    "the first page of changes": lambda board: list(list_changes(board)[:50]),
}


def test_the_look_ups_read_few_rows_and_no_patches_of_all(cast: Cast) -> None:
    """A patch may be as large as the board; the buttons need the sentences alone."""
    board = get_board_for(cast.editor, make_past(cast, *MANY).code)
    for name, look_up in LOOK_UPS.items():
        plan = plan_of_query(lambda look_up=look_up: look_up(board))
        assert rows_read(plan) <= READ_AT_MOST, name
    with CaptureQueriesContext(connection) as queries:
        steps = next_steps(board)
    assert '"patch"' not in queries[0]["sql"].partition(" FROM ")[0]
    assert steps.undo is not None
    assert (steps.undo.number, steps.redo) == (4999, None)
