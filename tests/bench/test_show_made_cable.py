import pytest
from django.urls import reverse

from boardshop.bench.services.cable_tests import report_fault, scrap_cable
from tests.board_factories import make_board
from tests.cable_factories import BAD, DAY, GOOD, count_queries, make_cable, make_tested, put, read
from tests.factories import Cast

pytestmark = pytest.mark.django_db


def url(cable: object) -> str:
    return reverse("show-made-cable", args=[str(cable)])


def test_facts_place_and_history_stand_on_one_page(cast: Cast) -> None:
    board = make_board(cast.shop, 2)
    cable = make_tested(cast.shop, cast.editor, reel="R1", made_by="Jo")
    put(cable, board, "W2", cast.editor)
    report_fault(cable, on=DAY, by=cast.editor, symptom="crackles", end="B", cause="jack was guilty")
    text = cast.browser("viewer").get(url(cable)).text
    for words in (
        "W2 of board Nightjar main",
        "mm to spare",
        "passed",
        "reel R1",
        "Jo",
        "crackles",
        "jack was guilty",
    ):
        assert words in text
    assert "below 0.37 ohm" in text  # 0.3 + 0.1 per m of 700 mm
    assert "W2 of Nightjar main" in text


def test_limits_stand_there_before_anything_is_read(cast: Cast) -> None:
    text = cast.browser("viewer").get(url(make_cable(cast.shop))).text
    assert "Nobody has tested it yet" in text
    assert "above 20 Mohm, or over range" in text


def test_a_test_keeps_the_limits_of_its_day(cast: Cast) -> None:
    cable = make_tested(cast.shop, cast.editor)
    type(cable).objects.filter(pk=cable.pk).update(length=1700)
    assert "below 0.37 ohm" in cast.browser("viewer").get(url(cable)).text


def test_what_can_be_done_depends_on_where_it_is_and_who_looks(cast: Cast) -> None:
    cable = make_cable(cast.shop)
    names = ("test-cable", "report-cable-fault", "put-cable-on-board", "scrap-cable", "unscrap-cable")

    def offered(who: str = "editor") -> list[str]:
        text = cast.browser(who).get(url(cable)).text
        return [name for name in names if reverse(name, args=[cable.code]) in text]

    assert offered("viewer") == []
    assert offered() == list(names[:4])
    read(cable, BAD, cast.editor)
    assert "put-cable-on-board" not in offered()
    read(cable, GOOD, cast.editor)
    scrap_cable(cable, on=DAY, by=cast.editor, why="core broken")
    assert offered() == ["unscrap-cable"]
    assert "core broken" in cast.browser("viewer").get(url(cable)).text


def test_queries_do_not_grow_with_its_history(cast: Cast) -> None:
    board, browser = make_board(cast.shop, 2), cast.browser("viewer")
    cable = make_tested(cast.shop, cast.editor)
    put(cable, board, "W2", cast.editor)
    few = count_queries(browser, url(cable))
    for _ in range(4):
        read(cable, GOOD, cast.editor)
        report_fault(cable, on=DAY, by=cast.editor, symptom="crackles", cause="jack was guilty")
    assert count_queries(browser, url(cable)) == few


def test_small_letters_find_it_too(cast: Cast) -> None:
    cable = make_cable(cast.shop)
    assert cast.browser("viewer").get(url(cable.code.lower())).status_code == 200


def test_a_stranger_gets_404(cast: Cast) -> None:
    assert cast.browser("stranger").get(url(make_cable(cast.shop))).status_code == 404


def test_show_made_cable_refuses_post(cast: Cast) -> None:
    assert cast.browser("owner").post(url(make_cable(cast.shop))).status_code == 405
