"""Every booking of a shop, newest first."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from tests.bench.cut_boards import make_cut_board
from tests.bench.test_book_cuts import book
from tests.factories import Cast

pytestmark = pytest.mark.django_db
URL = reverse("cut-jobs")


def test_newest_first_with_what_became_of_them(cast: Cast) -> None:
    first = book(cast, make_cut_board(cast.shop, name="A"))
    second = book(cast, make_cut_board(cast.shop, name="B"))
    browser = cast.browser("editor")
    browser.post(reverse("take-back-cuts", args=[second.pk]))
    text = browser.get(URL).text
    assert text.index(reverse("cut-job", args=[second.pk])) < text.index(reverse("cut-job", args=[first.pk]))
    assert "taken back" in text
    assert "270 mm" in text


def test_none_yet_says_how_to_begin(cast: Cast) -> None:
    assert "No cuts booked yet" in cast.browser("viewer").get(URL).text


def test_it_costs_the_same_with_many_jobs(cast: Cast) -> None:
    browser = cast.browser("viewer")
    counts = []
    for n in range(3):
        book(cast, make_cut_board(cast.shop, name=f"Board {n}"))
        with CaptureQueriesContext(connection) as queries:
            browser.get(URL)
        counts.append(len(queries))
    assert counts[0] == counts[2]


def test_jobs_of_another_shop_are_not_shown(cast: Cast) -> None:
    job = book(cast, make_cut_board(cast.shop))
    assert reverse("cut-job", args=[job.pk]) not in cast.browser("stranger").get(URL).text


def test_cut_jobs_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").post(URL).status_code == 405
