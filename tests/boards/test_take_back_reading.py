from typing import Any, ClassVar

import pytest
from django.test import Client as Browser

from boardshop.boards.models import Board, Change, LeadReading
from tests.board_factories import make_board
from tests.boards.contract import HTMX, EditContract
from tests.boards.readings import meter
from tests.factories import Cast


class OneReading(EditContract):
    """An edit of a reading that stands there, at edit 0 as the contract has it."""

    page = "first-power"
    typed: ClassVar = {}

    @pytest.fixture
    def board(self, cast: Cast) -> Board:
        return self.ready(cast, self.make(cast))

    def make(self, cast: Cast, pedals: int = 2) -> Board:
        return make_board(cast.shop, pedals)

    def ready(self, cast: Cast, board: Board) -> Board:
        meter(board, cast.editor)
        self.prepare(board.readings.get())
        Change.objects.all().delete()
        Board.objects.filter(pk=board.pk).update(edit_number=0)
        return board

    def prepare(self, reading: LeadReading) -> None:
        """What the edit needs besides."""

    def url(self, board: Board, args: Any = None) -> str:
        return super().url(board, args or (board.readings.latest("pk").pk,))

    def test_its_queries_do_not_grow_with_the_board(
        self, cast: Cast, browser: Browser, django_assert_max_num_queries: Any
    ) -> None:
        for pedals in self.sizes:
            board = self.ready(cast, self.make(cast, pedals))
            with django_assert_max_num_queries(self.most_queries):
                assert self.post(browser, board, {"edit": 0}, headers=HTMX).status_code == 200

    def test_one_of_another_board_is_not_found(self, cast: Cast, browser: Browser, board: Board) -> None:
        other = self.ready(cast, make_board(cast.shop, name="Other"))
        url = self.url(board, (other.readings.get().pk,))
        assert browser.post(url, {"edit": 0}).status_code == 404


class TestTakeBackReading(OneReading):
    name = "take-back-reading"

    def test_it_counts_no_more_and_stays_in_the_list(
        self, cast: Cast, browser: Browser, board: Board
    ) -> None:
        row = self.post(browser, board, headers=HTMX).context["rows"][0]
        assert (row.plug, row.plug_verdict.state) == (None, "not metered")
        (reading,) = row.log
        assert reading.taken_back_at is not None
        assert reading.taken_back_by == str(cast.editor)

    def test_the_one_before_it_counts_again(self, cast: Cast, browser: Browser, board: Board) -> None:
        meter(board, cast.editor, mv=8000)
        row = self.post(browser, board, headers=HTMX).context["rows"][0]
        assert row.plug.mv == 9100

    def test_it_stands_in_the_history(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        said = "A reading at P1.DC was taken back: 9.1 V, centre-negative."
        assert board.changes.get().sentences == [said]

    def test_twice_is_once(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        assert self.post(browser, board, {"edit": 1}).status_code == 303
        assert Board.objects.get(pk=board.pk).edit_number == 1
