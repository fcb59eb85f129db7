from django.test import Client as Browser

from boardshop.boards.models import Board
from tests.board_factories import links_of, plan_of
from tests.boards.contract import NamesAThing


class TestRemoveEnd(NamesAThing):
    name = "remove-end"
    args = ("G1",)
    page = "order"
    most_queries = 20
    unknown = ("P1",)

    def test_its_links_go_with_it(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        assert plan_of(board).sources == ()
        assert "W1" not in links_of(board)
