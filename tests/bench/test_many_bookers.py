"""Several people book or take back at once, on a real Postgres and in threads: the stock adds up."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest
from django.db import connection
from django.urls import reverse

from boardshop.bench.models import CutJob, CutPiece
from tests.bench.cut_boards import make_cut_board, stock_of, total_mm
from tests.bench.test_book_cuts import URL, book, seen
from tests.factories import make_cast

pytestmark = pytest.mark.django_db(transaction=True)
AT_ONCE = 4


def all_at_once(*works: Callable[[], int]) -> list[int]:
    """The statuses, sorted; each work begins when all are ready."""
    barrier = Barrier(len(works))

    def run(work: Callable[[], int]) -> int:
        try:
            barrier.wait()
            return work()
        finally:
            connection.close()

    with ThreadPoolExecutor(len(works)) as pool:
        return sorted(pool.map(run, works))


def test_one_plan_sent_by_many_is_booked_once() -> None:
    cast = make_cast()
    board = make_cut_board(cast.shop)
    before, form = total_mm(cast.shop), seen(cast, board)
    browsers = [cast.browser("editor") for _ in range(AT_ONCE)]
    statuses = all_at_once(*(lambda b=b: b.post(URL, form).status_code for b in browsers))  # type: ignore[misc]
    assert statuses == [303] + [409] * (AT_ONCE - 1)
    assert (CutJob.objects.count(), CutPiece.objects.count()) == (1, 2)
    (length,) = CutJob.objects.get().lengths.all()
    assert before == total_mm(cast.shop) + length.made_mm + length.waste_mm


def test_plans_of_several_boards_never_take_the_same_length() -> None:
    cast = make_cast()
    boards = [make_cut_board(cast.shop, name=f"Board {n}") for n in range(AT_ONCE)]
    before = total_mm(cast.shop)
    forms = [seen(cast, board) for board in boards]
    browsers = [cast.browser("editor") for _ in boards]
    works = [
        lambda b=b, form=form: b.post(URL, form).status_code  # type: ignore[misc]
        for b, form in zip(browsers, forms, strict=True)
    ]
    statuses = all_at_once(*works)
    assert statuses == [303] + [409] * (AT_ONCE - 1)
    gone = sum(one.made_mm + one.waste_mm for job in CutJob.objects.all() for one in job.lengths.all())
    assert before == total_mm(cast.shop) + gone


def test_a_job_taken_back_by_many_is_taken_back_once() -> None:
    cast = make_cast()
    board = make_cut_board(cast.shop)
    before = stock_of(cast.shop)
    url = reverse("take-back-cuts", args=[book(cast, board).pk])
    browsers = [cast.browser("editor") for _ in range(AT_ONCE)]
    statuses = all_at_once(*(lambda b=b: b.post(url).status_code for b in browsers))  # type: ignore[misc]
    assert statuses == [303] + [409] * (AT_ONCE - 1)
    assert stock_of(cast.shop) == before
