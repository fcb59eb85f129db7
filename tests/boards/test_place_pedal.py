import re
from typing import ClassVar

import pytest
from django.test import Client as Browser

from boardshop.boards.models import Board
from tests.board_factories import plan_of
from tests.boards.contract import HTMX, NamesAThing, RefusesWrongInput
from tests.factories import Cast


class TestPlacePedal(RefusesWrongInput, NamesAThing):
    name = "place-pedal"
    args = ("P1",)
    page = "layout"
    typed: ClassVar = {"x": "31", "y": "12.5 cm", "turn": "90", "pinned": "on"}
    wrong: ClassVar = {"x": "wide"}
    said = "“wide” is no length"
    unknown = ("P9",)

    def typed_texts(self) -> list[str]:
        return ["31", "12.5 cm"]

    def test_the_pedal_lies_where_it_was_put(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        place, pinned = plan_of(board).pedals[0].place, plan_of(board).pedals[0].pinned
        assert (place.x, place.y, place.turn, pinned) == (31, 125, 90, True)

    def test_the_same_place_sent_again_is_no_edit(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        before = Board.objects.get(pk=board.pk)
        answer = self.post(browser, board, headers=HTMX)
        after = Board.objects.get(pk=board.pk)
        assert (answer.status_code, 'id="edit-number" value="1"' in answer.text) == (200, True)
        assert (after.edit_number, after.changed_at) == (1, before.changed_at)

    def test_the_same_place_on_a_late_page_is_still_late(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        self.post(browser, board, {"x": 333})
        self.post(browser, board)
        assert self.post(browser, board, {"edit": 1}).status_code == 409

    def test_blank_x_and_y_take_it_off_the_frame(self, browser: Browser, board: Board) -> None:
        self.post(browser, board, {"x": "", "y": ""})
        assert plan_of(board).pedals[0].place is None

    def test_half_a_place_is_refused(self, browser: Browser, board: Board) -> None:
        answer = self.post(browser, board, {"y": ""})
        assert answer.status_code == 422
        assert "A place needs both x and y" in answer.text

    def test_an_unknown_turn_is_refused(self, browser: Browser, board: Board) -> None:
        assert self.post(browser, board, {"turn": "45"}).status_code == 422

    def test_a_bare_number_counts_in_the_shops_unit(self, cast: Cast, browser: Browser, board: Board) -> None:
        cast.shop.length_unit = "in"
        cast.shop.save()
        self.post(browser, board, {"x": "2", "y": "1"})
        assert (plan_of(board).pedals[0].place.x, plan_of(board).pedals[0].place.y) == (51, 25)

    def test_two_bodies_on_one_place_are_found_at_once(self, browser: Browser, board: Board) -> None:
        other = plan_of(board).pedals[1].place
        answer = self.post(browser, board, {"x": other.x, "y": other.y, "turn": "0"}, headers=HTMX)
        found = answer.context["findings"].pressing
        assert any(set(row.subjects) == {"P1", "P2"} and row.severity == "fault" for row in found)

    def test_after_a_conflict_the_field_says_what_stands_there(self, browser: Browser, board: Board) -> None:
        self.post(browser, board, {"x": "200"})
        answer = self.post(browser, board, {"edit": 0, "x": "300"}, headers=HTMX)
        assert answer.status_code == 409
        assert 'value="300"' in answer.text
        assert "now: 200" in answer.text

    @pytest.mark.parametrize("nul", ["1\0", "\0"])
    def test_a_nul_is_refused_not_a_crash(self, browser: Browser, board: Board, nul: str) -> None:
        assert self.post(browser, board, {"x": nul}).status_code == 422

    def test_what_is_chosen_keeps_what_was_typed_in_its_own_form(
        self, browser: Browser, board: Board
    ) -> None:
        typed = {"x": "wide", "by": "selected", "open": "P1"}
        answer = self.post(browser, board, typed, headers=HTMX)
        assert answer.status_code == 422
        (field,) = re.findall(r'<input[^>]* id="selected-x"[^>]*>', answer.text)
        assert 'aria-invalid="true"' in field
        assert 'value="wide"' in field
        assert answer.text.count('value="wide"') == 1

    def test_what_is_chosen_is_told_what_stands_there_after_a_conflict(
        self, browser: Browser, board: Board
    ) -> None:
        self.post(browser, board, {"x": "200"})
        typed = {"edit": 0, "x": "300", "by": "selected", "open": "P1"}
        answer = self.post(browser, board, typed, headers=HTMX)
        assert answer.status_code == 409
        assert 'id="selected-x-now">now: 200' in answer.text

    def test_a_place_a_kilometre_away_is_refused(self, browser: Browser, board: Board) -> None:
        assert self.post(browser, board, {"x": "1000000"}).status_code == 303
        answer = self.post(browser, board, {"x": "1000001"})
        assert answer.status_code == 422
        assert "over a kilometre from the frame" in answer.text
