import csv
import io

import pytest
from django.urls import reverse

from boardshop.bench.services.cable_tests import scrap_cable
from tests.board_factories import make_board
from tests.cable_factories import DAY, count_queries, make_cable, make_tested, put
from tests.factories import Cast

pytestmark = pytest.mark.django_db
URL = reverse("export-made-cables")


def rows(cast: Cast) -> list[dict[str, str]]:
    text = cast.browser("viewer").get(URL).content.decode("utf-8-sig")
    return list(csv.DictReader(io.StringIO(text)))


def test_every_cable_is_a_row_scrapped_ones_too(cast: Cast) -> None:
    board, on = make_board(cast.shop, 2), make_tested(cast.shop, cast.editor, note="=1+1")
    put(on, board, "W2", cast.editor)
    gone = make_cable(cast.shop)
    scrap_cable(gone, on=DAY, by=cast.editor, why="core broken")
    first, second = rows(cast)
    assert (first["id"], first["place"], first["where"]) == (on.code, "board", "W2 of board Nightjar main")
    assert (first["length mm"], first["test"], first["tested on"]) == ("700", "passed", "2026-03-01")
    assert first["note"] == "'=1+1"  # no formula for a spreadsheet program
    assert (second["place"], second["scrapped on"], second["why scrapped"]) == (
        "scrap",
        "2026-03-01",
        "core broken",
    )


def test_queries_do_not_grow(cast: Cast) -> None:
    browser = cast.browser("viewer")
    make_cable(cast.shop)
    few = count_queries(browser, URL)
    for _ in range(5):
        make_cable(cast.shop)
    assert count_queries(browser, URL) == few


def test_another_shops_register_is_not_taken_out(cast: Cast) -> None:
    cable = make_cable(cast.shop)
    assert cable.code not in cast.browser("stranger").get(URL).text


def test_export_made_cables_refuses_post(cast: Cast) -> None:
    assert cast.browser("owner").post(URL).status_code == 405
