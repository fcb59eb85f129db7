from boardshop.boards.models import Board
from boardshop.core.layout.heights import lid_spare
from boardshop.core.layout.standing import list_bodies
from tests.board_factories import make_board, plan_of
from tests.boards.page_contract import PageContract
from tests.core import builders as b
from tests.factories import Cast


class TestSideView(PageContract):
    name = "side-view"

    def test_it_says_from_where_one_looks(self, cast: Cast, board: Board) -> None:
        assert "SIDE VIEW from the player’s right" in cast.browser("viewer").get(self.url(board)).text

    def test_what_is_free_is_the_cores(self, cast: Cast) -> None:
        board = make_board(cast.shop, [b.pedal("P1", at=(20, 20), height=61)])
        plan = plan_of(board)
        spare = lid_spare(list_bodies(plan)[0], plan.frame)
        assert f"61 high, {spare} free" in cast.browser("viewer").get(self.url(board)).text

    def test_an_unknown_height_is_asked_for_and_in_the_findings(self, cast: Cast) -> None:
        board = make_board(cast.shop, [b.pedal("P1", at=(20, 20), height=None)])
        answer = cast.browser("viewer").get(self.url(board))
        assert "height ?" in answer.text
        assert "L26" in answer.text

    def test_it_has_no_measuring_in_plan(self, cast: Cast, board: Board) -> None:
        assert "data-measure" not in cast.browser("viewer").get(self.url(board)).text
