from django.test import Client as Browser

from boardshop.boards.models import Board
from boardshop.gear.models import SupplyModel
from tests.board_factories import feeds_of, plan_of
from tests.boards.contract import NamesAThing


class TestRemoveSupply(NamesAThing):
    name = "remove-supply"
    most_queries = 24
    args = ("S1",)
    page = "power"
    unknown = ("S9",)

    def test_what_it_fed_is_unfed_and_the_gear_stays(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        assert (plan_of(board).supplies, feeds_of(board)) == ((), {})
        assert SupplyModel.objects.exists()
