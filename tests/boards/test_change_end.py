from typing import ClassVar

import pytest
from django.test import Client as Browser

from boardshop.boards.models import Board
from tests.board_factories import links_of, make_board, plan_of
from tests.boards.form_contract import FormContract
from tests.factories import Cast


class TestChangeEnd(FormContract):
    name = "change-end"
    args = ("A1",)
    page = "order"
    typed: ClassVar = {"ref": "A1", "protection_class": "II", "earthed": "false", "speaker": "guitar"}
    wrong: ClassVar = {"input_ohm": "lots"}
    said = "lots"
    unknown = ("P1",)

    def test_an_amp_is_changed(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        amp = plan_of(board).amps[0]
        assert (amp.protection_class, amp.earthed, amp.speaker) == ("II", False, "guitar")

    def test_another_ref_keeps_its_links(self, browser: Browser, board: Board) -> None:
        self.post(browser, board, {"ref": "TOP"})
        assert links_of(board)["W3"] == "P2.OUT TOP.IN"

    def test_an_instrument_is_changed_on_a_page_of_its_own_kind(self, cast: Cast, board: Board) -> None:
        browser, url = cast.browser("editor"), self.url(board, ("G1",))
        assert "Pickup inductance" in browser.get(url).text
        browser.post(url, {"edit": 0, "ref": "G1", "volume_ohm": "500k"})
        assert plan_of(board).sources[0].volume_ohm == 500_000


@pytest.mark.django_db
def test_a_pedal_is_no_end(cast: Cast) -> None:
    board = make_board(cast.shop)
    assert cast.browser("editor").get(f"/boards/{board.code}/ends/P1/change").status_code == 404
