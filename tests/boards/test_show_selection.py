"""`show-selection`: what is chosen on the layout page and what can be done to it, alone and in the page."""

from dataclasses import replace
from typing import Any

import pytest
from django.http import HttpResponse
from django.urls import reverse

from boardshop.boards.models import Board
from boardshop.boards.pages.selection import next_turn, turn_in_place
from boardshop.boards.services.places import Spot
from tests.board_factories import make_board
from tests.boards.contract import HTMX, normal
from tests.core import builders as b
from tests.factories import Cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def board(cast: Cast) -> Board:
    """P1 may be turned once, P2 is pinned, P3 has no place."""
    pedals = [
        b.pedal("P1", at=(100, 20), turns=(0, 90), name="Low Ember"),
        b.pedal("P2", at=(300, 20), pinned=True),
        b.pedal("P3"),
    ]
    return make_board(cast.shop, pedals)


def look(cast: Cast, board: Board, opened: str, role: str = "editor", **options: Any) -> HttpResponse:
    return cast.browser(role).get(reverse("show-selection", args=[board.code]), {"open": opened}, **options)


def selection(cast: Cast, board: Board, opened: str) -> Any:
    return look(cast, board, opened, headers=HTMX).context["selection"]


def test_it_stands_in_the_page(cast: Cast, board: Board) -> None:
    part = look(cast, board, "P1", headers=HTMX).text
    page = cast.browser("editor").get(reverse("layout", args=[board.code]), {"open": "P1"}).text
    assert normal(part) in normal(page)


def test_without_htmx_it_leads_to_the_page(cast: Cast, board: Board) -> None:
    answer = look(cast, board, "P1 P2")
    assert (answer.status_code, answer.url) == (302, f"/boards/{board.code}/layout?open=P1+P2#selection")


def test_a_stranger_gets_404(cast: Cast, board: Board) -> None:
    assert look(cast, board, "P1", role="stranger", headers=HTMX).status_code == 404


def test_a_viewer_is_offered_no_edit(cast: Cast, board: Board) -> None:
    text = look(cast, board, "P1", role="viewer", headers=HTMX).text
    assert "x 100 mm, y 20 mm" in text
    assert "<form" not in text


def test_buttons_send_the_places_that_they_name(cast: Cast, board: Board) -> None:
    found = selection(cast, board, "P1")
    nudges = {step.words: step.places for step in found.nudges}
    assert nudges["1 mm right"] == "P1=101,20,0"
    assert nudges["10 mm to the rear"] == "P1=100,30,0"
    assert nudges["10 mm to the front"] == "P1=100,10,0"
    assert (found.turn.places, found.turn.words) == ("P1=71,48,90", "Turn to 90°")
    assert (found.off.places, found.pin.places) == ("P1=off", "P1=100,20,0+pinned")


def test_what_is_pinned_is_neither_nudged_nor_turned(cast: Cast, board: Board) -> None:
    found = selection(cast, board, "P2")
    assert (found.nudges, found.turn, found.pin.words) == ([], None, "Unpin")
    several = selection(cast, board, "P1 P2")
    assert several.nudges[0].places == "P1=100,30,0"
    assert several.off.places == "P1=off P2=off"


def test_what_has_no_place_can_only_be_given_one(cast: Cast, board: Board) -> None:
    found = selection(cast, board, "P3")
    assert (found.nudges, found.turn, found.off, found.pin) == ([], None, None, None)
    assert found.form is not None


@pytest.mark.parametrize("opened", ["", "P9", "G1", "../x", "<b>"])
def test_what_is_not_there_is_not_chosen(cast: Cast, board: Board, opened: str) -> None:
    answer = look(cast, board, opened, headers=HTMX)
    assert answer.status_code == 200
    assert "Nothing chosen" in answer.text


@pytest.mark.parametrize(
    ("spot", "turn", "turned"),
    [
        (Spot("P1", 100, 100, 0), 90, (71, 128)),
        (Spot("P1", 100, 100, 0), 180, (100, 100)),
        (Spot("P1", 71, 128, 90), 0, (99, 99)),
        (Spot("P1", 10, 10, 0), 90, (0, 38)),
    ],
)
def test_a_thing_turns_about_its_middle(spot: Spot, turn: Any, turned: tuple[int, int]) -> None:
    found = turn_in_place(spot, 73, 130, turn)
    assert (found.x, found.y, found.turn) == (*turned, turn)


@pytest.mark.parametrize(("turn", "after"), [(0, 90), (90, 270), (180, 270), (270, 0)])
def test_turns_follow_each_other_round(cast: Cast, board: Board, turn: Any, after: int) -> None:
    one = selection(cast, board, "P1").chosen[0]
    turned = replace(one, turns=(0, 90, 270), spot=Spot("P1", 0, 0, turn))
    assert next_turn(turned) == after
