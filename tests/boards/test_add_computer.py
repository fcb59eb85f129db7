from typing import ClassVar

from django.test import Client as Browser

from boardshop.boards.models import Board
from boardshop.core.plan import Computer, EndJack
from tests.board_factories import plan_of
from tests.boards.contract import RefusesWrongInput


class TestAddComputer(RefusesWrongInput):
    name = "add-computer"
    page = "order"
    typed: ClassVar = {"earthed": "false", "jacks": "USB usb; MIDI midi-out"}
    wrong: ClassVar = {"jacks": "OUT out"}
    said = "“OUT out” is no jack"

    def test_it_stands_on_the_board(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        jacks = (EndJack("USB", "usb"), EndJack("MIDI", "midi-out"))
        assert plan_of(board).computers == (Computer("M1", earthed=False, jacks=jacks),)
