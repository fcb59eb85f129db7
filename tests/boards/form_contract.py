"""What a page of one form keeps: sent without htmx, it leads back, or shows again what was typed."""

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


@pytest.mark.django_db
class FormContract:
    name: ClassVar[str]
    args: ClassVar[tuple[str, ...]] = ()
    page: ClassVar[str]
    """The page that a kept edit leads back to."""
    typed: ClassVar[dict[str, Any]]
    wrong: ClassVar[dict[str, Any]]
    """Laid over `typed`: what is refused, with `said` in the answer."""
    said: ClassVar[str]
    unknown: ClassVar[tuple[str, ...]] = ()
    has_page: ClassVar[bool] = True
    """Whether the address shows the form, or another one's page does."""

    @pytest.fixture
    def board(self, cast: Cast) -> Board:
        return make_board(cast.shop)

    @pytest.fixture
    def browser(self, cast: Cast) -> Browser:
        return cast.browser("editor")

    def url(self, board: Board, args: tuple[str, ...] | None = None) -> str:
        return reverse(self.name, args=[board.code, *(self.args if args is None else args)])

    def post(self, browser: Browser, board: Board, typed: Any = None) -> HttpResponse:
        values = {**self.typed, **(typed or {})}
        values.setdefault("edit", Board.objects.get(pk=board.pk).edit_number)
        return browser.post(self.url(board), values)

    def test_a_kept_edit_leads_back(self, browser: Browser, board: Board) -> None:
        answer = self.post(browser, board)
        assert answer.status_code == 303
        assert answer.url.partition("#")[0] == reverse(self.page, args=[board.code])
        assert Board.objects.get(pk=board.pk).edit_number == 1

    def test_the_page_opens_for_an_editor_only(self, cast: Cast, board: Board) -> None:
        expected = {"owner": 200, "editor": 200, "viewer": 403, "stranger": 404}
        if not self.has_page:
            expected = dict.fromkeys(expected, 405)
        assert {role: cast.browser(role).get(self.url(board)).status_code for role in expected} == expected

    @pytest.mark.parametrize(("role", "status"), [("stranger", 404), ("viewer", 403)])
    def test_nobody_else_changes_it(self, cast: Cast, board: Board, role: str, status: int) -> None:
        before = dump_plan(plan_of(board))
        assert self.post(cast.browser(role), board).status_code == status
        assert dump_plan(plan_of(board)) == before

    def test_a_wrong_method_is_refused(self, browser: Browser, board: Board) -> None:
        assert browser.delete(self.url(board)).status_code == 405

    def test_what_is_wrong_is_said_and_nothing_is_kept(self, browser: Browser, board: Board) -> None:
        before = dump_plan(plan_of(board))
        answer = self.post(browser, board, self.wrong)
        assert answer.status_code == 422
        assert self.said in unescape(answer.text)
        assert dump_plan(plan_of(board)) == before

    def test_a_late_edit_is_refused_with_what_was_typed(self, browser: Browser, board: Board) -> None:
        Board.objects.update(edit_number=5)
        before = dump_plan(plan_of(board))
        answer = self.post(browser, board, {"edit": 4})
        assert answer.status_code == 409
        assert 'name="edit" value="5"' in answer.text
        assert dump_plan(plan_of(board)) == before
        for value in self.typed.values():
            if isinstance(value, str) and value:
                assert f'value="{value}"' in answer.text

    def test_what_is_not_on_the_board_is_not_found(self, browser: Browser, board: Board) -> None:
        url = self.url(board, self.unknown or self.args).replace(
            board.code, board.code if self.unknown else "22222"
        )
        assert browser.post(url, {"edit": 0, **self.typed}).status_code == 404
