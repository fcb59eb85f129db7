from typing import ClassVar

import pytest
from django.test import Client as Browser

from boardshop.boards.models import Board
from boardshop.core.plan import EndJack
from tests.board_factories import plan_of
from tests.boards.contract import RefusesWrongInput


class TestAddAmp(RefusesWrongInput):
    name = "add-amp"
    page = "order"
    typed: ClassVar = {
        "protection_class": "I",
        "input_ohm": "1M",
        "jacks": "IN in instrument; SEND send line",
    }
    wrong: ClassVar = {"jacks": "IN sideways"}
    said = "“IN sideways” is no jack"

    def test_it_stands_on_the_board_with_its_jacks(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        amp = plan_of(board).amps[1]
        assert (amp.ref, amp.input_ohm, amp.earthed) == ("A2", 1_000_000, True)
        assert amp.jacks == (EndJack("IN", "in", "instrument"), EndJack("SEND", "send", "line"))

    def test_without_jacks_it_has_one_input(self, browser: Browser, board: Board) -> None:
        self.post(browser, board, {"jacks": ""})
        assert plan_of(board).amps[1].jacks == (EndJack("IN", "in"),)

    @pytest.mark.parametrize(
        "jacks", ["IN in; in in", "I.N in", "IN in loud", "IN in line more", "IN", "X" * 21 + " in"]
    )
    def test_jacks_that_cannot_be(self, browser: Browser, board: Board, jacks: str) -> None:
        answer = self.post(browser, board, {"jacks": jacks})
        assert answer.status_code == 422
        assert answer.context["add_amp"].errors["jacks"]
        assert f'value="{jacks}"' in answer.text
