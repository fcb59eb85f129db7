"""`try-feed`: what if a jack were fed from there, on a page and as a fragment; looking changes nothing."""

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
from tests.core.feeding_cases import drawing, selectable
from tests.factories import Cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def board(cast: Cast) -> Board:
    """P1 and P2 on S1.1 at 180 %, S1.2 free with 300 mA, S1.3 with a switch that P3 has set to 18 V."""
    outlets = (b.outlet("1"), b.outlet("2", max_ma=300), selectable("3"))
    feeds = (b.feed("S1.1", "P1.DC"), b.feed("S1.1", "P2.DC"), b.feed("S1.3", "P3.DC", 18000))
    pedals = [drawing(90, "P1"), drawing(90, "P2"), drawing(10, "P3")]
    return make_board(cast.shop, pedals, supplies=(b.supply("S1", *outlets),), feeds=feeds)


def look(cast: Cast, board: Board, outlet: str | None, end: str = "P2.DC", **options: Any) -> HttpResponse:
    query = {} if outlet is None else {"outlet": outlet}
    role = options.pop("role", "viewer")
    return cast.browser(role).get(reverse("try-feed", args=[board.code, end]), query, **options)


def words(answer: HttpResponse) -> str:
    """What a person reads, without the spaces that tags left before a point."""
    plain = " ".join(re.sub(r"<[^>]+>", " ", answer.text).split())
    return re.sub(r" ([;,.:])", r"\1", plain)


def test_from_one_to_the_other_in_percent(cast: Cast, board: Board) -> None:
    said = words(look(cast, board, "S1.2@9000", headers=HTMX))
    assert "P2.DC from S1.1 to S1.2: 180.0 % to 30.0 %" in said
    assert "180 of 100 mA, 180.0 % → then 90 of 100 mA, 90.0 %; 10 mA spare, above the planned 80 %" in said
    assert "It settles P08 (fault)" in said


def test_nothing_is_changed_by_looking(cast: Cast, board: Board) -> None:
    before = dump_plan(plan_of(board))
    look(cast, board, "S1.2@9000", role="editor")
    assert dump_plan(plan_of(board)) == before
    assert Board.objects.get(pk=board.pk).edit_number == 0


def test_the_fragment_stands_in_the_page(cast: Cast, board: Board) -> None:
    fragment = look(cast, board, "S1.2@9000", headers=HTMX)
    assert "<html" not in fragment.text
    assert "HX-Request" in fragment["Vary"]
    assert normal(fragment.text) in normal(look(cast, board, "S1.2@9000").text)


def test_an_editor_may_do_it_from_there_and_a_viewer_not(cast: Cast, board: Board) -> None:
    move = reverse("move-feed", args=[board.code, "P2.DC"])
    assert f'action="{move}"' in look(cast, board, "S1.2@9000", role="editor").text
    assert f'action="{move}"' not in look(cast, board, "S1.2@9000").text


def test_without_an_outlet_every_one_is_listed_with_what_speaks_against_it(cast: Cast, board: Board) -> None:
    answer = look(cast, board, None)
    verdicts = [(one.value, one.choice.verdict) for one in answer.context["offers"]]
    assert verdicts == [("S1.1@9000", "fault"), ("S1.2@9000", "right"), ("S1.3@18000", "damage")]
    assert "?outlet=S1.2%409000" in answer.text


def test_a_damage_is_told_before_it_is_done(cast: Cast, board: Board) -> None:
    said = words(look(cast, board, "S1.3@18000", headers=HTMX))
    assert "It brings P03 (damage)" in said


def test_pulling_the_plug_can_be_tried(cast: Cast, board: Board) -> None:
    said = words(look(cast, board, "unfed", headers=HTMX))
    assert "P2.DC would not be fed." in said
    assert "P30" in said


def test_a_sum_that_stays_as_it_is_is_left_out(cast: Cast) -> None:
    """Within one supply the whole carries the same; between two both change."""
    supplies = (b.supply("S1", limit_mw=9000), b.supply("S2", limit_mw=9000))
    board = make_board(cast.shop, 1, supplies=supplies)
    within = look(cast, board, "S1.2@9000", end="P1.DC").context["outcome"]
    between = look(cast, board, "S2.1@9000", end="P1.DC").context["outcome"]
    assert [change.ref for change in within.sums] == []
    assert [change.ref for change in between.sums] == ["S1", "S2"]


def test_where_it_is_already_nothing_would_change(cast: Cast, board: Board) -> None:
    answer = look(cast, board, "S1.1@9000", role="editor")
    assert "is fed from S1.1 already" in words(answer)
    assert answer.context["outcome"].is_same


@pytest.mark.parametrize(
    ("outlet", "said"),
    [
        ("S1.3", "This is no outlet of the list"),
        ("S7.1@9000", "Outlet 1 does not exist on supply S7"),
        ("S1.2@12000", "Outlet S1.2 cannot be set to 12 V"),
        ("S1.3@9000", "one outlet has one setting at a time"),
        ("<b>", "This is no outlet of the list"),
    ],
)
@pytest.mark.parametrize("headers", [{}, HTMX])
def test_what_cannot_be_is_said(
    cast: Cast, board: Board, outlet: str, said: str, headers: dict[str, str]
) -> None:
    answer = look(cast, board, outlet, headers=headers)
    assert answer.status_code == 422
    assert said in answer.text
    assert "<b>" not in answer.text.replace("<b ", "")


def test_who_may_look(cast: Cast, board: Board) -> None:
    statuses = {role: look(cast, board, "S1.2@9000", role=role).status_code for role in ("owner", "viewer")}
    assert statuses == {"owner": 200, "viewer": 200}
    assert look(cast, board, "S1.2@9000", role="stranger").status_code == 404


def test_a_jack_that_is_not_there_is_404(cast: Cast, board: Board) -> None:
    assert look(cast, board, "S1.2@9000", end="P9.DC").status_code == 404


def test_other_methods_are_refused(cast: Cast, board: Board) -> None:
    assert cast.browser("editor").post(reverse("try-feed", args=[board.code, "P2.DC"])).status_code == 405


@pytest.mark.parametrize("pedals", [1, 18])
def test_its_queries_do_not_grow_with_the_board(
    cast: Cast, pedals: int, django_assert_max_num_queries: Any
) -> None:
    board, browser = make_board(cast.shop, pedals), cast.browser("viewer")
    address = reverse("try-feed", args=[board.code, "P1.DC"])
    with django_assert_max_num_queries(5):
        assert browser.get(address, {"outlet": "S1.2@9000"}, headers=HTMX).status_code == 200


def test_an_outlet_without_any_record_is_unknown_and_not_fine(cast: Cast) -> None:
    bare = b.outlet("1", settings=(), polarity=None, current=None)
    board = make_board(cast.shop, 1, supplies=(b.supply("S1", bare),), feeds=())
    said = words(look(cast, board, "S1.1@", end="P1.DC", headers=HTMX))
    assert "to S1.1: unknown" in said
    assert "Unknown" in said
    assert "matches" not in said
