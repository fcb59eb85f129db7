"""Booking: what leaves the stock, what comes back, and when nothing is booked at all."""

from dataclasses import replace
from typing import Any

import pytest
from django.urls import reverse

from boardshop.bench.cut_work import Asked, gather_cuts
from boardshop.bench.errors import PieceBookedTwice, StockMoved
from boardshop.bench.models import CutJob, CutPiece
from boardshop.bench.services.cut_jobs import book_cuts
from boardshop.boards.models import Board, Link
from boardshop.core.plan import StockLength
from boardshop.gear.models import CableStock
from tests.bench.cut_boards import make_cut_board, stock_of, total_mm
from tests.bench.test_cut_plan import rows
from tests.factories import Cast

pytestmark = pytest.mark.django_db
URL = reverse("book-cuts")


def seen(cast: Cast, *boards: Board, **more: Any) -> dict[str, Any]:
    """The fields of the form that books what the plan's page shows."""
    asked = {"board": [board.code for board in boards], **more}
    work = cast.browser("editor").get(reverse("cut-plan"), asked).context["work"]
    return {**asked, "seen": work.seen}


def book(cast: Cast, *boards: Board, **more: Any) -> CutJob:
    answer = cast.browser("editor").post(URL, seen(cast, *boards, **more))
    assert answer.status_code == 303, answer.text
    return CutJob.objects.latest("pk")


def test_the_cable_leaves_the_stock_and_the_rest_comes_back_with_a_tag(cast: Cast) -> None:
    """135 + 2 + 135 + 2 of an off-cut of 400: 10 of trim, and 116 are left, less than 130: waste."""
    board = make_cut_board(cast.shop, stock=(StockLength("C1", 500, 1, "offcut"),))
    CableStock.objects.update(tag="R1/500")
    job = book(cast, board)
    (length,) = job.lengths.all()
    assert [piece.cut_mm for piece in length.pieces.all()] == [135, 135]
    assert (length.made_mm, length.kept_mm, length.waste_mm) == (270, 216, 14)
    assert [row[1:] for row in stock_of(cast.shop)] == [("offcut", 216, 1, "R1/216")]
    assert (length.kept_tag, length.tag) == ("R1/216", "R1/500")


@pytest.mark.parametrize("keep", [116, 117])
def test_what_is_taken_is_made_kept_or_wasted(cast: Cast, keep: int) -> None:
    from boardshop.core.plan import Rules

    board = make_cut_board(
        cast.shop, stock=(StockLength("C1", 400, 1, "offcut"),), rules=Rules(keep_offcut_mm=keep)
    )
    before = total_mm(cast.shop)
    job = book(cast, board)
    made = sum(piece.cut_mm for piece in CutPiece.objects.filter(of__job=job))
    waste = sum(length.waste_mm for length in job.lengths.all())
    assert before == made + waste + total_mm(cast.shop)
    assert total_mm(cast.shop) == (116 if keep == 116 else 0)


def test_of_several_equal_reels_one_goes(cast: Cast) -> None:
    board = make_cut_board(cast.shop, stock=(StockLength("C1", 10_000, 2, "reel"),))
    book(cast, board)
    assert [row[1:] for row in stock_of(cast.shop)] == [
        ("reel", 10_000, 1, ""),
        ("offcut", 9726, 1, "J1/9726"),
    ]


def test_two_equal_remainders_get_tags_of_their_own(cast: Cast) -> None:
    board = make_cut_board(cast.shop, stock=(StockLength("C1", 300, 2, "reel"),))
    rules = {"kerf_mm": 0, "keep_offcut_mm": 100}
    Board.objects.filter(pk=board.pk).update(rules=rules)
    book(cast, board)
    assert sorted(tag for *_row, tag in stock_of(cast.shop)) == sorted(
        {tag for *_row, tag in stock_of(cast.shop)}
    )


def test_the_job_says_who_what_and_from_where(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    key = CableStock.objects.get(kind="offcut").pk
    job = book(cast, board)
    assert (job.number, job.who, job.is_optimal) == (1, str(cast.editor), True)
    piece = CutPiece.objects.filter(of__job=job).first()
    assert piece is not None
    assert (piece.board, piece.board_code, piece.ref, piece.what) == (board, board.code, "W2", "patch")
    assert (piece.label_from, piece.label_to) == ("W2 > P1-OUT", "W2 > P2-IN")
    assert (piece.plug_from, piece.fixing_from, piece.of.stock_key) == ("J1", "soldered", key)


def test_jobs_are_numbered_shop_by_shop(cast: Cast) -> None:
    one, other = make_cut_board(cast.shop, name="A"), make_cut_board(cast.shop, name="B")
    assert [book(cast, one).number, book(cast, other).number] == [1, 2]


def test_further_pieces_are_booked_too(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    cable = board.shop.cable_types.get().name
    job = book(cast, **rows({"cable": cable, "length": "300", "name": "spare"}))
    piece = CutPiece.objects.get(of__job=job)
    assert (piece.board, piece.ref, piece.what, piece.label_from) == (None, "spare", "piece", "")


def test_a_piece_is_booked_once_and_the_refusal_names_the_job(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    form = seen(cast, board)
    browser = cast.browser("editor")
    assert browser.post(URL, form).status_code == 303
    before = stock_of(cast.shop)
    answer = browser.post(URL, form)
    assert answer.status_code == 409
    assert f"{board.code} W2 was cut in job 1" in answer.text
    assert (stock_of(cast.shop), CutJob.objects.count()) == (before, 1)


def test_what_was_cut_is_left_out_of_the_next_plan(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    book(cast, board)
    answer = cast.browser("editor").get(reverse("cut-plan"), {"board": board.code})
    assert answer.context["work"].wanted == ()
    assert "cut already, 135 mm" in answer.text
    assert ">job 1</a>" in answer.text


def test_a_cable_that_is_lost_is_cut_again_knowingly(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    first = book(cast, board)
    second = book(cast, board, again=[f"{board.code} W3"])
    assert [piece.ref for piece in CutPiece.objects.filter(of__job=second)] == ["W3"]
    stands = CutPiece.objects.filter(of__job=first).values_list("ref", "stands")
    assert dict(stands) == {"W2": True, "W3": False}


def test_stock_that_changed_meanwhile_books_nothing_and_says_what_changed(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    CableStock.objects.filter(kind="offcut").update(tag="R7")
    form = seen(cast, board)
    CableStock.objects.filter(kind="offcut").update(length=280)
    before = stock_of(cast.shop)
    answer = cast.browser("editor").post(URL, form)
    assert answer.status_code == 409
    assert "C1 offcut R7 is now 1 × 280 mm" in answer.text
    assert (stock_of(cast.shop), CutJob.objects.count()) == (before, 0)


def test_the_page_after_a_conflict_books_what_it_shows(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    form = seen(cast, board)
    CableStock.objects.filter(kind="offcut").delete()
    answer = cast.browser("editor").post(URL, form)
    assert "C1 offcut is gone" in answer.text
    again = form | {"seen": answer.context["work"].seen}
    assert cast.browser("editor").post(URL, again).status_code == 303


def test_a_board_that_changed_meanwhile_books_nothing(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    form = seen(cast, board)
    Link.objects.filter(ref="W3").update(made=140)
    answer = cast.browser("editor").post(URL, form)
    assert answer.status_code == 409
    assert f"{board.code} W3 is no longer to be cut" in answer.text


@pytest.mark.parametrize(
    "nonsense",
    ["", "{", "[]", "1", '{"saw": 1}', '{"saw": [], "pieces": 1, "stock": {}}', "[" * 5000,
     '{"saw": [], "pieces": {}, "stock": {"1": []}}', '{"saw": [], "pieces": {"x": 1}, "stock": {}}'],
)  # fmt: skip
def test_a_form_that_does_not_say_what_was_seen_books_nothing(cast: Cast, nonsense: str) -> None:
    board = make_cut_board(cast.shop)
    answer = cast.browser("editor").post(URL, {"board": board.code, "seen": nonsense})
    assert answer.status_code == 409
    assert not CutJob.objects.exists()


def test_nothing_is_no_job(cast: Cast) -> None:
    make_cut_board(cast.shop)
    answer = cast.browser("editor").post(URL)
    assert answer.status_code == 422
    assert "There is nothing to cut here" in answer.text


def test_a_bad_row_is_told_and_kept(cast: Cast) -> None:
    answer = cast.browser("editor").post(URL, rows({"cable": "", "length": "0", "name": "spare"}))
    assert answer.status_code == 422
    assert 'value="spare"' in answer.text


def test_stock_that_changes_at_the_last_moment_is_refused(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    work = gather_cuts(cast.shop, Asked([board]))
    CableStock.objects.filter(kind="reel").update(count=1)
    with pytest.raises(StockMoved):
        book_cuts(work, work.seen, cast.editor)
    assert not CutJob.objects.exists()


def test_the_database_refuses_a_piece_that_stands_twice(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    work = gather_cuts(cast.shop, Asked([board]))
    book_cuts(work, work.seen, cast.editor)
    CableStock.objects.all().delete()
    stock = [CableStock.objects.create(shop=cast.shop, cable=one.cable, length=one.length, count=one.count,
                                       kind=one.kind) for one in work.stock]  # fmt: skip
    by_size = {(row.kind, row.length): row for row in stock}
    taken = tuple(replace(t, stock=by_size[t.used.kind, t.used.length]) for t in work.taken)
    stale = replace(work, stock=tuple(stock), taken=taken)
    with pytest.raises(PieceBookedTwice):
        book_cuts(stale, stale.seen, cast.editor)


def test_a_viewer_gets_403(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    assert cast.browser("viewer").post(URL, seen(cast, board)).status_code == 403
    assert not CutJob.objects.exists()


def test_a_stranger_books_nothing_of_this_shop(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    assert cast.browser("stranger").post(URL, seen(cast, board)).status_code == 422
    assert not CutJob.objects.exists()


def test_book_cuts_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").get(URL).status_code == 405


def test_the_cut_list_tells_its_sheet_what_is_booked_and_still_fits(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    page = reverse("cut-list", args=[board.code])
    assert cast.browser("viewer").get(page).context["cut_already"] == "cut="
    job = book(cast, board)
    answer = cast.browser("viewer").get(page)
    assert answer.context["cut_already"] == "cut=W2+W3"
    assert "cut-sheet.pdf?cut=W2+W3" in answer.text
    CutPiece.objects.filter(of__job=job, ref="W2").update(cut_mm=90)
    assert cast.browser("viewer").get(page).context["cut_already"] == "cut=W3"
