"""One booked job, as it is worked through at the bench."""

import pytest
from django.urls import reverse

from boardshop.bench.models import CutPiece
from tests.bench.cut_boards import make_cut_board
from tests.bench.test_book_cuts import book
from tests.factories import Cast

pytestmark = pytest.mark.django_db


def shown(cast: Cast, pk: int, who: str = "editor") -> str:
    answer = cast.browser(who).get(reverse("cut-job", args=[pk]))
    assert answer.status_code == 200
    return " ".join(answer.text.split())


def test_each_piece_has_a_row_with_all_that_a_register_needs(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    job = book(cast, board)
    text = shown(cast, job.pk)
    for piece in CutPiece.objects.filter(of__job=job):
        row = text[text.index(f'id="piece-{piece.pk}"') :].partition("</tr>")[0]
        assert piece.ref in row
        assert board.name in row
        assert "135 mm" in row
        assert "strip for soldering" in row
    assert f"stock row {job.lengths.get().stock_key}" in text
    assert "Kept" not in text
    assert "Waste 130 mm" in text


def test_the_tag_to_write_is_said(cast: Cast) -> None:
    board, other = make_cut_board(cast.shop, name="A"), make_cut_board(cast.shop, name="B")
    book(cast, board)
    text = shown(cast, book(cast, other).pk)
    assert "as off-cut J2/9726: write the tag on it" in text


def test_a_board_in_the_trash_leaves_its_name(cast: Cast) -> None:
    board = make_cut_board(cast.shop, name="Gone soon")
    job = book(cast, board)
    board.delete()
    assert "Gone soon" in shown(cast, job.pk)


def test_it_costs_the_same_with_many_pieces(cast: Cast, django_assert_max_num_queries: object) -> None:
    boards = [make_cut_board(cast.shop, name=name) for name in "ABCDE"]
    one, many = book(cast, boards[0]), book(cast, *boards[1:])
    browser = cast.browser("viewer")
    for job in (one, many):
        with django_assert_max_num_queries(11):  # type: ignore[operator]
            browser.get(reverse("cut-job", args=[job.pk]))


def test_a_viewer_is_not_offered_to_take_it_back(cast: Cast) -> None:
    job = book(cast, make_cut_board(cast.shop))
    assert ["Take this job back" in shown(cast, job.pk, who) for who in ("viewer", "editor")] == [False, True]


def test_a_stranger_gets_404(cast: Cast) -> None:
    job = book(cast, make_cut_board(cast.shop))
    assert cast.browser("stranger").get(reverse("cut-job", args=[job.pk])).status_code == 404


def test_cut_job_refuses_other_methods(cast: Cast) -> None:
    job = book(cast, make_cut_board(cast.shop))
    assert cast.browser("editor").post(reverse("cut-job", args=[job.pk])).status_code == 405
