from typing import ClassVar

from django.test import Client as Browser

from boardshop.boards.models import Board, Placement
from tests.board_factories import plan_of
from tests.boards.contract import NamesAThing, RefusesWrongInput


class TestPlayPedal(RefusesWrongInput, NamesAThing):
    name = "play-pedal"
    args = ("P1",)
    page = "order"
    typed: ClassVar = {"role": "drive", "on": "true", "use": "4"}
    wrong: ClassVar = {"use": "6"}
    said = "6 is not one of the available choices"
    unknown = ("P9",)

    def test_how_it_is_played_is_kept(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        pedal = plan_of(board).pedals[0]
        assert (pedal.role, pedal.on, pedal.use) == ("drive", True, 4)

    def test_not_recorded_is_not_bypassed(self, browser: Browser, board: Board) -> None:
        self.post(browser, board, {"on": ""})
        assert plan_of(board).pedals[0].on is None

    def test_the_role_of_the_data_sheet_is_not_written_again(self, browser: Browser, board: Board) -> None:
        placement = Placement.objects.get(board=board, ref="P1")
        placement.model.role = "drive"
        placement.model.save()
        self.post(browser, board)
        placement.refresh_from_db()
        assert placement.role == ""

    def test_its_place_and_wiring_stay(self, browser: Browser, board: Board) -> None:
        before = plan_of(board)
        self.post(browser, board)
        after = plan_of(board)
        assert after.pedals[0].place == before.pedals[0].place
        assert (after.links, after.feeds) == (before.links, before.feeds)
