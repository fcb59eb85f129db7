from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from boardshop.bench.services.cable_tests import scrap_cable
from tests.board_factories import make_board
from tests.cable_factories import BAD, DAY, GOOD, count_queries, make_cable, make_tested, put, read
from tests.factories import Cast, make_cable_type, make_plug_type

pytestmark = pytest.mark.django_db
URL = reverse("made-cables")


def shown(cast: Cast, **query: str) -> list[str]:
    page = cast.browser("viewer").get(URL, query).context["page"]
    return [row.cable.code for row in page]


def test_each_is_listed_with_where_it_is_and_how_its_test_went(cast: Cast) -> None:
    board = make_board(cast.shop, 2)
    on, spare = make_tested(cast.shop, cast.editor), make_cable(cast.shop, 450, where="case 2")
    put(on, board, "W2", cast.editor)
    text = cast.browser("viewer").get(URL).text
    for words in (
        on.code,
        "W2 of board Nightjar main",
        "passed",
        spare.code,
        "spare, case 2",
        "450 mm",
        "not tested",
    ):
        assert words in text


def test_one_filter_for_each_question(cast: Cast) -> None:
    board = make_board(cast.shop, 2)
    on, spare, failed = (make_cable(cast.shop) for _ in range(3))
    gone = make_cable(cast.shop, where="case 9")
    bench = make_cable(cast.shop, place="bench", reel="R7")
    put(on, board, "W2", cast.editor)
    read(spare, GOOD, cast.editor, on=timezone.localdate())
    read(failed, BAD, cast.editor)
    scrap_cable(gone, on=DAY, by=cast.editor, why="core broken")
    assert set(shown(cast)) == {one.code for one in (on, spare, failed, bench)}
    assert shown(cast, place="board") == [on.code]
    assert shown(cast, place="spare") == [spare.code]
    assert shown(cast, place="bench") == [bench.code, failed.code]
    assert shown(cast, place="scrap") == [gone.code]
    assert shown(cast, verdict="failed") == [failed.code]
    assert set(shown(cast, verdict="none")) == {on.code, bench.code}
    assert set(shown(cast, due="due")) == {on.code, failed.code, bench.code}
    assert shown(cast, find="r7") == [bench.code]
    assert shown(cast, find=spare.code.lower()) == [spare.code]
    make_cable_type(cast.shop, name="Other 90")
    assert shown(cast, type="Other 90") == []
    assert set(shown(cast, place="nonsense")) == set(shown(cast))


def test_due_counts_from_the_last_test(cast: Cast) -> None:
    today = timezone.localdate()
    late, early = make_cable(cast.shop), make_cable(cast.shop)
    read(late, GOOD, cast.editor, on=today - timedelta(days=190))
    read(early, GOOD, cast.editor, on=today - timedelta(days=60))
    assert shown(cast, due="due") == [late.code]


def test_queries_do_not_grow_with_the_register(cast: Cast) -> None:
    board, browser = make_board(cast.shop, 9), cast.browser("viewer")
    put(make_tested(cast.shop, cast.editor), board, "W2", cast.editor)
    few = count_queries(browser, URL)
    for number in range(3, 9):
        put(make_tested(cast.shop, cast.editor), board, f"W{number}", cast.editor)
    assert count_queries(browser, URL) == few


def test_htmx_gets_the_list_alone(cast: Cast) -> None:
    make_cable(cast.shop)
    part = cast.browser("viewer").get(URL, headers={"HX-Request": "true"}).text
    assert part.strip().startswith('<section class="panel" id="found"')


def test_another_shops_cables_are_not_listed(cast: Cast) -> None:
    make_plug_type(cast.shop)
    cable = make_cable(cast.shop)
    assert cable.code not in cast.browser("stranger").get(URL).text


def test_only_an_editor_is_offered_to_add_one(cast: Cast) -> None:
    add = reverse("add-made-cable")
    assert [add in cast.browser(who).get(URL).text for who in ("editor", "viewer")] == [True, False]


def test_made_cables_refuses_post(cast: Cast) -> None:
    assert cast.browser("owner").post(URL).status_code == 405
