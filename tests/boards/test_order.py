import pytest

from boardshop.boards.models import Board
from tests.board_factories import make_board
from tests.boards.page_contract import PageContract
from tests.core import builders as b
from tests.factories import Cast


class TestOrder(PageContract):
    name = "order"

    def test_the_rows_stand_in_the_order_of_the_signal(self, cast: Cast, board: Board) -> None:
        board.items.filter(link__isnull=False).delete()
        url = f"/boards/{board.code}/lines/wire"
        cast.browser("editor").post(url, {"edit": 0, "line": "0", "refs": "P2 P1"})
        rows = cast.browser("viewer").get(self.url(board)).context["rows"]
        assert [(row.pedal.ref, row.number) for row in rows] == [("P2", 1), ("P1", 2)]

    def test_what_would_move_is_marked_and_can_be_wired_as_suggested(self, cast: Cast) -> None:
        delay, drive = b.pedal("P1", "delay", name="Far Shed"), b.pedal("P2", "overdrive", name="Low Ember")
        board = make_board(cast.shop, [delay, drive])
        text = cast.browser("editor").get(self.url(board)).text
        assert "would move" in text
        assert 'name="refs" value="P2 P1"' in text

    @pytest.mark.parametrize("role", ["editor", "viewer"])
    def test_each_pedal_that_would_move_leads_to_why(self, cast: Cast, role: str) -> None:
        """A tuner behind a compressor: no rule speaks of it, only the usual order."""
        board = make_board(cast.shop, [b.pedal("P1", "compressor"), b.pedal("P2", "tuner")])
        answer = cast.browser(role).get(self.url(board))
        (why,) = answer.context["wires"][0].reasons
        assert [row.why for row in answer.context["rows"]] == ["", why.id]
        assert f'href="#{why.id}"' in answer.text
        assert f'id="{why.id}"' in answer.text
        assert "tuner in front of compressor, since a tuner reads" in answer.text

    def test_a_line_as_its_school_has_it_gives_no_reasons(self, cast: Cast, board: Board) -> None:
        answer = cast.browser("editor").get(self.url(board))
        assert answer.context["wires"][0].reasons == ()
        assert 'id="moves"' not in answer.text

    def test_the_first_has_no_earlier_place_and_the_last_no_later(self, cast: Cast, board: Board) -> None:
        rows = cast.browser("editor").get(self.url(board)).context["rows"]
        assert [(row.earlier, row.later) for row in rows] == [(None, 2), (1, None)]

    def test_a_loose_pedal_can_be_wired_in(self, cast: Cast, board: Board) -> None:
        board.items.filter(link__isnull=False).delete()
        text = cast.browser("editor").get(self.url(board)).text
        assert text.count("Wire in last") == 2
