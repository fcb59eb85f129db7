"""The cut plan of several boards and further pieces."""

from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from boardshop.bench.cut_work import MOST_BOARDS
from boardshop.bench.models import CutPiece
from boardshop.boards.models import Board
from boardshop.core.plan import Rules, StockLength
from tests.bench.cut_boards import make_cut_board
from tests.factories import Cast, make_cable_type

pytestmark = pytest.mark.django_db
URL = reverse("cut-plan")


def rows(*pieces: dict[str, str]) -> dict[str, str]:
    """The fields of so many rows of further pieces."""
    typed = {"more-TOTAL_FORMS": str(len(pieces)), "more-INITIAL_FORMS": "0"}
    for n, piece in enumerate(pieces):
        typed |= {f"more-{n}-{name}": value for name, value in piece.items()}
    return typed


def plan_of(cast: Cast, *boards: Board, **more: Any) -> Any:
    codes = [board.code for board in boards]
    return cast.browser("editor").get(URL, {"board": codes, **more})


def book(cast: Cast, board: Board) -> None:
    work = plan_of(cast, board).context["work"]
    answer = cast.browser("editor").post(reverse("book-cuts"), {"board": [board.code], "seen": work.seen})
    assert answer.status_code == 303


def keys(answer: Any) -> list[str]:
    return [piece.key for piece in answer.context["work"].wanted]


def test_the_pieces_of_two_boards_are_cut_from_one_stock(cast: Cast) -> None:
    one, other = make_cut_board(cast.shop, name="A"), make_cut_board(cast.shop, name="B")
    answer = plan_of(cast, one, other)
    assert keys(answer) == [f"{one.code} W2", f"{one.code} W3", f"{other.code} W2", f"{other.code} W3"]
    assert [len(line.taken.pieces) for line in answer.context["taken"]] == [2, 2]
    assert answer.context["work"].reels == 1


def test_nothing_chosen_shows_the_boards_to_choose_from(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    answer = plan_of(cast)
    assert answer.status_code == 200
    assert f'name="board" value="{board.code}"' in answer.text
    assert "Nothing to cut." in answer.text
    assert "Book it" not in answer.text


def test_further_pieces_are_planned_too(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    cable = board.shop.cable_types.get()
    answer = plan_of(
        cast, **rows({"cable": cable.name, "length": "30 cm", "count": "2", "name": "spare"}, {"cable": ""})
    )
    work = answer.context["work"]
    assert [(piece.key, piece.cut_mm) for piece in work.wanted] == [("X1 spare", 300), ("X2 spare", 300)]


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"length": "0"}, "A size must be above zero"),
        ({"length": "-20"}, "below zero"),
        ({"length": "long"}, "is no length"),
        ({"length": "200 m"}, "200000 mm is 200 m, longer than the 100 m that such a cable usually has"),
        ({"count": "0"}, "One to 600 pieces"),
        ({"count": "many"}, "no whole number"),
        ({"cable": ""}, "is needed"),
    ],
)
def test_a_fault_stands_at_its_field_and_nothing_is_lost(
    cast: Cast, change: dict[str, str], says: str
) -> None:
    cable = make_cable_type(cast.shop)
    piece = {"cable": cable.name, "length": "300", "count": "2", "name": "spare"} | change
    answer = plan_of(cast, **rows(piece))
    assert answer.status_code == 422
    assert says in answer.text
    assert 'value="spare"' in answer.text
    assert "work" not in answer.context


def test_an_absurd_length_is_taken_once_it_is_confirmed(cast: Cast) -> None:
    cable = make_cable_type(cast.shop)
    piece = {"cable": cable.name, "length": "200 m"}
    assert "more-0-lengths_are_right" in plan_of(cast, **rows(piece)).text
    answer = plan_of(cast, **rows(piece | {"lengths_are_right": "on"}))
    assert [piece.cut_mm for piece in answer.context["work"].wanted] == [200_000]


def test_one_more_row_keeps_what_was_typed(cast: Cast) -> None:
    cable = make_cable_type(cast.shop)
    answer = plan_of(cast, **rows({"cable": cable.name, "length": "300"}), **{"more-row": "1"})
    assert 'value="300"' in answer.text
    assert 'name="more-1-length"' in answer.text


def test_boards_with_different_rules_take_the_largest_of_each(cast: Cast) -> None:
    one = make_cut_board(cast.shop, name="A", rules=Rules(kerf_mm=1, keep_offcut_mm=200))
    other = make_cut_board(cast.shop, name="B", rules=Rules(kerf_mm=4))
    answer = plan_of(cast, one, other)
    rules = answer.context["work"].rules
    assert (rules.kerf_mm, rules.keep_offcut_mm) == (4, 200)
    assert "different rules for the saw" in answer.text


def test_a_board_named_twice_is_cut_once(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    assert keys(plan_of(cast, board, board)) == [f"{board.code} W2", f"{board.code} W3"]


@pytest.mark.parametrize("total", ["abc", "-1", "9999", ""])
@pytest.mark.parametrize("more", [{}, {"more-row": "1"}])
def test_a_form_that_came_back_broken_is_no_crash(cast: Cast, total: str, more: dict[str, str]) -> None:
    answer = plan_of(cast, **{"more-TOTAL_FORMS": total, "more-INITIAL_FORMS": "0"}, **more)
    assert answer.status_code in (200, 422)


def test_so_many_boards_at_most(cast: Cast) -> None:
    boards = [make_cut_board(cast.shop, name=f"Board {n}") for n in range(MOST_BOARDS + 1)]
    answer = plan_of(cast, *boards)
    assert answer.status_code == 422
    assert "At most 12 boards are planned together" in answer.text


def test_a_board_of_another_shop_is_no_choice(cast: Cast) -> None:
    board = make_cut_board(cast.stranger.memberships.get().shop)
    answer = plan_of(cast, board)
    assert answer.status_code == 422
    assert board.name not in answer.text


def test_each_board_costs_one_query_and_its_pieces_none(cast: Cast) -> None:
    browser = cast.browser("viewer")
    boards = [make_cut_board(cast.shop, name=f"Board {n}") for n in range(3)]
    counts = []
    for chosen in (boards[:1], boards[:1], boards):
        with CaptureQueriesContext(connection) as queries:
            browser.get(URL, {"board": [board.code for board in chosen]})
        counts.append(len(queries))
    assert counts[2] - counts[1] == 2
    assert counts[1] <= 16


@pytest.mark.parametrize(
    ("cut_mm", "says"),
    [
        (
            45,
            "<strong>cut to 45 mm: too short now, it takes 135 mm; tick “cut it again” in",
        ),
        (134, "<strong>cut to 134 mm: too short now"),
        (135, "<span>cut already, 135 mm,"),
        (136, "<span>cut already, 136 mm; it would take 135 mm now,"),
    ],
)
def test_a_piece_that_is_too_short_by_now_is_called_out(cast: Cast, cut_mm: int, says: str) -> None:
    board = make_cut_board(cast.shop)
    book(cast, board)
    CutPiece.objects.filter(ref="W2").update(cut_mm=cut_mm)
    assert says in plan_of(cast, board).text
    page = cast.browser("editor").get(reverse("cut-list", args=[board.code])).text
    assert ("<strong>cut to" in page) == (cut_mm < 135)


def test_without_a_cable_type_the_way_to_one_is_shown(cast: Cast) -> None:
    way, browser = reverse("add-cable-type"), cast.browser("editor")
    assert way in browser.get(URL).text
    assert way not in cast.browser("viewer").get(URL).text
    make_cable_type(cast.shop)
    assert way not in browser.get(URL).text


def test_the_kerf_and_the_trim_that_it_counts_with_are_said(cast: Cast) -> None:
    board = make_cut_board(cast.shop, rules=Rules(kerf_mm=3, trim_mm=7, keep_offcut_mm=210))
    said = "Counted with 3 mm of kerf for each cut and 7 mm of trim at each off-cut; a remainder is kept from"
    assert said in plan_of(cast, board).text
    assert said in cast.browser("editor").get(reverse("cut-list", args=[board.code])).text


@pytest.mark.parametrize(
    ("keep", "says"),
    [(110, "116 mm of remainders come back"), (200, "No remainder is long enough to come back")],
)
def test_what_comes_back_is_said_where_something_does(cast: Cast, keep: int, says: str) -> None:
    stock = (StockLength("C1", 400, 1, "offcut"),)
    board = make_cut_board(cast.shop, stock=stock, rules=Rules(keep_offcut_mm=keep))
    text = plan_of(cast, board).text
    assert says in text
    assert ("of remainders come back" in text) == (keep == 110)


def test_a_viewer_is_not_offered_to_book(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    texts = [cast.browser(who).get(URL, {"board": board.code}).text for who in ("viewer", "editor")]
    assert ["Book it" in text for text in texts] == [False, True]


def test_a_stranger_sees_their_own_shop(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    assert board.code not in cast.browser("stranger").get(URL).text


def test_cut_plan_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").post(URL).status_code == 405
