from typing import ClassVar

import pytest
from django.test import Client as Browser

from boardshop.boards.models import Board
from boardshop.gear.models import CableType
from tests.board_factories import links_of, make_board, plan_of
from tests.boards.contract import RefusesWrongInput
from tests.factories import Cast


class TestConnectJacks(RefusesWrongInput):
    name = "connect-jacks"
    page = "cables"
    typed: ClassVar = {"source": "P1.OUT", "target": "P2.IN", "route": "under", "screen": "isolated"}
    wrong: ClassVar = {"length": "-3"}
    said = "is below zero"

    @pytest.fixture
    def board(self, cast: Cast) -> Board:
        """P1 to P2 is loose."""
        board = make_board(cast.shop)
        board.items.filter(ref="W2").delete()
        return board

    def typed_for(self, board: Board, pedals: int) -> dict[str, str]:
        board.items.filter(ref="W1").delete()
        return {"source": "G1.OUT", "target": "P1.IN"}

    def test_two_jacks_are_linked(self, browser: Browser, board: Board) -> None:
        cable = CableType.objects.get()
        self.post(browser, board, {"cable": cable.pk, "made": "16.5 cm"})
        link = next(link for link in plan_of(board).links if link.ref == "W2")
        assert (link.source, link.target, link.route, link.made) == ("P1.OUT", "P2.IN", "under", 165)
        assert (link.screen, link.cable) == ("isolated", plan_of(board).cables[0].ref)

    @pytest.mark.parametrize(
        ("source", "target", "said"),
        [
            ("P1.OUT", "P1.IN", "belong to the same pedal"),
            ("P1.IN", "P2.OUT", "cannot lead to"),
            ("P1.OUT", "A1.IN", "A1.IN already has a link"),
            ("P1.OUT", "P7.IN", "P7.IN does not exist"),
            ("nonsense", "P2.IN", "nonsense does not exist"),
            ("", "P2.IN", "required"),
        ],
    )
    def test_what_cannot_be_linked(
        self, browser: Browser, board: Board, source: str, target: str, said: str
    ) -> None:
        answer = self.post(browser, board, {"source": source, "target": target})
        assert answer.status_code == 422
        assert said in answer.text
        assert "W2" not in links_of(board)

    def test_an_instrument_feeds_an_amp_directly(self, browser: Browser, board: Board) -> None:
        board.items.filter(link__isnull=False).delete()
        self.post(browser, board, {"source": "g1.out", "target": "a1.in", "ref": "LEAD"})
        assert links_of(board) == {"LEAD": "G1.OUT A1.IN"}
