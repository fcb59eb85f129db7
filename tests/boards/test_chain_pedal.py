from typing import ClassVar

from django.test import Client as Browser

from boardshop.boards.models import Board
from tests.board_factories import feeds_of, make_board, plan_of
from tests.boards.contract import NamesAThing, RefusesWrongInput
from tests.core import builders as b
from tests.factories import Cast


class TestChainPedal(RefusesWrongInput, NamesAThing):
    name = "chain-pedal"
    sizes = (2, 18)
    args = ("P2.DC",)
    page = "power"
    typed: ClassVar = {"onto": "P1.DC", "open": "P2.DC"}
    wrong: ClassVar = {"onto": ""}
    said = "This field is required"
    unknown = ("P9.DC",)

    def test_the_jack_hangs_on_the_others_lead(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        assert [feed.jacks for feed in plan_of(board).feeds] == [("P1.DC", "P2.DC")]

    def test_what_fed_it_before_is_unplugged(self, cast: Cast, browser: Browser) -> None:
        feeds = (b.feed("S1.1", "P1.DC"), b.feed("S1.2", "P2.DC"))
        board = make_board(cast.shop, feeds=feeds)
        self.post(browser, board)
        assert feeds_of(board) == {"P1.DC": "S1.1", "P2.DC": "S1.1"}
        assert len(plan_of(board).feeds) == 1

    def test_nothing_hangs_on_a_lead_that_is_not_there(self, cast: Cast, browser: Browser) -> None:
        board = make_board(cast.shop, feeds=())
        answer = self.post(browser, board)
        assert answer.status_code == 422
        assert "Nothing feeds P1.DC now" in answer.text

    def test_nothing_hangs_on_its_own_lead(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        assert self.post(browser, board).status_code == 422
