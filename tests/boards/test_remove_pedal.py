from django.test import Client as Browser

from boardshop.boards.models import Board
from boardshop.gear.models import PedalModel
from tests.board_factories import feeds_of, links_of, plan_of
from tests.boards.contract import NamesAThing


class TestRemovePedal(NamesAThing):
    name = "remove-pedal"
    most_queries = 32
    args = ("P1",)
    page = "order"
    unknown = ("P9",)

    def test_links_and_feed_go_with_it_and_the_gear_stays(self, browser: Browser, board: Board) -> None:
        models = PedalModel.objects.count()
        self.post(browser, board)
        assert [pedal.ref for pedal in plan_of(board).pedals] == ["P2"]
        assert (links_of(board), feeds_of(board)) == ({"W3": "P2.OUT A1.IN"}, {})
        assert PedalModel.objects.count() == models
