from typing import ClassVar

import pytest
from django.test import Client as Browser

from boardshop.boards.models import Board
from tests.board_factories import links_of, plan_of
from tests.boards.contract import RefusesWrongInput


class TestFollowSchool(RefusesWrongInput):
    name = "follow-school"
    page = "order"
    typed: ClassVar = {"school": "dynamics-first"}
    wrong: ClassVar = {"school": "nobody’s"}
    said = "Select a valid choice"

    @pytest.mark.parametrize("school", ["dynamics-first", "common"])
    def test_the_board_is_judged_by_it_and_nothing_moves(
        self, browser: Browser, board: Board, school: str
    ) -> None:
        Board.objects.filter(pk=board.pk).update(rules={"school": "dynamics-first"})
        before = links_of(board)
        self.post(browser, board, {"school": school})
        assert plan_of(board).rules.school == school
        assert links_of(board) == before

    def test_other_limits_of_the_board_stay(self, browser: Browser, board: Board) -> None:
        Board.objects.filter(pk=board.pk).update(rules={"gap_mm": 6})
        self.post(browser, board)
        assert (plan_of(board).rules.gap_mm, plan_of(board).rules.school) == (6, "dynamics-first")
