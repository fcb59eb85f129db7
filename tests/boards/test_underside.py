from boardshop.boards.models import Board
from tests.board_factories import make_board
from tests.boards.page_contract import PageContract
from tests.core import builders as b
from tests.factories import Cast


class TestUnderside(PageContract):
    name = "underside"

    def test_it_says_that_it_is_mirrored(self, cast: Cast, board: Board) -> None:
        text = cast.browser("viewer").get(self.url(board)).text
        assert "UNDERSIDE – mirrored" in text
        assert "Underside, mirrored" in text

    def test_the_supply_leads_to_where_it_is_placed(self, cast: Cast) -> None:
        board = make_board(cast.shop, 1, supplies=(b.under_frame(b.supply("S1"), 100, 60),), feeds=())
        text = cast.browser("viewer").get(self.url(board)).text
        assert f'href="/boards/{board.code}/layout?open=S1#selection"' in text

    def test_the_views_lead_to_one_another(self, cast: Cast, board: Board) -> None:
        text = cast.browser("viewer").get(self.url(board)).text
        assert f'<a href="/boards/{board.code}/layout/side">' in text
        assert f'<a href="/boards/{board.code}/layout/underside" aria-current="true">' in text
