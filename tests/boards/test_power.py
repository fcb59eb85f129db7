from boardshop.boards.models import Board
from boardshop.core.power import compute_power
from tests.board_factories import plan_of
from tests.boards.page_contract import PageContract
from tests.factories import Cast


class TestPower(PageContract):
    name = "power"

    def test_loads_are_the_cores(self, cast: Cast, board: Board) -> None:
        section = compute_power(plan_of(board))
        lines = cast.browser("viewer").get(self.url(board)).context["blocks"][0].outlets
        assert [(line.ref, line.load_ma, line.percent) for line in lines] == [
            (row.ref, row.load_ma, row.load_percent) for row in section.outlets
        ]

    def test_the_first_jack_without_a_feed_stands_open(self, cast: Cast, board: Board) -> None:
        assert cast.browser("editor").get(self.url(board)).context["opened"].ref == "P2.DC"

    def test_another_jack_can_be_opened(self, cast: Cast, board: Board) -> None:
        page = cast.browser("editor").get(self.url(board), {"open": "p1.dc"})
        assert page.context["opened"].ref == "P1.DC"
        assert '<input type="radio" name="outlet" value="S1.1@9000" checked>' in page.text

    def test_an_unknown_jack_opens_nothing_else(self, cast: Cast, board: Board) -> None:
        page = cast.browser("editor").get(self.url(board), {"open": "P9.DC<script>"})
        assert page.status_code == 200
        assert "P9.DC<script>" not in page.text

    def test_what_fits_is_never_called_safe(self, cast: Cast, board: Board) -> None:
        text = cast.browser("editor").get(self.url(board)).text
        assert "matches" in text
        assert ">safe" not in text.lower()
        assert "Read both labels and measure the plug" in text
