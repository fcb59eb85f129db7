"""The cut list of a board: every cable by its kind, the plan, finished cables beside it."""

from dataclasses import replace
from typing import Any, ClassVar

import pytest

from boardshop.boards.models import Board
from boardshop.core.cables import plan_cuts
from boardshop.core.plan import DcLead, StockLength
from tests.bench.cut_boards import make_cut_board
from tests.board_factories import make_board, plan_of
from tests.boards.page_contract import PageContract
from tests.core import builders as b
from tests.factories import Cast, make_ready_made


class TestCutList(PageContract):
    name = "cut-list"
    most_queries: ClassVar[int] = 13

    @pytest.fixture
    def board(self, cast: Cast) -> Board:
        return make_cut_board(cast.shop)

    def page(self, cast: Cast, board: Board, who: str = "editor") -> Any:
        return cast.browser(who).get(self.url(board))

    def text(self, cast: Cast, board: Board) -> str:
        return " ".join(self.page(cast, board).text.split())

    def test_the_plan_is_that_of_the_report(self, cast: Cast, board: Board) -> None:
        work = self.page(cast, board).context["work"]
        plan, own = plan_cuts(plan_of(board)), work.plan
        assert (own.drawn_mm, own.waste_mm, own.bound) == (plan.drawn_mm, plan.waste_mm, plan.bound)
        assert [sorted(mm for _ref, mm in used.pieces) for used in own.used] == [
            sorted(mm for _ref, mm in used.pieces) for used in plan.used
        ]

    def test_each_cable_has_its_kind_labels_and_strip_lengths(self, cast: Cast, board: Board) -> None:
        text = self.text(cast, board)
        assert "instrument lead" in text
        assert "amp lead" in text
        assert "W2 &gt; P1-OUT<br>W2 &gt; P2-IN" in text
        assert "strip for soldering" in text
        assert "12 mm – 15 mm" in text
        assert "Hot iron and fumes" in text

    def test_a_fixing_that_nobody_recorded_is_said(self, cast: Cast) -> None:
        board = make_cut_board(cast.shop, plugs=(b.plug_type(price=4.0),))
        assert "fixing not recorded, so no strip length" in self.text(cast, board)

    def test_a_moulded_plug_is_not_cut(self, cast: Cast) -> None:
        board = make_cut_board(cast.shop, plugs=(b.plug_type(fixing="moulded"),))
        page = self.page(cast, board)
        assert page.context["work"].wanted == ()
        assert "a moulded plug is chosen, which cannot be fitted" in page.text

    def test_dc_leads_stand_in_the_list(self, cast: Cast) -> None:
        feeds = (b.feed("S1.1", "P1.DC", lead=DcLead(500, awg=22)),)
        text = self.text(cast, make_cut_board(cast.shop, feeds=feeds))
        assert "S1-1 &gt; P1-DC" in text
        assert "recorded on its feed" in text

    def test_what_is_proved_is_said_in_words(self, cast: Cast, board: Board) -> None:
        assert "Proved: no plan makes more of the length that is wanted" in self.text(cast, board)

    def test_a_reel_shorter_than_a_piece_is_said_with_the_way_out(self, cast: Cast) -> None:
        board = make_cut_board(cast.shop, stock=(StockLength("C1", 90),))
        text = self.text(cast, board)
        assert "longer than any length in stock, which yields 90 mm: buy a longer one" in text

    def test_without_stock_every_piece_is_short(self, cast: Cast) -> None:
        text = self.text(cast, make_cut_board(cast.shop, stock=()))
        assert "none of this cable is in stock" in text

    def test_a_lead_without_its_whole_length_is_not_cut(self, cast: Cast) -> None:
        board = make_board(cast.shop)
        page = self.page(cast, board)
        assert "its whole length is not recorded, only the part on the frame is measured" in page.text

    def test_finished_cables_are_offered_with_the_cost_of_both_ways(self, cast: Cast, board: Board) -> None:
        make_ready_made(cast.shop, name="Patch 15", length=150, connector="6.35 TS", far_connector="6.35 TS",
                        price=7, count=1, pf_per_m=130)  # fmt: skip
        page = self.page(cast, board)
        ready = page.context["ready"]
        assert [(use.offer.name, use.refs, use.to_buy) for use in ready.uses] == [
            ("Patch 15", ("W2", "W3"), 1)
        ]
        text = " ".join(page.text.split())
        assert "does for <strong>W2, W3</strong>" in text
        assert "14.00 EUR" in text
        assert "7.00 EUR" in text

    def test_a_price_that_is_not_recorded_is_named(self, cast: Cast) -> None:
        board = make_cut_board(cast.shop, cables=(b.cable_type(name="Slim"),))
        assert "Without a price: Slim (C1)" in self.text(cast, board)

    def test_lengths_are_in_the_shops_unit(self, cast: Cast, board: Board) -> None:
        cast.shop.length_unit = "in"
        cast.shop.save()
        text = self.page(cast, board).text
        main = text[text.index('id="list-head"') : text.index('id="findings"')]
        assert " mm" not in main
        assert " in" in main

    def test_a_made_cable_is_not_cut_again(self, cast: Cast) -> None:
        plan = plan_of(make_cut_board(cast.shop))
        links = tuple(replace(link, made=200) if link.ref == "W2" else link for link in plan.links)
        page = self.page(cast, make_cut_board(cast.shop, links=links))
        assert [piece.ref for piece in page.context["work"].wanted] == ["W3"]
        assert "made already" in page.text
