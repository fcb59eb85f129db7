"""`try-places`: what if things lay there, on a page and as a fragment; looking changes nothing."""

import re
from typing import Any

import pytest
from django.http import HttpResponse
from django.urls import reverse

from boardshop.boards.models import Board
from boardshop.core.boardfile import dump_plan
from tests.board_factories import make_board, plan_of
from tests.boards.contract import HTMX, normal
from tests.core import builders as b
from tests.core.layout_boards import PLAIN
from tests.factories import Cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def board(cast: Cast) -> Board:
    """P1 at the left, P2 and P3 overlapping by 23 mm further right."""
    pedals = [
        b.pedal(f"P{n}", at=(x, 20), name=f"Pedal {n}", **PLAIN) for n, x in ((1, 20), (2, 300), (3, 350))
    ]
    return make_board(cast.shop, pedals, links=(), feeds=(), supplies=())


def look(cast: Cast, board: Board, *places: str, **options: Any) -> HttpResponse:
    role = options.pop("role", "viewer")
    return cast.browser(role).get(reverse("try-places", args=[board.code]), {"place": places}, **options)


def words(answer: HttpResponse) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", answer.text).split())


def test_an_overlap_is_told_with_its_mm(cast: Cast, board: Board) -> None:
    said = words(look(cast, board, "P1=270,20,0", headers=HTMX))
    assert "1 finding about it. It brings L03 (fault)" in said
    assert "Pedal 1 (P1) and Pedal 2 (P2) overlap by 43 mm" in said


def test_a_cure_is_told(cast: Cast, board: Board) -> None:
    said = words(look(cast, board, "P3=400,20,0", headers=HTMX))
    assert "nothing is found there by the checks that could be made. It settles L03 (fault)" in said


def test_the_marks_stand_where_the_things_would(cast: Cast, board: Board) -> None:
    """In a frame of the drawing whose origin is the frame's corner and whose y goes down."""
    text = look(cast, board, "P1=270,20,0", headers=HTMX).text
    assert re.findall(r'data-found="(P\d)"', text) == ["P1", "P2", "P3"]
    assert "L03" in text


def test_several_are_tried_together(cast: Cast, board: Board) -> None:
    said = words(look(cast, board, "P2=500,20,0 P3=550,20,0", headers=HTMX))
    assert "2 things moved: 1 finding about it." in said


def test_off_the_frame_can_be_tried(cast: Cast, board: Board) -> None:
    answer = look(cast, board, "P3=off", headers=HTMX)
    assert "off the frame" in words(answer)
    assert [one.rule for one in answer.context["tried"].settles] == ["L03"]


def test_nothing_is_changed_by_looking(cast: Cast, board: Board) -> None:
    before = dump_plan(plan_of(board))
    look(cast, board, "P1=270,20,0", role="editor")
    assert dump_plan(plan_of(board)) == before


def test_the_fragment_stands_in_the_page(cast: Cast, board: Board) -> None:
    fragment = look(cast, board, "P1=270,20,0", headers=HTMX)
    assert "<html" not in fragment.text
    assert normal(fragment.text) in normal(look(cast, board, "P1=270,20,0").text)


def test_an_editor_may_do_it_from_there_and_a_viewer_not(cast: Cast, board: Board) -> None:
    place = reverse("place-bodies", args=[board.code])
    assert f'action="{place}"' in look(cast, board, "P1=270,20,0", role="editor").text
    assert f'action="{place}"' not in look(cast, board, "P1=270,20,0").text


@pytest.mark.parametrize(
    ("place", "said"),
    [
        ("", "This names nothing to move"),
        ("P9=1,1,0", "P9 is not on Nightjar main"),
        ("P1=nowhere", "This is no place on the frame"),
        ("P1=5000000,0,0", "over a kilometre from the frame"),
        ("P1=1,1,0 P1=2,2,0", "A thing is named twice"),
        ("<script>=1,1,0", "This is no place on the frame"),
    ],
)
def test_what_cannot_be_is_refused(cast: Cast, board: Board, place: str, said: str) -> None:
    answer = look(cast, board, place)
    assert answer.status_code == 422
    assert said in answer.text
    assert "<script>=" not in answer.text


def test_a_stranger_gets_404(cast: Cast, board: Board) -> None:
    assert look(cast, board, "P1=270,20,0", role="stranger").status_code == 404


def test_an_inch_shop_reads_inches(cast: Cast, board: Board) -> None:
    cast.shop.length_unit = "in"
    cast.shop.save()
    assert "overlap by 1.69 in" in words(look(cast, board, "P1=270,20,0", headers=HTMX))


@pytest.mark.parametrize("pedals", [1, 18])
def test_its_queries_do_not_grow_with_the_board(
    cast: Cast, pedals: int, django_assert_max_num_queries: Any
) -> None:
    board, browser = make_board(cast.shop, pedals), cast.browser("editor")
    with django_assert_max_num_queries(7):
        browser.get(reverse("try-places", args=[board.code]), {"place": "P1=100,20,0"}, headers=HTMX)
