from typing import ClassVar

import pytest
from django.test import Client as Browser

from boardshop.boards.models import Board
from boardshop.core import plan as core
from boardshop.core.plan import Rules, Venue
from tests.board_factories import plan_of
from tests.boards.form_contract import FormContract
from tests.factories import Cast, make_client


class TestChangeBoard(FormContract):
    name = "change-board"
    page = "board"
    typed: ClassVar = {"name": "Nightjar spare", "school": "common"}
    wrong: ClassVar = {"venue_mv": "much"}
    said = "much"

    def test_late_typing_is_found_again(self, browser: Browser, board: Board) -> None:
        Board.objects.update(edit_number=2, name="Theirs")
        answer = self.post(browser, board, {"edit": 1})
        assert "now: Theirs" in answer.text

    def test_a_late_edit_is_refused_with_what_was_typed(self, browser: Browser, board: Board) -> None:
        Board.objects.update(edit_number=5)
        answer = self.post(browser, board, {"edit": 4})
        assert answer.status_code == 409
        assert 'value="Nightjar spare"' in answer.text

    def test_name_client_note_and_venue(self, cast: Cast, browser: Browser, board: Board) -> None:
        artist = make_client(cast.shop)
        self.post(browser, board, {"client": artist.pk, "note": "left", "venue_mv": "230", "venue_hz": "50"})
        board.refresh_from_db()
        assert (board.name, board.client, board.note) == ("Nightjar spare", artist, "left")
        assert plan_of(board).venue == Venue(230_000, 50, None)

    def test_only_limits_that_differ_are_written_down(self, browser: Browser, board: Board) -> None:
        limits = {"school": "dynamics-first", "headroom_percent": "30", "drop_percent": "3", "gap_mm": "0"}
        self.post(browser, board, limits)
        board.refresh_from_db()
        assert board.rules == {"school": "dynamics-first", "headroom_percent": 30, "gap_mm": 0}
        assert plan_of(board).rules == Rules(school="dynamics-first", headroom_percent=30, gap_mm=0)

    def test_a_blank_limit_is_the_usual_one_again(self, browser: Browser, board: Board) -> None:
        self.post(browser, board, {"together_from": "80", "together_to": "120"})
        assert plan_of(board).rules.together_mm == (80, 120)
        self.post(browser, board)
        assert plan_of(board).rules == Rules()

    @pytest.mark.parametrize(
        "wrong",
        [{"gap_mm": "-1"}, {"together_from": "200"}, {"school": "mine"}, {"name": ""}, {"name": "a\0"}],
    )
    def test_limits_that_cannot_be(self, browser: Browser, board: Board, wrong: dict[str, str]) -> None:
        assert self.post(browser, board, {"together_to": "130", **wrong}).status_code == 422


class TestChangeFrame(FormContract):
    name = "change-frame"
    page = "board"
    has_page = False
    typed: ClassVar = {"width": "62 cm", "depth": "330", "surface": "slotted"}
    wrong: ClassVar = {"rails": "20 to 900"}
    said = "900"

    def test_the_frame_gets_other_sizes_and_the_pedals_stay(self, browser: Browser, board: Board) -> None:
        before = plan_of(board).pedals
        more = {"rails": "0 to 70; 100 to 170", "under_front": "18", "under_rear": "62.5", "lid": "90"}
        more["plate_thickness"] = "3"
        more["members"] = "620 x 20 at x 0 y 150: crossbar"
        self.post(browser, board, {**more, "keepouts": "100 x 50 at x 10 y 20: handle"})
        plan = plan_of(board)
        assert (plan.frame.width, plan.frame.depth, plan.frame.surface) == (620, 330, "slotted")
        assert (len(plan.frame.rails), plan.frame.under.rear, plan.frame.lid) == (2, 62.5, 90)
        assert (plan.frame.keepouts[0].why, plan.frame.plate_thickness) == ("handle", 3)
        assert plan.frame.members == (core.Member(0, 150, 620, 20, "crossbar"),)
        assert plan.pedals == before

    def test_half_a_pair_is_refused(self, browser: Browser, board: Board) -> None:
        answer = self.post(browser, board, {"under_front": "18"})
        assert answer.status_code == 422
        assert "Give both of the pair" in answer.text

    def test_it_stands_beside_the_boards_own_form(self, browser: Browser, board: Board) -> None:
        answer = self.post(browser, board, self.wrong)
        assert answer.context["board_form"].is_bound is False
        assert f'value="{board.name}"' in answer.text
