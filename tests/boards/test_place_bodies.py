"""`place-bodies`: pedals and supplies put down, moved, turned, pinned, taken off, in one step of undo."""

from typing import Any, ClassVar

import pytest
from django.test import Client as Browser
from django.urls import reverse

from boardshop.boards.forms.places import read_spots, write_spot
from boardshop.boards.models import Board
from boardshop.boards.services.places import Spot
from tests.board_factories import make_board, plan_of
from tests.boards.contract import HTMX, RefusesWrongInput
from tests.factories import Cast


def place_of(board: Board, ref: str) -> tuple[int, int, int] | None:
    plan = plan_of(board)
    (place,) = [one.place for one in (*plan.pedals, *plan.supplies) if one.ref == ref]
    return place and (place.x, place.y, place.turn)


class TestPlaceBodies(RefusesWrongInput):
    name = "place-bodies"
    page = "layout"
    typed: ClassVar = {"place": ["P1=300,25,90"], "open": "P1"}
    wrong: ClassVar = {"place": ["P1=here"]}
    said = "This is no place on the frame"

    def typed_texts(self) -> list[str]:
        return ["P1=300,25,90"]

    def typed_for(self, board: Board, pedals: int) -> dict[str, Any]:
        places = [f"P{n}={20 + 40 * n},{150 + n},0" for n in range(1, pedals + 1)]
        return {"place": [*places, "S1=300,200,0+under"]}

    def test_a_pedal_lies_where_it_was_put(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        assert place_of(board, "P1") == (300, 25, 90)

    def test_several_are_moved_in_one_edit_and_one_undo(self, browser: Browser, board: Board) -> None:
        before = plan_of(board)
        self.post(browser, board, {"place": ["P1=300,25,0", "P2=400,25,180", "S1=10,250,0+under"]})
        assert [place_of(board, ref) for ref in ("P1", "P2", "S1")] == [
            (300, 25, 0),
            (400, 25, 180),
            (10, 250, 0),
        ]
        assert Board.objects.get(pk=board.pk).edit_number == 1
        browser.post(reverse("undo-change", args=[board.code]), {"edit": 1, "page": "layout"})
        assert plan_of(board) == before

    def test_one_button_may_send_several(self, browser: Browser, board: Board) -> None:
        self.post(browser, board, {"place": "P1=300,25,0 P2=400,25,0"})
        assert (place_of(board, "P1"), place_of(board, "P2")) == ((300, 25, 0), (400, 25, 0))

    def test_off_takes_it_off_the_frame(self, browser: Browser, board: Board) -> None:
        self.post(browser, board, {"place": ["P1=off"]})
        assert place_of(board, "P1") is None

    def test_what_is_not_said_stays(self, browser: Browser, board: Board) -> None:
        """A pinned pedal stays pinned and a supply under the frame stays there."""
        self.post(browser, board, {"place": ["P1=300,25,0+pinned", "S1=10,20,0+under"]})
        self.post(browser, board, {"place": ["P1=310,25,0", "S1=20,20,0"]})
        plan = plan_of(board)
        assert (plan.pedals[0].pinned, plan.supplies[0].place.under) == (True, True)
        self.post(browser, board, {"place": ["P1=310,25,0-pinned", "S1=20,20,0-under"]})
        plan = plan_of(board)
        assert (plan.pedals[0].pinned, plan.supplies[0].place.under) == (False, False)

    def test_a_ref_is_found_whatever_its_capitals(self, browser: Browser, board: Board) -> None:
        self.post(browser, board, {"place": ["p1=300,25,0"]})
        assert place_of(board, "P1") == (300, 25, 0)

    def test_the_same_places_sent_again_are_no_edit(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        answer = self.post(browser, board, headers=HTMX)
        assert (answer.status_code, Board.objects.get(pk=board.pk).edit_number) == (200, 1)

    def test_what_was_chosen_stays_chosen(self, browser: Browser, board: Board) -> None:
        typed = {"place": ["P1=300,25,0", "P2=400,25,0"], "open": "P1 P2"}
        answer = self.post(browser, board, typed, headers=HTMX)
        assert "2 things chosen" in answer.text
        assert answer.context["selection"].refs == "P1 P2"

    def test_after_a_conflict_it_can_be_made_again(self, browser: Browser, board: Board) -> None:
        self.post(browser, board, {"place": ["P2=500,25,0"]})
        answer = self.post(browser, board, {"edit": 0}, headers=HTMX)
        assert answer.status_code == 409
        assert "Pedal 2 (P2) moved" in answer.text
        again = answer.context["state"].again
        browser.post(again.address, {"edit": 1, **dict(again.fields)})
        assert place_of(board, "P1") == (300, 25, 90)

    @pytest.mark.parametrize(
        ("places", "said"),
        [
            ([], "This names nothing to move"),
            (["P9=1,1,0"], "P9 is not on Nightjar main"),
            (["G1=1,1,0"], "G1 is not on Nightjar main"),
            (["P1=1,1,45"], "This is no place on the frame"),
            (["P1=1.5,1,0"], "This is no place on the frame"),
            (["P1=1,1"], "This is no place on the frame"),
            (["P1=1000001,1,0"], "over a kilometre from the frame"),
            (["P1=99999999999,1,0"], "This is no place on the frame"),
            (["P1=1,1,0", "p1=2,2,0"], "A thing is named twice"),
            (["P1=1,1,0\0"], "This is no place on the frame"),
        ],
    )
    def test_what_cannot_be_is_refused(
        self, browser: Browser, board: Board, places: list[str], said: str
    ) -> None:
        before = plan_of(board)
        answer = self.post(browser, board, {"place": places})
        assert answer.status_code == 422
        assert said in answer.text
        assert plan_of(board) == before

    def test_nothing_is_done_where_one_of_several_is_not_there(self, browser: Browser, board: Board) -> None:
        before = plan_of(board)
        assert self.post(browser, board, {"place": ["P1=1,1,0", "P9=2,2,0"]}).status_code == 422
        assert plan_of(board) == before

    def test_a_thing_of_another_board_is_left_alone(self, cast: Cast, browser: Browser, board: Board) -> None:
        other = make_board(cast.shop, 3, name="Other")
        before = plan_of(other)
        assert self.post(browser, board, {"place": ["P3=1,1,0"]}).status_code == 422
        assert plan_of(other) == before


@pytest.mark.parametrize(
    "spot",
    [
        Spot("P3", 120, 40, 90),
        Spot("P3", -5, 0, 0, pinned=True),
        Spot("S1", 0, 0, 180, under=False),
        Spot("S1", 1, 2, 270, pinned=False, under=True),
        Spot("P3"),
    ],
)
def test_a_spot_is_read_as_it_was_written(spot: Spot) -> None:
    assert read_spots([write_spot(spot)]) == [spot]
