from typing import Any, ClassVar

import pytest
from django.test import Client as Browser

from boardshop.boards.models import Board, Link
from tests.board_factories import links_of, make_board
from tests.boards.contract import HTMX, RefusesWrongInput
from tests.factories import Cast


class TestWireLine(RefusesWrongInput):
    name = "wire-line"
    page = "order"
    typed: ClassVar = {"line": "0", "refs": "P2 P1"}
    wrong: ClassVar = {"refs": "P2 P9"}
    said = "P9 is not on Nightjar main"

    def typed_texts(self) -> list[str]:
        return ["P2 P1"]

    def typed_for(self, board: Board, pedals: int) -> dict[str, Any]:
        return {"refs": " ".join(f"P{n}" for n in range(pedals, 0, -1))}

    def test_the_pedals_stand_in_that_sequence(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        assert sorted(links_of(board).values()) == ["G1.OUT P2.IN", "P1.OUT A1.IN", "P2.OUT P1.IN"]

    @pytest.mark.parametrize("refs", ["p2,p1", " P2 ,  P1 ", "P2\tP1"])
    def test_commas_and_small_letters_do_as_well(self, browser: Browser, board: Board, refs: str) -> None:
        self.post(browser, board, {"refs": refs})
        assert "P2.OUT P1.IN" in links_of(board).values()

    @pytest.mark.parametrize("line", ["9" * 5000, "²", "-1", ""])
    def test_a_line_that_is_no_number_is_refused(self, browser: Browser, board: Board, line: str) -> None:
        assert self.post(browser, board, {"line": line}).status_code == 422

    def test_one_pedal_twice_is_refused(self, browser: Browser, board: Board) -> None:
        answer = self.post(browser, board, {"refs": "P1 P2 P1"})
        assert answer.status_code == 422
        assert 'value="P1 P2 P1"' in answer.text

    @pytest.mark.parametrize("refs", ["", "  ", " , "])
    def test_an_empty_sequence_changes_nothing(self, browser: Browser, board: Board, refs: str) -> None:
        before = links_of(board)
        answer = self.post(browser, board, {"refs": refs}, headers=HTMX)
        assert (answer.status_code, links_of(board)) == (422, before)
        (said,) = answer.context["wires"][0].form.errors["refs"]
        assert "names no pedal" in said
        assert "cables page" in said

    def test_what_another_way_would_lose_is_said_beside_the_sequence(
        self, cast: Cast, browser: Browser
    ) -> None:
        board = make_board(cast.shop, 4)
        Link.objects.get(board=board, ref="W3").delete()
        answer = self.post(browser, board, {"refs": "P1 P3 P2"}, headers=HTMX)
        assert answer.status_code == 422
        assert 'value="P1 P3 P2"' in answer.text
        assert "P3 stands on way 2" in answer.context["wires"][0].form.errors["refs"][0]

    def test_what_is_left_out_is_left_unwired(self, browser: Browser, board: Board) -> None:
        self.post(browser, board, {"refs": "P2"})
        assert sorted(links_of(board).values()) == ["G1.OUT P2.IN", "P2.OUT A1.IN"]

    def test_a_link_between_pedals_that_stay_neighbours_is_kept(self, cast: Cast, browser: Browser) -> None:
        board = make_board(cast.shop, 4)
        kept = Link.objects.get(board=board, ref="W2").pk
        Link.objects.filter(pk=kept).update(made=165)
        self.post(browser, board, {"refs": "P4 P3 P1 P2"})
        assert (Link.objects.get(board=board, ref="W2").pk, Link.objects.get(ref="W2").made) == (kept, 165)

    @pytest.mark.parametrize("refs", ["P1", "P4 P3 P2 P1", "P2 P1 P4 P3", "P4 P1"])
    def test_every_rewiring_costs_the_same_few_queries(
        self, cast: Cast, refs: str, django_assert_max_num_queries: Any
    ) -> None:
        board, browser = make_board(cast.shop, 4), cast.browser("editor")
        for number, sequence in enumerate((refs, "P1 P2 P3 P4")):
            with django_assert_max_num_queries(self.most_queries):
                self.post(browser, board, {"edit": number, "refs": sequence}, headers=HTMX)
            assert len(links_of(board)) == len(sequence.split()) + 1
