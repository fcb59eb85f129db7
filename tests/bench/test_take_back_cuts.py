"""Taking a job back: the stock as it was, row by row, unless somebody went on from there."""

from collections.abc import Callable

import pytest
from django.urls import reverse
from django.utils import timezone

from boardshop.bench.models import CutJob, CutPiece
from boardshop.bench.services.cut_jobs import register_piece
from boardshop.gear.models import CableStock
from boardshop.gear.records import MadeCableRecord
from boardshop.gear.services.made_cables import scrap
from tests.bench.cut_boards import make_cut_board, stock_of
from tests.bench.test_book_cuts import book
from tests.cable_factories import DAY
from tests.factories import Cast

pytestmark = pytest.mark.django_db


def url(job: CutJob) -> str:
    return reverse("take-back-cuts", args=[job.pk])


def test_the_stock_is_as_it_was_before(cast: Cast) -> None:
    boards = [make_cut_board(cast.shop, name=name) for name in "ABC"]
    CableStock.objects.filter(kind="offcut").update(tag="R1/400")
    before = stock_of(cast.shop)
    job = book(cast, *boards)
    assert stock_of(cast.shop) != before
    answer = cast.browser("editor").post(url(job))
    assert answer.status_code == 303
    assert stock_of(cast.shop) == before
    job.refresh_from_db()
    assert (job.taken_back_at is not None, job.taken_back_by) == (True, str(cast.editor))


def test_its_pieces_are_to_be_cut_again(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    job = book(cast, board)
    cast.browser("editor").post(url(job))
    assert not CutPiece.objects.filter(stands=True).exists()
    assert book(cast, board).number == 2


def test_the_last_job_first_and_both_in_turn(cast: Cast) -> None:
    one, other = make_cut_board(cast.shop, name="A"), make_cut_board(cast.shop, name="B")
    before = stock_of(cast.shop)
    first = book(cast, one)
    between = stock_of(cast.shop)
    second = book(cast, other)
    browser = cast.browser("editor")
    browser.post(url(second))
    assert stock_of(cast.shop) == between
    browser.post(url(first))
    assert stock_of(cast.shop) == before


def test_what_it_was_cut_again_for_stands_once_more(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    first = book(cast, board)
    second = book(cast, board, again=[f"{board.code} W3"])
    cast.browser("editor").post(url(second))
    assert dict(CutPiece.objects.filter(of__job=first).values_list("ref", "stands")) == {
        "W2": True,
        "W3": True,
    }
    assert not CutPiece.objects.filter(of__job=second, stands=True).exists()


def use_in_a_job(cast: Cast) -> None:
    book(cast, make_cut_board(cast.shop, name="Next"))


@pytest.mark.parametrize(
    ("use", "says"),
    [
        (use_in_a_job, "was cut in job 2"),
        (lambda _cast: CableStock.objects.filter(kind="offcut").delete(), "is gone"),
        (lambda _cast: CableStock.objects.filter(kind="offcut").update(length=500), "was changed since"),
        (
            lambda _cast: CableStock.objects.filter(kind="offcut").update(trashed_at=timezone.now()),
            "lies in the trash",
        ),
    ],
)
def test_an_offcut_that_was_used_since_holds_it_back(
    cast: Cast, use: Callable[[Cast], object], says: str
) -> None:
    board = make_cut_board(cast.shop)
    CableStock.objects.filter(kind="offcut").delete()
    job = book(cast, board)
    use(cast)
    before = stock_of(cast.shop)
    answer = cast.browser("editor").post(url(job))
    assert answer.status_code == 409
    assert says in answer.text
    job.refresh_from_db()
    assert (stock_of(cast.shop), job.taken_back_at) == (before, None)


def test_a_row_that_was_changed_since_holds_it_back(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    CableStock.objects.filter(kind="offcut").delete()
    job = book(cast, board)
    CableStock.objects.filter(kind="reel").update(length=9000)
    answer = cast.browser("editor").post(url(job))
    assert answer.status_code == 409
    assert "was changed since" in answer.text


@pytest.mark.parametrize("is_scrapped", [False, True])
def test_a_job_that_cables_were_made_of_is_not_taken_back(cast: Cast, is_scrapped: bool) -> None:
    job = book(cast, make_cut_board(cast.shop))
    piece = CutPiece.objects.filter(of__job=job).first()
    cable = register_piece(piece, MadeCableRecord(length=piece.cut_mm))
    if is_scrapped:
        scrap(cable, DAY, "core broken")
    before = stock_of(cast.shop)
    answer = cast.browser("editor").post(url(job))
    assert answer.status_code == 409
    assert f"stands in the register as {cable.code}" in answer.text
    job.refresh_from_db()
    assert (stock_of(cast.shop), job.taken_back_at) == (before, None)


def test_a_job_is_taken_back_once(cast: Cast) -> None:
    job = book(cast, make_cut_board(cast.shop))
    browser = cast.browser("editor")
    browser.post(url(job))
    before = stock_of(cast.shop)
    answer = browser.post(url(job))
    assert answer.status_code == 409
    assert "Job 1 was taken back already" in answer.text
    assert stock_of(cast.shop) == before


def test_a_stranger_gets_404(cast: Cast) -> None:
    job = book(cast, make_cut_board(cast.shop))
    assert cast.browser("stranger").post(url(job)).status_code == 404


def test_a_viewer_gets_403(cast: Cast) -> None:
    job = book(cast, make_cut_board(cast.shop))
    before = stock_of(cast.shop)
    assert cast.browser("viewer").post(url(job)).status_code == 403
    assert stock_of(cast.shop) == before


def test_take_back_cuts_refuses_other_methods(cast: Cast) -> None:
    job = book(cast, make_cut_board(cast.shop))
    assert cast.browser("editor").get(url(job)).status_code == 405
