from dataclasses import replace
from typing import Any

import pytest

from boardshop.boards.models import Board
from boardshop.core.plan import DcLead, Feed, SupplyLead, Tail
from boardshop.core.power import compute_power
from boardshop.core.power.leads import assign_leads
from boardshop.core.printing import round_whole
from tests.board_factories import make_board, plan_of
from tests.boards.lead_boards import BARREL, supply_with, waiting_board
from tests.boards.page_contract import PageContract, pressing
from tests.core import builders as b
from tests.factories import Cast, make_drawer_item


def rows_of(text: str) -> list[str]:
    """The text of each row of the table of feeds."""
    body = text[text.index('id="feeds"') :].partition("</table>")[0]
    return [" ".join(row.split()) for row in body.split("<tr>")[2:]]


class TestLeads(PageContract):
    name = "leads"

    @pytest.fixture
    def board(self, cast: Cast) -> Board:
        return waiting_board(cast.shop)

    def page(self, cast: Cast, board: Board, who: str = "editor") -> Any:
        return cast.browser(who).get(self.url(board))

    def test_it_shows_the_need_the_lead_that_fits_and_what_it_loses(self, cast: Cast, board: Board) -> None:
        first, second = rows_of(self.page(cast, board).text)
        one = assign_leads(plan_of(board)).feeds[0]
        assert one.chosen is not None
        (drop,) = one.drops
        assert drop.drop_mv is not None
        assert f"{one.need.mm} mm" in first
        assert "500 mm, AWG 22, barrel 5.5/2.1" in first
        assert f"fits, comes with S1, {500 - (one.need.mm or 0)} mm to spare" in first
        assert f"{round_whole(drop.drop_mv)} mV" in first
        assert "P2.DC" in second
        assert "to the jack's face, its plug is not recorded" in first.replace("&#x27;", "'")

    def test_a_recorded_lead_shows_the_figures_of_the_report(self, cast: Cast) -> None:
        board = make_board(cast.shop, supplies=(supply_with(),))
        (row,) = rows_of(self.page(cast, board).text)
        (drop,) = compute_power(plan_of(board)).drops
        assert "recorded" in row
        assert f"{drop.drop_mv} mV" in row
        assert f"{(drop.at_pedal_mv or 0) / 1000:g} V" in row
        assert "Use this lead" not in row

    def test_of_a_chain_each_jack_has_its_row_with_its_tail(self, cast: Cast) -> None:
        tails = (Tail(100, awg=24), Tail(200, awg=24))
        feed = Feed(("S1.1",), ("P1.DC", "P2.DC"), (9000,), lead=DcLead(500, awg=22, tails=tails))
        board = make_board(cast.shop, supplies=(supply_with(),), feeds=(feed,))
        rows = rows_of(self.page(cast, board).text)
        drops = compute_power(plan_of(board)).drops
        assert len(rows) == 2
        assert [f"{drop.drop_mv} mV" in row for drop, row in zip(drops, rows, strict=True)] == [True, True]
        assert ["trunk, to the nearest jack" in row for row in rows] == [True, False]
        assert "2 tails" in rows[0]
        assert "the same as of P1.DC" in rows[1]
        assert all("tail <span" in row for row in rows)

    def test_a_lead_that_is_too_short_is_said_with_a_mark(self, cast: Cast) -> None:
        board = make_board(
            cast.shop, supplies=(supply_with(),), feeds=(b.feed("S1.1", "P1.DC", lead=DcLead(50, awg=24)),)
        )
        (row,) = rows_of(self.page(cast, board).text)
        need = assign_leads(plan_of(board)).feeds[0].need.mm or 0
        assert f"{need - 50} mm too short" in row

    def test_what_nobody_has_is_to_get(self, cast: Cast) -> None:
        board = waiting_board(cast.shop, 2, SupplyLead(60, awg=22, connector=BARREL))
        row = rows_of(self.page(cast, board).text)[0]
        need = assign_leads(plan_of(board)).feeds[0].need.mm
        assert f"at least {need} mm, AWG 28 or thicker, barrel 5.5/2.1 to barrel 5.5/2.1" in row
        assert "too short: 60 mm" in row

    def test_what_is_not_recorded_is_named_with_the_way_out(self, cast: Cast) -> None:
        unplaced = replace(supply_with(), place=None)
        board = waiting_board(cast.shop, 1, supplies=(unplaced,))
        text = self.page(cast, board).text
        assert "the place of S1 on the frame." in text
        assert f'<a href="/boards/{board.code}/layout">Place it.</a>' in text
        assert "unknown" in rows_of(text)[0]

    def test_leads_of_the_drawer_are_at_hand_on_every_board(self, cast: Cast) -> None:
        board = waiting_board(cast.shop, 1, supplies=(supply_with(),))
        make_drawer_item(cast.shop, kind="lead", length=700, awg=20, connector=BARREL)
        assert "fits, from the drawer" in rows_of(self.page(cast, board).text)[0]

    def test_the_list_counts_leads_adapters_and_spares(self, cast: Cast) -> None:
        feeds = (Feed(("S1.1",), ("P1.DC",), (None,), ("reverser",)), Feed(("S1.2",), ("P2.DC",), (None,)))
        board = waiting_board(cast.shop, 2, feeds=feeds)
        make_drawer_item(cast.shop, kind="reverser", count=3)
        found = self.page(cast, board).context["to_take"]
        assert [(line.count, line.origin) for line in found.lines] == [(2, "S1")]
        (adapter,) = found.adapters
        assert (adapter.kind, adapter.used, adapter.take, adapter.in_drawer) == ("reverser", 1, 2, 3)
        text = " ".join(self.page(cast, board).text.split())
        assert "two spare DC leads of each plug, and every adapter twice" in text
        assert "2 × barrel 5.5/2.1, 500 mm" in text

    def test_what_is_not_fed_is_named(self, cast: Cast) -> None:
        board = make_board(cast.shop, 2)
        assert "Not fed, so not counted here: P2.DC." in self.page(cast, board).text

    def test_only_findings_that_a_lead_causes_stand_here(self, cast: Cast) -> None:
        board = waiting_board(cast.shop, 1)
        assert set(pressing(cast.browser("editor"), self.url(board))) <= {"P04", "P14", "P29"}

    def test_lengths_are_in_the_shops_unit(self, cast: Cast, board: Board) -> None:
        cast.shop.length_unit = "in"
        cast.shop.save()
        text = self.page(cast, board).text
        assert "19.69 in" in text  # 500 mm
        assert " mm," not in text[text.index('id="feeds"') : text.index('id="findings"')]

    def test_a_viewer_sees_no_button(self, cast: Cast, board: Board) -> None:
        assert "Use this lead" in self.page(cast, board).text
        assert "Use this lead" not in self.page(cast, board, "viewer").text
