from boardshop.boards.models import Board
from tests.board_factories import make_board
from tests.boards.page_contract import PageContract
from tests.boards.searches import PLACING, answered, ask
from tests.factories import Cast, make_frame_model


class TestWhichFrame(PageContract):
    name = "which-frame"

    def test_the_catalogue_stands_smallest_first(self, cast: Cast, board: Board) -> None:
        for name, width, depth in (("Wide", 800, 200), ("Small", 400, 300), ("Deep", 400, 500)):
            make_frame_model(cast.shop, name=name, width=width, depth=depth)
        page = cast.browser("viewer").get(self.url(board))
        assert [frame.name for frame in page.context["frames"]] == ["Small", "Wide", "Deep"]

    def test_an_empty_catalogue_leads_on(self, cast: Cast, board: Board) -> None:
        text = cast.browser("editor").get(self.url(board)).text
        assert "No frame in the catalogue yet" in text
        assert "Start the search" not in text

    def test_frames_of_other_shops_are_not_shown(self, cast: Cast, board: Board) -> None:
        make_frame_model(cast.stranger.memberships.get().shop, name="Not ours")
        assert "Not ours" not in cast.browser("viewer").get(self.url(board)).text

    def test_a_board_without_pedals_needs_no_frame(self, cast: Cast) -> None:
        make_frame_model(cast.shop)
        board = make_board(cast.shop, 0, supplies=(), sources=(), amps=(), links=())
        assert "No pedal on this board yet" in cast.browser("editor").get(self.url(board)).text

    def test_only_searches_for_frames_are_listed(self, cast: Cast, board: Board) -> None:
        make_frame_model(cast.shop)
        answered(board, PLACING)
        of_frames = ask(board, "frames")
        page = cast.browser("viewer").get(self.url(board))
        assert [one.pk for one in page.context["searches"]] == [of_frames.pk]
