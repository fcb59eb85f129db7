from boardshop.boards.models import Board
from boardshop.core.cables import compute_cables
from tests.board_factories import make_board, plan_of
from tests.boards.page_contract import PageContract
from tests.core import builders as b
from tests.factories import Cast


class TestCables(PageContract):
    name = "cables"

    def test_cuts_and_total_are_the_cores(self, cast: Cast, board: Board) -> None:
        text, section = cast.browser("viewer").get(self.url(board)).text, compute_cables(plan_of(board))
        assert f"{section.cut_total_mm} mm" in text
        assert all(f"{run.cut_mm} mm" in text for run in section.runs if run.cut_mm)

    def test_a_given_lead_is_not_cut(self, cast: Cast, board: Board) -> None:
        board.items.get(ref="W1").link.__class__.objects.filter(ref="W1").update(length=6000)
        rows = cast.browser("viewer").get(self.url(board)).context["rows"]
        assert rows[0].run is None

    def test_parts_bear_their_name_and_then_their_code(self, cast: Cast) -> None:
        plugs = (b.plug_type("J1", name="Flat angle"), b.dc_plug_type("J9", name="Barrel"))
        board = make_board(cast.shop, plugs=plugs, cables=(b.cable_type("C1", name="Patch thin"),))
        names = [part.name for part in cast.browser("viewer").get(self.url(board)).context["parts"]]
        ref = next(plug.ref for plug in plan_of(board).plugs if plug.name == "Flat angle")
        assert names[:2] == ["Patch thin (C1)", f"Flat angle ({ref})"]

    def test_jacks_in_use_say_so(self, cast: Cast, board: Board) -> None:
        form = cast.browser("editor").get(self.url(board)).context["connect"]
        offered = dict(form.fields["target"].widget.choices)
        assert offered["P2.IN"].endswith(", in use")
        assert set(offered) == {"", "P1.IN", "P2.IN", "A1.IN"}
