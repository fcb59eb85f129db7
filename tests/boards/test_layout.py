import pytest

from boardshop.boards.models import Board, Link
from boardshop.core.cables import compute_cables
from boardshop.core.layout import compute_layout
from tests.board_factories import make_board, plan_of
from tests.boards.page_contract import PageContract
from tests.core import builders as b
from tests.factories import Cast


class TestLayout(PageContract):
    name = "layout"

    def test_every_place_is_in_figures(self, cast: Cast, board: Board) -> None:
        text = cast.browser("editor").get(self.url(board)).text
        place = plan_of(board).pedals[1].place
        assert f'id="place-P2-x" autocomplete="off" inputmode="decimal" value="{place.x}"' in text or (
            f'value="{place.x}"' in text
        )

    def test_the_room_is_the_cores(self, cast: Cast, board: Board) -> None:
        text = cast.browser("viewer").get(self.url(board)).text
        assert f"{compute_layout(plan_of(board)).free_percent} %" in text

    def test_each_cut_is_the_cores_as_it_lies(self, cast: Cast, board: Board) -> None:
        text = " ".join(cast.browser("viewer").get(self.url(board)).text.split())
        cables = compute_cables(plan_of(board), 0)
        listed = text[text.index('id="cuts-head"') :].partition("</section>")[0]
        assert f"{cables.cut_total_mm} mm" in listed
        known = [run for run in cables.runs if run.cut_mm is not None]
        assert [f"{run.ref}</a> {run.cut_mm} mm" in listed for run in known] == [True] * len(known)
        assert listed.count("blocked") == len(cables.runs) - len(known) > 0

    def test_what_a_place_does_to_a_cable_is_found_here_too(self, cast: Cast, board: Board) -> None:
        Link.objects.filter(board=board, ref="W2").update(made=20)
        found = cast.browser("viewer").get(self.url(board)).context["findings"]
        assert "C03" in {row.rule for row in found.pressing}
        assert "C11" not in {row.rule for row in found.pressing}

    def test_a_thing_on_the_drawing_is_a_link_that_chooses_it(self, cast: Cast, board: Board) -> None:
        text = cast.browser("viewer").get(self.url(board)).text
        assert 'href="?open=P1#selection"' in text
        assert 'id="selection"' in text

    @pytest.mark.parametrize(
        ("unknown", "said"), [(0, "3700 g"), (1, "1 part not weighed"), (2, "2 parts not weighed")]
    )
    def test_what_is_not_weighed_is_counted(self, cast: Cast, unknown: int, said: str) -> None:
        pedals = [b.pedal(f"P{n}", weight=None) for n in range(unknown)]
        text = cast.browser("viewer").get(self.url(make_board(cast.shop, pedals))).text
        assert f" {said}</dd>" in text or f">{said}</dd>" in text

    def test_the_opened_row_is_brought_out(self, cast: Cast, board: Board) -> None:
        text = cast.browser("viewer").get(self.url(board), {"open": "P2"}).text
        assert '<div class="row is-selected" id="place-P2">' in text
