from typing import Any

import pytest
from django.urls import reverse

from boardshop.boards.models import Board, BoardFile, Placement
from boardshop.files.models import Attachment
from tests.board_factories import make_board
from tests.factories import Cast
from tests.files.pictures import picture, sent

pytestmark = pytest.mark.django_db


@pytest.fixture
def board(cast: Cast) -> Board:
    return make_board(cast.shop)


def send(cast: Cast, board: Board, ref: str = "", role: str = "editor", width: int = 60) -> Any:
    typed = {"sent": [sent(picture((width, 40)))], "shows": "knobs", "ref": ref}
    return cast.browser(role).post(reverse("add-board-files", args=[board.code]), typed)


@pytest.mark.parametrize(
    ("ref", "page"), [("", "board"), ("p1", "change-pedal"), ("W1", "change-link"), ("S1", "supply-files")]
)
def test_photos_are_shown_on_the_page_of_what_they_are_of(
    cast: Cast, board: Board, ref: str, page: str
) -> None:
    address = reverse(page, args=[board.code, ref.upper()] if page != "board" else [board.code])
    assert send(cast, board, ref)["Location"] == f"{address}#files"
    held = BoardFile.objects.get()
    assert held.ref == ref.upper()
    assert held.attachment.key in cast.browser("editor").get(address).text


@pytest.mark.parametrize(
    ("ref", "page"), [("", "board"), ("p1", "change-pedal"), ("W1", "change-link"), ("S1", "supply-files")]
)
def test_what_is_refused_is_told_on_the_page_it_was_sent_from(
    cast: Cast, board: Board, ref: str, page: str
) -> None:
    browser, add = cast.browser("editor"), reverse("add-board-files", args=[board.code])
    address = reverse(page, args=[board.code, ref.upper()] if ref else [board.code])
    shown = browser.get(address)
    answer = browser.post(add, {"sent": [sent(b"words")], "shows": "receipt", "ref": ref})
    assert answer.status_code == 422
    assert answer.templates[0].name == shown.templates[0].name
    section = answer.text.partition('id="files"')[2].partition("</form>")[0]
    assert "is no picture or document" in section
    assert '<details class="fold" open>' in section
    assert f'name="ref" value="{ref}"' in section or not ref
    assert '<option value="receipt" selected>' in section


def test_the_board_counts_those_of_its_pedals(cast: Cast, board: Board) -> None:
    send(cast, board, "P1")
    send(cast, board, "P1", width=70)
    assert cast.browser("viewer").get(reverse("board", args=[board.code])).context["held"].counts == [
        ("P1", 2)
    ]


def test_those_of_a_pedal_that_is_gone_stay_on_the_board(cast: Cast, board: Board) -> None:
    send(cast, board, "P2")
    Placement.objects.get(board=board, ref="P2").delete()
    page = cast.browser("viewer").get(reverse("board", args=[board.code]))
    assert page.context["held"].gone == [Attachment.objects.get()]
    assert Attachment.objects.get().key in page.text


def test_the_stage_shows_knobs_to_a_viewer(cast: Cast, board: Board) -> None:
    send(cast, board, "P1")
    text = cast.browser("viewer").get(reverse("stage-board", args=[board.code])).text
    assert reverse("show-thumbnail", args=[Attachment.objects.get().key]) in text


@pytest.mark.parametrize("count", [1, 9])
def test_queries_do_not_grow(
    cast: Cast, board: Board, count: int, django_assert_max_num_queries: Any
) -> None:
    for n in range(count):
        send(cast, board, width=60 + n)
        send(cast, board, "P1", width=60 + n)
    browser = cast.browser("editor")
    for name, most in (("board", 11), ("stage-board", 6)):
        with django_assert_max_num_queries(most):
            browser.get(reverse(name, args=[board.code]))


def test_what_is_not_on_the_board_is_404(cast: Cast, board: Board) -> None:
    assert send(cast, board, "P77").status_code == 404


def test_who_may_not(cast: Cast, board: Board) -> None:
    assert send(cast, board, role="viewer").status_code == 403
    assert send(cast, board, role="stranger").status_code == 404
    assert not Attachment.objects.exists()


def test_a_board_in_the_trash_shows_its_photos_to_members_only(cast: Cast, board: Board) -> None:
    send(cast, board)
    board.trashed_at = board.changed_at
    board.save()
    url = reverse("show-file", args=[Attachment.objects.get().key])
    assert cast.browser("viewer").get(url).status_code == 200
    assert cast.browser("stranger").get(url).status_code == 404
