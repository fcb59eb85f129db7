"""What the cables page says of the made cable on a link."""

import pytest
from django.urls import reverse

from boardshop.boards.access import get_board_for
from boardshop.boards.models import Board, Placement
from boardshop.boards.services.pedals import place_pedal
from tests.board_factories import make_board
from tests.cable_factories import count_queries, make_cable, make_tested, put
from tests.factories import Cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def board(cast: Cast) -> Board:
    return make_board(cast.shop, 2)


def url(board: Board) -> str:
    return reverse("cables", args=[board.code])


def words(cast: Cast, board: Board, who: str = "viewer") -> str:
    return " ".join(cast.browser(who).get(url(board)).text.split())


def test_id_test_reach_and_retest_stand_beside_the_link(cast: Cast, board: Board) -> None:
    cable = make_tested(cast.shop, cast.editor)
    put(cable, board, "W2", cast.editor)
    text = words(cast, board)
    row = next(row for row in cast.browser("viewer").get(url(board)).context["rows"] if row.made)
    assert (row.link.ref, row.made.code, row.made.test, row.made.reach.state) == (
        "W2",
        cable.code,
        "passed",
        "reaches",
    )
    assert f"</a>: passed, {row.made.reach.said}, {row.made.retest.brief}" in text
    assert reverse("show-made-cable", args=[cable.code]) in text


def test_a_moved_pedal_tells_that_its_cable_no_longer_reaches(cast: Cast, board: Board) -> None:
    cable = make_tested(cast.shop, cast.editor, 300)
    put(cable, board, "W2", cast.editor)
    assert "does not reach" not in words(cast, board)
    mine = get_board_for(cast.editor, board.code)
    place_pedal(mine, mine.edit_number, Placement.objects.get(board=board, ref="P2"), 800, 250, 0)
    text = words(cast, board)
    assert f"cable {cable.code}, was made 300 mm long" in text  # the finding names it by its id
    assert "mm too short" in text
    assert "look at it" in text


def test_one_that_was_not_tested_says_so(cast: Cast, board: Board) -> None:
    put(make_cable(cast.shop), board, "W2", cast.editor)
    assert "</a>: not wholly tested" in words(cast, board)
    assert "C23" in words(cast, board)


def test_only_an_editor_is_led_to_the_spares(cast: Cast, board: Board) -> None:
    spares = reverse("spares-for-link", args=[board.code, "W2"])
    assert [spares in words(cast, board, who) for who in ("editor", "viewer")] == [True, False]


def test_one_query_reads_them_all(cast: Cast) -> None:
    board, browser = make_board(cast.shop, 9), cast.browser("viewer")
    none = count_queries(browser, url(board))
    put(make_tested(cast.shop, cast.editor), board, "W2", cast.editor, anyway=True)
    one = count_queries(browser, url(board))
    for number in range(3, 9):
        put(make_tested(cast.shop, cast.editor), board, f"W{number}", cast.editor, anyway=True)
    assert (one - none, count_queries(browser, url(board)) - one) == (1, 0)


def test_the_row_of_such_a_link_is_kept_as_it_is(cast: Cast, board: Board) -> None:
    """The row's own form posts all that the cable gives, and another route may still be chosen."""
    put(make_tested(cast.shop, cast.editor), board, "W2", cast.editor)
    browser = cast.browser("editor")
    row = next(row for row in browser.get(url(board)).context["rows"] if row.made)
    shown = {bound.name: bound.value() for bound in row.form if bound.name not in ("edit", "route")}
    typed = {name: "" if value is None else str(value) for name, value in shown.items()}
    typed |= {"route": "under", "edit": str(Board.objects.get(pk=board.pk).edit_number)}
    address = reverse("change-link", args=[board.code, "W2"])
    assert browser.post(address, typed).status_code == 303
    typed |= {"made": "650", "edit": str(Board.objects.get(pk=board.pk).edit_number)}
    answer = browser.post(address, typed)
    assert (answer.status_code, "take the cable off W2 first" in answer.text) == (422, True)
