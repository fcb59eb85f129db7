from typing import Any, ClassVar

import pytest
from django.test import Client as Browser
from django.urls import reverse

from boardshop.boards.models import Board
from boardshop.core.plan import DcLead, Feed, Tail
from boardshop.gear.models import SupplyModel
from tests.board_factories import plan_of
from tests.boards.contract import RefusesWrongInput
from tests.boards.lead_boards import BARREL, waiting_board
from tests.factories import Cast, make_drawer_item

FIRST = "P1.DC S1/500/22//barrel 5.5/2.1"
SECOND = "P2.DC S1/500/22//barrel 5.5/2.1"


class TestTakeLeads(RefusesWrongInput):
    name = "take-leads"
    page = "leads"
    typed: ClassVar = {"take": [FIRST]}
    wrong: ClassVar = {"take": ["P1.DC S1/600/22//barrel 5.5/2.1"]}
    said = "The lead for P1.DC is not the one that your page showed"

    @pytest.fixture
    def board(self, cast: Cast) -> Board:
        return waiting_board(cast.shop)

    def typed_for(self, board: Board, pedals: int) -> dict[str, Any]:
        return {}

    def test_its_queries_do_not_grow_with_the_board(
        self, cast: Cast, browser: Browser, django_assert_max_num_queries: Any
    ) -> None:
        for pedals in self.sizes:
            board = waiting_board(cast.shop, pedals)
            shown = browser.get(reverse("leads", args=[board.code])).context["taken"]
            assert shown
            with django_assert_max_num_queries(self.most_queries):
                answer = self.post(browser, board, {"take": shown}, headers={"HX-Request": "true"})
            assert answer.status_code == 200

    def test_the_lead_stands_on_its_feed(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        first, second = plan_of(board).feeds
        assert first.lead == DcLead(500, awg=22, connector=BARREL)
        assert second.lead is None

    def test_the_buttons_of_the_page_send_what_is_taken(self, browser: Browser, board: Board) -> None:
        page = browser.get(reverse("leads", args=[board.code]))
        assert page.context["taken"] == [FIRST, SECOND]
        assert f'name="take" value="{FIRST}"' in page.text
        self.post(browser, board, {"take": page.context["taken"]})
        assert [feed.lead for feed in plan_of(board).feeds] == [DcLead(500, awg=22, connector=BARREL)] * 2
        after = browser.get(reverse("leads", args=[board.code]))
        assert after.context["taken"] == []
        assert [(heap.count, heap.left) for heap in after.context["heaps"]] == [(9, 7), (9, 9)]

    def test_it_is_one_change_that_undo_takes_back(self, browser: Browser, board: Board) -> None:
        self.post(browser, board, {"take": [FIRST, SECOND]})
        page = browser.get(reverse("leads", args=[board.code]))
        undo = page.context["steps"].undo
        browser.post(
            reverse("undo-change", args=[board.code]), {"edit": 1, "change": undo.number, "page": "leads"}
        )
        assert [feed.lead for feed in plan_of(board).feeds] == [None, None]

    def test_a_lead_of_the_drawer_with_its_area(self, cast: Cast, browser: Browser) -> None:
        board = waiting_board(cast.shop, 1)
        SupplyModel.objects.get().leads.all().delete()
        make_drawer_item(cast.shop, kind="lead", length=700, mm2="0.5", connector=BARREL)
        self.post(browser, board, {"take": ["P1.DC drawer/700//0.5/barrel 5.5/2.1"]})
        assert plan_of(board).feeds[0].lead == DcLead(700, mm2=0.5, connector=BARREL)

    def test_the_plug_type_of_the_feed_stays_and_a_tail_without_a_trunk_goes(
        self, cast: Cast, browser: Browser
    ) -> None:
        half = DcLead(plug="J9", tails=(Tail(90, awg=24),))
        board = waiting_board(cast.shop, 1, feeds=(Feed(("S1.1",), ("P1.DC",), (9000,), lead=half),))
        self.post(browser, board)
        lead = plan_of(board).feeds[0].lead
        assert lead is not None
        assert (lead.length, lead.tails, lead.plug is not None) == (500, (), True)

    def test_leads_that_went_meanwhile_are_not_recorded_and_neither_are_the_others(
        self, browser: Browser, board: Board
    ) -> None:
        SupplyModel.objects.get().leads.filter(length=500).update(count=1)
        answer = self.post(browser, board, {"take": [FIRST, SECOND]})
        assert answer.status_code == 422
        assert "Look at what is chosen now and use that" in answer.text
        assert [feed.lead for feed in plan_of(board).feeds] == [None, None]

    @pytest.mark.parametrize(
        ("take", "says"),
        [
            ([], "No lead was named"),
            (["P9.DC S1/500/22//barrel 5.5/2.1"], "The lead for P9.DC"),
            (["<b>"], "The lead for &lt;b&gt;"),
            (["x" * 201], "This is no lead of this page"),
            ([FIRST, "P1.DC S1/1200/22//barrel 5.5/2.1"], "The lead for P1.DC"),
        ],
    )
    def test_what_no_page_offers_is_refused_in_words(
        self, browser: Browser, board: Board, take: list[str], says: str
    ) -> None:
        answer = self.post(browser, board, {"take": take})
        assert answer.status_code == 422
        assert says in answer.text
