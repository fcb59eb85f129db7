from django.test import Client as Browser

from boardshop.boards.models import Board
from tests.board_factories import links_of
from tests.boards.contract import NamesAThing


class TestRemoveLink(NamesAThing):
    name = "remove-link"
    args = ("W1",)
    page = "cables"
    unknown = ("W77",)

    def test_the_jacks_are_free_then(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        assert links_of(board) == {"W2": "P1.OUT P2.IN", "W3": "P2.OUT A1.IN"}
