"""`put-on-board`: something from the tray goes to the first free spot; what that is, is the core's word."""

from typing import Any, ClassVar

import pytest
from django.test import Client as Browser

from boardshop.boards.models import Board
from boardshop.core.layout.free_spot import find_pedal_spot, find_supply_spot
from tests.board_factories import make_board, plan_of
from tests.boards.contract import HTMX, RefusesWrongInput
from tests.core import builders as b
from tests.factories import Cast


class TestPutOnBoard(RefusesWrongInput):
    name = "put-on-board"
    page = "layout"
    typed: ClassVar = {"ref": "P3"}
    wrong: ClassVar = {"ref": "P9"}
    said = "P9 is not on Nightjar main"

    @pytest.fixture
    def board(self, cast: Cast) -> Board:
        pedals = [b.pedal("P1", at=(20, 10)), b.pedal("P2", at=(200, 10)), b.pedal("P3", name="Grain Hall")]
        return make_board(cast.shop, pedals)

    def typed_for(self, board: Board, pedals: int) -> dict[str, Any]:
        return {"ref": "S1"}

    def test_it_lies_where_the_core_finds_room(self, browser: Browser, board: Board) -> None:
        spot = find_pedal_spot(plan_of(board), "P3")
        self.post(browser, board)
        assert plan_of(board).pedals[2].place == spot
        assert spot is not None

    def test_a_supply_too(self, browser: Browser, board: Board) -> None:
        spot = find_supply_spot(plan_of(board), "S1")
        self.post(browser, board, {"ref": "s1"})
        assert plan_of(board).supplies[0].place == spot
        assert spot is not None

    def test_it_is_chosen_then(self, browser: Browser, board: Board) -> None:
        answer = self.post(browser, board, headers=HTMX)
        assert answer.context["selection"].refs == "P3"

    def test_where_there_is_no_room_it_says_so(self, cast: Cast, browser: Browser) -> None:
        pedals = [b.pedal("P1", at=(20, 10)), b.pedal("P2", name="Grain Hall", width=400)]
        board = make_board(cast.shop, pedals, frame=b.frame(300, 160))
        answer = self.post(browser, board, {"ref": "P2"})
        assert answer.status_code == 422
        assert "There is no free spot for Grain Hall (P2)" in answer.text

    def test_a_supply_without_a_size_is_to_be_measured_first(self, cast: Cast, browser: Browser) -> None:
        board = make_board(cast.shop, supplies=(b.supply("S1", width=None),), feeds=())
        answer = self.post(browser, board, {"ref": "S1"})
        assert answer.status_code == 422
        assert "The size of S1 is not recorded" in answer.text

    @pytest.mark.parametrize("ref", ["", "x" * 50, "P3\0"])
    def test_nonsense_is_refused(self, browser: Browser, board: Board, ref: str) -> None:
        assert self.post(browser, board, {"ref": ref}).status_code == 422
