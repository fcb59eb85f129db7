import pytest
from django.urls import reverse

from boardshop.boards.models import Board
from boardshop.boards.services.made_cables import link_of
from boardshop.gear.services.made_cables import scrap
from tests.bench.cut_boards import make_cut_board
from tests.board_factories import make_board, plan_of
from tests.cable_factories import BAD, DAY, count_queries, make_cable, make_tested, put, read
from tests.factories import Cast

pytestmark = pytest.mark.django_db


def url(cable: object) -> str:
    return reverse("put-cable-on-board", args=[str(cable)])


def typed(board: Board, ref: str = "W2", **more: str) -> dict[str, str]:
    edit = Board.objects.get(pk=board.pk).edit_number
    return {"board": board.code, "link": ref, "edit": str(edit)} | more


@pytest.fixture
def board(cast: Cast) -> Board:
    return make_board(cast.shop, 2)


def test_a_board_is_chosen_first_then_a_link(cast: Cast, board: Board) -> None:
    cable, browser = make_tested(cast.shop, cast.editor), cast.browser("editor")
    assert "Nightjar main" in browser.get(url(cable)).text
    text = browser.get(url(cable), {"board": board.code}).text
    assert f"Put {cable.code} on W2" in text
    assert "mm to spare" in text


def test_it_is_put_on_the_link(cast: Cast, board: Board) -> None:
    cable = make_tested(cast.shop, cast.editor)
    answer = cast.browser("editor").post(url(cable), typed(board))
    assert answer.url == reverse("cables", args=[board.code]) + "#link-W2"
    assert plan_of(board).links[1].made_id == cable.code


def test_the_one_that_was_on_is_spare_then(cast: Cast, board: Board) -> None:
    old, new = make_tested(cast.shop, cast.editor), make_tested(cast.shop, cast.editor)
    put(old, board, "W2", cast.editor)
    cast.browser("editor").post(url(new), typed(board))
    assert link_of(old) is None
    assert plan_of(board).links[1].made_id == new.code


def test_a_refusal_shows_the_links_again(cast: Cast, board: Board) -> None:
    cable = make_cable(cast.shop)
    read(cable, BAD, cast.editor)
    answer = cast.browser("editor").post(url(cable), typed(board))
    assert answer.status_code == 422
    assert "failed its test or was scrapped" in answer.text
    assert "Which link?" in answer.text


def test_one_that_is_too_short_wants_a_tick(cast: Cast, board: Board) -> None:
    cable, browser = make_tested(cast.shop, cast.editor, 25), cast.browser("editor")
    answer = browser.post(url(cable), typed(board))
    assert (answer.status_code, "does not reach" in answer.text) == (422, True)
    assert browser.post(url(cable), typed(board, anyway="on")).status_code == 303


@pytest.mark.parametrize("change", [{"link": ""}, {"edit": ""}, {"edit": "x"}])
def test_a_form_that_lacks_something_is_told(cast: Cast, board: Board, change: dict[str, str]) -> None:
    cable = make_tested(cast.shop, cast.editor)
    assert cast.browser("editor").post(url(cable), typed(board) | change).status_code == 422
    assert link_of(cable) is None


def test_a_late_form_tells_what_was_done_meanwhile(cast: Cast, board: Board) -> None:
    cable, late = make_tested(cast.shop, cast.editor), typed(board)
    put(make_tested(cast.shop, cast.owner), board, "W3", cast.owner)
    answer = cast.browser("editor").post(url(cable), late)
    assert answer.status_code == 409
    assert "Make my change again" in answer.text
    assert link_of(cable) is None


def test_a_link_that_is_gone_is_told(cast: Cast, board: Board) -> None:
    cable = make_tested(cast.shop, cast.editor)
    assert cast.browser("editor").post(url(cable), typed(board, "W77")).status_code in (404, 422)


def test_queries_do_not_grow_with_the_board(cast: Cast) -> None:
    cable, browser = make_tested(cast.shop, cast.editor), cast.browser("editor")
    small, big = make_board(cast.shop, 2, name="Small"), make_board(cast.shop, 18, name="Big")
    few, many = (count_queries(browser, f"{url(cable)}?board={one.code}") for one in (small, big))
    assert few == many


def test_a_viewer_gets_403_and_a_stranger_404(cast: Cast, board: Board) -> None:
    cable = make_tested(cast.shop, cast.editor)
    assert cast.browser("viewer").post(url(cable), typed(board)).status_code == 403
    assert cast.browser("stranger").post(url(cable), typed(board)).status_code == 404


def test_a_strangers_board_is_not_found(cast: Cast) -> None:
    theirs = make_board(cast.stranger.memberships.get().shop, 2)
    assert cast.browser("editor").post(url(make_cable(cast.shop)), typed(theirs)).status_code == 404


def test_put_cable_on_board_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").delete(url(make_cable(cast.shop))).status_code == 405


def test_the_links_stand_in_the_order_of_the_spares(cast: Cast) -> None:
    """W1 and W4 want 6 m, W2 and W3 a patch: for a cable of 6.5 m the first two are the least too long."""
    board = make_cut_board(cast.shop)
    cable = make_tested(cast.shop, cast.editor, 6500)
    places = cast.browser("editor").get(url(cable), {"board": board.code}).context["places"]
    assert [place.fit.fits for place in places] == [True] * 4
    assert {place.link.ref for place in places[:2]} == {"W1", "W4"}


def test_one_on_the_scrap_is_said_to_be_there(cast: Cast, board: Board) -> None:
    cable = make_cable(cast.shop)
    read(cable, BAD, cast.editor)
    scrap(cable, DAY, "core broken")
    browser = cast.browser("editor")
    for asked in ("", f"?board={board.code}"):
        text = browser.get(url(cable) + asked).text
        assert f"Cable {cable.code} is on the scrap since 2026-03-01: core broken." in text
        assert "failed its test" not in text
        assert "Show its links" not in text
