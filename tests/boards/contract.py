"""What every edit of a board keeps, whatever it edits: inherited by the test of each address.

A subclass names the address and what is typed; its own tests say what the edit does.
"""

import re
from html import unescape
from typing import Any, ClassVar

import pytest
from django.http import HttpResponse
from django.test import Client as Browser
from django.urls import reverse

from boardshop.boards.models import Board
from boardshop.core.boardfile import dump_plan
from tests.board_factories import make_board, plan_of
from tests.factories import Cast

HTMX = {"HX-Request": "true"}
TOKENS = re.compile(r'name="csrfmiddlewaretoken" value="[^"]*"')


def part_of(page: str) -> str:
    """What stands inside the part that an edit changes, without the forms' tokens."""
    start = page.index('<div id="sheet"')
    return normal(page[page.index(">", start) + 1 :])


def normal(html: str) -> str:
    return " ".join(TOKENS.sub("", html).split())


@pytest.mark.django_db
class EditContract:
    name: ClassVar[str]
    """The address; its template's page is `page`."""
    args: ClassVar[tuple[str, ...]] = ()
    """Its arguments behind the board's code."""
    page: ClassVar[str]
    typed: ClassVar[dict[str, Any]] = {}
    sizes: ClassVar[tuple[int, ...]] = (1, 18)
    """Pedals on the boards whose queries are counted."""
    most_queries: ClassVar[int] = 18
    """Of a fragment, the record of the edit included; what asks for more says how many it needs."""

    @pytest.fixture
    def board(self, cast: Cast) -> Board:
        return make_board(cast.shop)

    @pytest.fixture
    def browser(self, cast: Cast) -> Browser:
        return cast.browser("editor")

    def url(self, board: Board, args: tuple[str, ...] | None = None) -> str:
        return reverse(self.name, args=[board.code, *(self.args if args is None else args)])

    def post(self, browser: Browser, board: Board, typed: Any = None, **options: Any) -> HttpResponse:
        typed = {**self.typed, **(typed or {})}
        if "edit" not in typed:
            typed["edit"] = Board.objects.get(pk=board.pk).edit_number
        return browser.post(self.url(board), typed, **options)

    def test_without_scripts_it_leads_back_to_the_page(self, browser: Browser, board: Board) -> None:
        answer = self.post(browser, board)
        assert answer.status_code == 303
        assert answer.url.partition("?")[0].partition("#")[0] == reverse(self.page, args=[board.code])

    def test_with_scripts_the_answer_is_what_stands_in_the_page(self, browser: Browser, board: Board) -> None:
        answer = self.post(browser, board, headers=HTMX)
        assert answer.status_code == 200
        assert "<html" not in answer.text
        assert 'id="edit-number" value="1"' in answer.text
        opened = answer.context["state"].opened
        page = browser.get(reverse(self.page, args=[board.code]), {"open": opened})
        assert part_of(page.text).startswith(normal(answer.text))

    def test_a_stranger_gets_404_and_changes_nothing(self, cast: Cast, board: Board) -> None:
        before = dump_plan(plan_of(board))
        assert self.post(cast.browser("stranger"), board).status_code == 404
        assert dump_plan(plan_of(board)) == before

    def test_a_viewer_gets_403_and_changes_nothing(self, cast: Cast, board: Board) -> None:
        before = dump_plan(plan_of(board))
        assert self.post(cast.browser("viewer"), board).status_code == 403
        assert dump_plan(plan_of(board)) == before

    def test_a_wrong_method_is_refused(self, browser: Browser, board: Board) -> None:
        assert browser.put(self.url(board)).status_code == 405

    def test_an_edit_that_comes_too_late_is_refused_with_what_was_typed(
        self, browser: Browser, board: Board
    ) -> None:
        Board.objects.update(edit_number=5)
        before = dump_plan(plan_of(board))
        answer = self.post(browser, board, {"edit": 4}, headers=HTMX)
        assert answer.status_code == 409
        assert "after you opened it" in answer.text
        assert 'id="edit-number" value="5"' in answer.text
        assert dump_plan(plan_of(board)) == before
        for typed in self.typed_texts():
            assert f'value="{typed}"' in answer.text

    def typed_texts(self) -> list[str]:
        """What must be found again in a field after a conflict."""
        return []

    def test_an_edit_without_its_number_is_refused(self, browser: Browser, board: Board) -> None:
        answer = browser.post(self.url(board), self.typed, headers=HTMX)
        assert answer.status_code == 422
        assert "reload the page" in answer.text

    def test_its_queries_do_not_grow_with_the_board(
        self, cast: Cast, browser: Browser, django_assert_max_num_queries: Any
    ) -> None:
        for pedals in self.sizes:
            board = make_board(cast.shop, pedals)
            typed = {"edit": 0, **self.typed_for(board, pedals)}
            with django_assert_max_num_queries(self.most_queries):
                answer = self.post(browser, board, typed, headers=HTMX)
            assert answer.status_code == 200

    def typed_for(self, board: Board, pedals: int) -> dict[str, Any]:
        """What is typed on a board of so many pedals, laid over `typed`."""
        return {}


class RefusesWrongInput(EditContract):
    wrong: ClassVar[dict[str, Any]]
    """Laid over `typed`: what is refused, with `said` in the answer."""
    said: ClassVar[str]

    def test_what_is_wrong_is_said_and_what_was_typed_is_kept(self, browser: Browser, board: Board) -> None:
        before = dump_plan(plan_of(board))
        answer = self.post(browser, board, self.wrong, headers=HTMX)
        assert answer.status_code == 422
        assert self.said in unescape(answer.text)
        assert dump_plan(plan_of(board)) == before
        assert Board.objects.get(pk=board.pk).edit_number == 0


class NamesAThing(EditContract):
    unknown: ClassVar[tuple[str, ...]]
    """Arguments that name nothing on the board."""

    def test_what_is_not_on_the_board_is_not_found(self, browser: Browser, board: Board) -> None:
        answer = browser.post(self.url(board, self.unknown), {"edit": 0, **self.typed})
        assert answer.status_code in (404, 422)
        assert Board.objects.get(pk=board.pk).edit_number == 0
