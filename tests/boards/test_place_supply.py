from typing import ClassVar

from django.test import Client as Browser

from boardshop.boards.models import Board
from boardshop.core.plan import SupplyPlace
from tests.board_factories import plan_of
from tests.boards.contract import NamesAThing, RefusesWrongInput


class TestPlaceSupply(RefusesWrongInput, NamesAThing):
    name = "place-supply"
    args = ("S1",)
    page = "layout"
    typed: ClassVar = {"x": "100", "y": "40", "turn": "180", "under": "on"}
    wrong: ClassVar = {"turn": "17"}
    said = "17 is not one of the available choices"
    unknown = ("S9",)

    def typed_texts(self) -> list[str]:
        return ["100", "40"]

    def test_it_sits_under_the_frame(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        assert plan_of(board).supplies[0].place == SupplyPlace(100, 40, 180, under=True)

    def test_blank_takes_it_away(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        self.post(browser, board, {"x": "", "y": ""})
        assert plan_of(board).supplies[0].place is None
