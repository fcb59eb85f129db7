from typing import ClassVar

from django.test import Client as Browser

from boardshop.boards.models import Board
from tests.board_factories import feeds_of, make_board
from tests.boards.contract import NamesAThing
from tests.core import builders as b
from tests.factories import Cast


class TestUnfeed(NamesAThing):
    name = "unfeed"
    args = ("P1.DC",)
    page = "power"
    typed: ClassVar = {"open": "P1.DC"}
    unknown = ("P9.DC",)

    def test_the_plug_is_pulled(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        assert (feeds_of(board), board.feeds.count()) == ({}, 0)

    def test_the_rest_of_a_chain_stays_fed(self, cast: Cast, browser: Browser) -> None:
        board = make_board(cast.shop, feeds=(b.feed("S1.1", ["P1.DC", "P2.DC"]),))
        self.post(browser, board)
        assert feeds_of(board) == {"P2.DC": "S1.1"}
