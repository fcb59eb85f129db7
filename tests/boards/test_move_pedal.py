from typing import Any, ClassVar

from django.test import Client as Browser

from boardshop.boards.models import Board
from tests.board_factories import links_of
from tests.boards.contract import NamesAThing, RefusesWrongInput


class TestMovePedal(RefusesWrongInput, NamesAThing):
    name = "move-pedal"
    args = ("P1",)
    page = "order"
    typed: ClassVar = {"line": "0", "position": "2"}
    wrong: ClassVar = {"position": "9"}
    said = "from 1 to 2"
    unknown = ("P9",)

    def typed_for(self, board: Board, pedals: int) -> dict[str, Any]:
        return {"position": str(min(2, pedals))}

    def test_the_links_follow(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        assert sorted(links_of(board).values()) == ["G1.OUT P2.IN", "P1.OUT A1.IN", "P2.OUT P1.IN"]

    def test_a_position_that_is_no_number_is_refused(self, browser: Browser, board: Board) -> None:
        assert self.post(browser, board, {"position": "last"}).status_code == 422

    def test_a_loose_pedal_is_wired_in(self, browser: Browser, board: Board) -> None:
        board.items.filter(link__isnull=False).delete()
        self.post(browser, board, {"position": "1"})
        assert sorted(links_of(board).values()) == ["G1.OUT P1.IN", "P1.OUT A1.IN"]
