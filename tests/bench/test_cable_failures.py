import pytest
from django.urls import reverse

from boardshop.bench.services.cable_tests import report_fault, scrap_cable
from tests.board_factories import make_board
from tests.cable_factories import DAY, count_queries, make_cable, make_tested, put
from tests.factories import Cast, make_plug_type

pytestmark = pytest.mark.django_db
URL = reverse("cable-failures")


def counted(cast: Cast) -> dict[str, tuple[int, int, int | None]]:
    found = cast.browser("viewer").get(URL).context["found"]
    rows = (*found.by_plug, *found.by_end, *found.by_place)
    return {row.name: (row.cables, row.failures, row.percent) for row in rows}


def test_few_cables_have_counts_and_no_share(cast: Cast) -> None:
    make_plug_type(cast.shop, name="Flat")
    report_fault(make_cable(cast.shop), on=DAY, by=cast.editor, symptom="crackles", end="B", cause="joint")
    assert counted(cast)["Flat"] == (1, 1, None)
    assert counted(cast)["end B"] == (1, 1, None)
    assert "too few to judge" in cast.browser("viewer").get(URL).text


def test_twenty_cables_have_a_share_scrapped_ones_among_them(cast: Cast) -> None:
    make_plug_type(cast.shop, name="Flat")
    cables = [make_cable(cast.shop) for _ in range(20)]
    report_fault(cables[0], on=DAY, by=cast.editor, symptom="crackles", end="A", cause="joint")
    report_fault(cables[1], on=DAY, by=cast.editor, symptom="dead", end="A", cause="jack was guilty")
    scrap_cable(cables[0], on=DAY, by=cast.editor, why="joint")
    assert counted(cast)["Flat"] == (20, 1, 5)
    assert "besides 1 where the jack was guilty" in cast.browser("viewer").get(URL).text


def test_places_in_the_chain_are_those_where_cables_have_been(cast: Cast) -> None:
    board = make_board(cast.shop, 3)
    first, between = make_tested(cast.shop, cast.editor), make_tested(cast.shop, cast.editor)
    put(first, board, "W1", cast.editor, anyway=True)
    put(between, board, "W2", cast.editor)
    report_fault(first, on=board.changed_at.date(), by=cast.editor, symptom="dead", end="A", cause="pulled")
    make_cable(cast.shop)
    found = counted(cast)
    assert {name: found[name][:2] for name in ("first", "last", "between", "on no board")} == {
        "first": (1, 1),
        "last": (0, 0),
        "between": (1, 0),
        "on no board": (1, 0),
    }


def test_queries_do_not_grow_with_the_faults(cast: Cast) -> None:
    browser, cable = cast.browser("viewer"), make_cable(cast.shop)
    few = count_queries(browser, URL)
    for _ in range(5):
        report_fault(cable, on=DAY, by=cast.editor, symptom="dead")
    assert count_queries(browser, URL) == few


def test_another_shops_failures_do_not_count(cast: Cast) -> None:
    report_fault(make_cable(cast.shop), on=DAY, by=cast.editor, symptom="dead")
    assert cast.browser("stranger").get(URL).context["found"].failures == 0


def test_cable_failures_refuses_post(cast: Cast) -> None:
    assert cast.browser("owner").post(URL).status_code == 405
