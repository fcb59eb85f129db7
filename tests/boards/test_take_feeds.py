from typing import Any, ClassVar

import pytest
from django.test import Client as Browser
from django.urls import reverse

from boardshop.boards.models import Board
from boardshop.core import plan as core
from tests.board_factories import feeds_of, make_board, plan_of
from tests.boards.contract import RefusesWrongInput
from tests.core import builders as b
from tests.factories import Cast


class TestTakeFeeds(RefusesWrongInput):
    name = "take-feeds"
    page = "proposed-feeds"
    typed: ClassVar = {"plug": ["P1.DC=S1.3@9000|"]}
    wrong: ClassVar = {"plug": ["P1.DC=anything"]}
    said = "This is no feed of the proposal"
    most_queries = 22

    def typed_for(self, board: Board, pedals: int) -> dict[str, Any]:
        return {"plug": [f"P{n}.DC=S1.{(n - 1) % 8 + 1}@9000|" for n in range(1, pedals + 1)]}

    def test_the_jack_is_plugged_over_and_its_lead_comes_along(self, browser: Browser, board: Board) -> None:
        lead = plan_of(board).feeds[0].lead
        self.post(browser, board)
        (feed,) = plan_of(board).feeds
        assert (feed.outlets, feed.settings, feed.lead) == (("S1.3",), (9000,), lead)

    def test_several_are_plugged_over_at_once(self, cast: Cast, browser: Browser) -> None:
        """Each goes to the outlet of the other."""
        feeds = (b.feed("S1.1", "P1.DC", 9000), b.feed("S1.2", "P2.DC", 9000))
        board = make_board(cast.shop, 2, feeds=feeds)
        self.post(browser, board, {"plug": ["P1.DC=S1.2@9000|", "P2.DC=S1.1@9000|"]})
        assert feeds_of(board) == {"P1.DC": "S1.2", "P2.DC": "S1.1"}

    def test_a_plug_is_pulled(self, browser: Browser, board: Board) -> None:
        self.post(browser, board, {"plug": ["P1.DC=|"]})
        assert plan_of(board).feeds == ()

    def test_one_that_leaves_a_chain_leaves_the_others_fed(self, cast: Cast, browser: Browser) -> None:
        board = make_board(cast.shop, 2, feeds=(b.feed("S1.1", ["P1.DC", "P2.DC"], 9000),))
        self.post(browser, board, {"plug": ["P2.DC=S1.2@9000|"]})
        assert feeds_of(board) == {"P1.DC": "S1.1", "P2.DC": "S1.2"}
        assert plan_of(board).feeds[1].lead is None

    def test_joined_outlets_and_adapters_are_stored(self, browser: Browser, board: Board) -> None:
        self.post(browser, board, {"plug": ["P1.DC=S1.1@9000+S1.2@9000|series+reverser"]})
        (feed,) = plan_of(board).feeds
        assert (feed.outlets, feed.adapters) == (("S1.1", "S1.2"), ("series", "reverser"))

    def test_several_jacks_on_joined_outlets_hang_on_one_lead(self, browser: Browser, board: Board) -> None:
        plug = "=S1.1@9000+S1.2@9000|parallel"
        self.post(browser, board, {"plug": [f"P1.DC{plug}", f"P2.DC{plug}"]})
        (feed,) = plan_of(board).feeds
        assert feed.jacks == ("P1.DC", "P2.DC")

    def test_it_can_be_undone(self, browser: Browser, board: Board) -> None:
        before = plan_of(board)
        self.post(browser, board)
        browser.post(reverse("undo-change", args=[board.code]), {"edit": 1, "page": "proposed-feeds"})
        assert plan_of(board) == before

    @pytest.mark.parametrize(
        ("plugs", "said"),
        [
            (["P1.DC=S1.77@9000|"], "Outlet 77 does not exist on supply S1"),
            (["P1.DC=S9.1@9000|"], "does not exist on supply S9"),
            (["P9.DC=S1.1@9000|"], "P9"),
            (["P1.DC=S1.1@12000|"], "12 V"),
            (["P1.DC=S1.1@9000+S1.1@9000|series"], "S1.1 is chosen twice"),
            (["P1.DC=S1.1@9000|", "p1.dc=S1.2@9000|"], "A jack is named twice"),
            (["P1.DC=S1.1@9000|glue"], "This is no feed of the proposal"),
            (["P1.DC=S1.1@\x009000|"], "This is no feed of the proposal"),
        ],
    )
    def test_what_cannot_be_is_refused(
        self, browser: Browser, board: Board, plugs: list[str], said: str
    ) -> None:
        before = plan_of(board)
        answer = self.post(browser, board, {"plug": plugs})
        assert answer.status_code == 422
        assert said in answer.text
        assert plan_of(board) == before

    def test_one_outlet_at_two_voltages_is_refused(self, cast: Cast, browser: Browser) -> None:
        two = (core.OutletSetting(9000, 9000, 500), core.OutletSetting(18000, 18000, 250))
        supply = b.supply("S1", b.outlet("1", settings=two), b.outlet("2"))
        board = make_board(cast.shop, 2, supplies=(supply,), feeds=())
        answer = self.post(browser, board, {"plug": ["P1.DC=S1.1@9000|", "P2.DC=S1.1@18000|"]})
        assert answer.status_code == 422
        assert plan_of(board).feeds == ()

    def test_an_outlet_of_another_board_is_refused(self, cast: Cast, browser: Browser, board: Board) -> None:
        make_board(cast.shop, 1, name="Other", supplies=(b.supply("S2", b.outlet("1")),), feeds=())
        answer = self.post(browser, board, {"plug": ["P1.DC=S2.1@9000|"]})
        assert answer.status_code == 422
        assert feeds_of(board) == {"P1.DC": "S1.1"}
