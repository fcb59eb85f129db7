import re

import pytest

from boardshop.boards.models import Board
from boardshop.core.power import compute_power
from tests.board_factories import make_board, plan_of
from tests.boards.page_contract import PageContract
from tests.core import builders as b
from tests.core.feeding_cases import drawing, selectable
from tests.factories import Cast


class TestPower(PageContract):
    name = "power"

    def test_loads_are_the_cores(self, cast: Cast, board: Board) -> None:
        section = compute_power(plan_of(board))
        face = cast.browser("viewer").get(self.url(board)).context["faces"][0]
        assert [card.row for bay in face.bays for card in bay.cards] == list(section.outlets)
        assert face.total == section.supplies[0]

    def test_the_first_jack_without_a_feed_stands_open(self, cast: Cast, board: Board) -> None:
        assert cast.browser("editor").get(self.url(board)).context["opened"].ref == "P2.DC"

    def test_another_jack_can_be_opened(self, cast: Cast, board: Board) -> None:
        page = cast.browser("editor").get(self.url(board), {"open": "p1.dc"})
        assert page.context["opened"].ref == "P1.DC"
        assert '<input type="radio" name="outlet" value="S1.1@9000" checked>' in page.text

    @pytest.mark.parametrize(("adapter", "said"), [("series", True), ("parallel", False)])
    def test_outlets_in_series_tell_their_sum(self, cast: Cast, adapter: str, said: bool) -> None:
        board = make_board(cast.shop, 1, feeds=(b.feed(["S1.1", "S1.2"], "P1.DC", adapters=(adapter,)),))
        text = cast.browser("viewer").get(self.url(board)).text
        assert ('<span class="figures">18 V</span> together' in text) == said

    def test_an_unknown_jack_opens_nothing_else(self, cast: Cast, board: Board) -> None:
        page = cast.browser("editor").get(self.url(board), {"open": "P9.DC<script>"})
        assert page.status_code == 200
        assert "P9.DC<script>" not in page.text

    def test_what_fits_is_never_called_safe(self, cast: Cast, board: Board) -> None:
        text = cast.browser("editor").get(self.url(board)).text
        assert "matches" in text
        assert ">safe" not in text.lower()
        assert "Read both labels and measure the plug" in text

    def sums(self, cast: Cast, board: Board, page: str = "power") -> str:
        """What stands beside the supply's name."""
        text = cast.browser("viewer").get(f"/boards/{board.code}/{page}".removesuffix("/board")).text
        found = re.search(r'id="supply-S1">.*?<p class="figures">(.*?)</p>', text, re.DOTALL)
        assert found
        return found[1]

    @pytest.mark.parametrize("page", ["power", "board"])
    def test_a_sum_that_leaves_out_a_draw_is_called_the_least(self, cast: Cast, page: str) -> None:
        pedals = [drawing(50, "P1"), drawing(None, "P2")]
        feeds = [b.feed("S1.1", "P1.DC"), b.feed("S1.2", "P2.DC")]
        supply = b.supply("S1", b.outlet("1"), b.outlet("2"), limit_mw=1000)
        board = make_board(cast.shop, pedals, supplies=(supply,), feeds=feeds)
        assert self.sums(cast, board, page) == "at least 50 mA, at least 450 of 1000 mW, at least 45.0 %"
        text = cast.browser("viewer").get(self.url(board)).text
        assert "at least 0 of 100 mA" in text
        assert "at least 0.0 %" in text

    @pytest.mark.parametrize("page", ["power", "board"])
    def test_a_sum_that_leaves_out_a_voltage_is_called_the_least(self, cast: Cast, page: str) -> None:
        feeds = [b.feed("S1.1", "P1.DC")]
        supplies = (b.supply("S1", selectable("1")),)
        board = make_board(cast.shop, [drawing(50, "P1")], supplies=supplies, feeds=feeds)
        assert self.sums(cast, board, page) == "50 mA, at least 0 mW"

    def test_a_sum_that_counts_everything_is_not(self, cast: Cast, board: Board) -> None:
        assert "at least" not in self.sums(cast, board)
