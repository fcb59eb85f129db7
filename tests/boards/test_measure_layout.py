"""`measure-layout`: how far two things are apart, as a page and as a fragment; looking changes nothing."""

from typing import Any

import pytest
from django.http import HttpResponse
from django.urls import reverse

from boardshop.boards.models import Board
from boardshop.crew.models import Shop
from tests.board_factories import make_board
from tests.boards.contract import HTMX, normal
from tests.core import builders as b
from tests.factories import Cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def board(cast: Cast) -> Board:
    """P1 from 30 to 103 in x and P2 from 143, both from 20 to 150 in y; P3 from 110 in x and 190 in y."""
    places = {"P1": (30, 20), "P2": (143, 20), "P3": (110, 190)}
    return make_board(cast.shop, [b.pedal(ref, at=at, name=f"Name {ref}") for ref, at in places.items()])


def look(cast: Cast, board: Board, role: str = "viewer", **query: str) -> HttpResponse:
    options: dict[str, Any] = {"headers": HTMX} if query.pop("part", "") else {}
    asked = {key.removesuffix("_"): value for key, value in query.items()}
    return cast.browser(role).get(reverse("measure-layout", args=[board.code]), asked, **options)


def test_two_bodies_side_by_side(cast: Cast, board: Board) -> None:
    measured = look(cast, board, from_="P1", to="P2").context["measured"]
    assert (measured.x, measured.y, measured.least, measured.overlap) == ("40 mm", "0 mm", "40 mm", "")
    assert measured.said == "From Name P1 (P1) to Name P2 (P2): 40 mm in x, 0 mm in y, 40 mm straight."


def test_over_a_corner_the_straight_line_is_shorter_than_both_together(cast: Cast, board: Board) -> None:
    # 7 and 40 mm: the root of 1649 is 40.607.
    measured = look(cast, board, from_="P1", to="P3").context["measured"]
    assert (measured.x, measured.y, measured.least) == ("7 mm", "40 mm", "40.6 mm")


def test_an_edge_is_chosen_in_the_address_or_in_the_form(cast: Cast, board: Board) -> None:
    one = look(cast, board, from_="P1:left", to="frame edge:left").context["measured"]
    other = look(cast, board, from_="P1", from_edge="left", to="frame edge", to_edge="left").context[
        "measured"
    ]
    assert one == other
    assert one.x == "30 mm"
    assert one.one == "the left edge of Name P1 (P1)"


def test_an_overlap_is_said_as_one(cast: Cast) -> None:
    board = make_board(cast.shop, [b.pedal("P1", at=(30, 20)), b.pedal("P2", at=(100, 140))])
    text = look(cast, board, from_="P1", to="P2", part="yes").text
    assert "overlap by 3 mm in x and 10 mm in y" in text


@pytest.mark.parametrize("view", ["top", "underside", "nonsense"])
def test_the_dimension_stands_on_the_drawing_and_alone_beside_it(cast: Cast, board: Board, view: str) -> None:
    answer = look(cast, board, from_="P1", to="P2", view=view)
    assert answer.text.count("d-measure-line") == 2
    assert look(cast, board, from_="P1", to="P2", view=view, part="yes").text.count("d-measure-line") == 1
    assert ("data-mirrored" in answer.text) == (view == "underside")


def test_the_fragment_stands_in_the_page(cast: Cast, board: Board) -> None:
    fragment = look(cast, board, from_="P1", to="P2", part="yes")
    assert "<html" not in fragment.text
    assert "HX-Request" in fragment["Vary"]
    assert normal(fragment.text) in normal(look(cast, board, from_="P1", to="P2").text)


@pytest.mark.parametrize(
    ("name", "said"),
    [("P9", "called “P9”"), ("P2:top", "called “P2:top”"), ("frame edge", "one of the frame’s edges")],
)
def test_what_cannot_be_measured_is_said(cast: Cast, board: Board, name: str, said: str) -> None:
    answer = look(cast, board, from_="P1", to=name)
    assert answer.status_code == 422
    assert said in answer.text


def test_a_hostile_name_stays_text(cast: Cast, board: Board) -> None:
    assert "<script>alert" not in look(cast, board, from_="P1", to="<script>alert(1)</script>").text


def test_scripts_off_each_body_leads_to_the_next_question(cast: Cast, board: Board) -> None:
    assert "?from=P2&amp;view=top" in look(cast, board).text
    assert "?from=P1&amp;to=P2&amp;view=top" in look(cast, board, from_="P1").text


def test_the_form_keeps_what_was_chosen(cast: Cast, board: Board) -> None:
    text = look(cast, board, from_="P1:rear", to="P2").text
    assert '<option value="P1" selected>' in text
    assert '<option value="rear" selected>' in text


def test_in_the_shops_unit(cast: Cast, board: Board) -> None:
    Shop.objects.update(length_unit="in")
    # 40 mm is 1.57 inches.
    assert look(cast, board, from_="P1", to="P2").context["measured"].x == "1.57 in"


def test_a_stranger_gets_404(cast: Cast, board: Board) -> None:
    assert look(cast, board, role="stranger").status_code == 404


@pytest.mark.parametrize("count", [1, 18])
def test_its_queries_do_not_grow(cast: Cast, count: int, django_assert_max_num_queries: Any) -> None:
    board, browser = make_board(cast.shop, count), cast.browser("viewer")
    address = reverse("measure-layout", args=[board.code])
    with django_assert_max_num_queries(9):
        browser.get(address, {"from": "P1", "to": "frame edge:left"})


def test_the_layout_page_leads_to_every_view_and_to_measuring(cast: Cast, board: Board) -> None:
    text = cast.browser("viewer").get(reverse("layout", args=[board.code])).text
    for name in ("underside", "side-view", "measure-layout"):
        assert f'href="{reverse(name, args=[board.code])}' in text
    assert 'id="layout-drawing" data-zoom' in text
    assert "Heights from the top" in text
