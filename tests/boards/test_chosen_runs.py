"""A cable chosen on the cables page: what is told of it, and the way from one to the next."""

import re
from dataclasses import replace
from urllib.parse import quote

import pytest
from django.urls import reverse

from boardshop.boards.models import Board
from boardshop.core.cables import list_runs
from boardshop.core.plan import Jack, Keepout, Rail
from tests.board_factories import make_board, plan_of
from tests.core import builders as b
from tests.factories import Cast

pytestmark = pytest.mark.django_db


def stands() -> list:
    return [b.pedal(f"P{n}", at=(620 - 140 * n, 60)) for n in range(1, 4)]


@pytest.fixture
def board(cast: Cast) -> Board:
    return make_board(cast.shop, stands(), links=b.chain("G1", "P1", "P2", "P3", "A1"))


def text_of(cast: Cast, board: Board, run: str = "", part: bool = False) -> str:
    headers = {"HX-Request": "true"} if part else {}
    address = reverse("cables", args=[board.code]) + (f"?run={quote(run)}" if run else "")
    answer = cast.browser("viewer").get(address, headers=headers)
    assert answer.status_code == 200
    return answer.text


def chosen(text: str) -> str:
    (panel,) = re.findall(r'<section class="panel chosen-run" id="chosen".*?</section>', text, re.DOTALL)
    return panel


def refs(text: str, rel: str) -> list[str]:
    return re.findall(rf'rel="{rel}" href="[^"]*\?run=(\w+)#chosen"', text)


def test_a_chosen_cable_is_told_with_the_cores_numbers(cast: Cast, board: Board) -> None:
    run = next(run for run in list_runs(plan_of(board)) if run.ref == "W2")
    panel = chosen(text_of(cast, board, "W2"))
    for told in (f"{run.path_mm} mm", f"{run.cut_mm} mm", f"{run.pf} pF", "P1.OUT", "P2.IN"):
        assert told in panel


def test_it_is_brought_out_on_the_drawing_with_both_its_plugs(cast: Cast, board: Board) -> None:
    text = text_of(cast, board, "w2")
    assert text.count('class="d-run is-selected"') == 1
    assert 'data-plug="W2 P1.OUT"' in text
    assert 'data-plug="W2 P2.IN"' in text
    assert "is-selected" not in chosen(text_of(cast, board))


def test_one_walks_from_the_instrument_to_the_amp_and_back(cast: Cast, board: Board) -> None:
    walked, at = [], ["W1"]
    while at:
        walked += at
        at = refs(chosen(text_of(cast, board, at[0])), "next")
    assert walked == ["W1", "W2", "W3", "W4"]
    back, at = [], ["W4"]
    while at:
        back += at
        at = refs(chosen(text_of(cast, board, at[0])), "prev")
    assert back == walked[::-1]


def test_where_the_signal_splits_every_next_cable_is_offered(cast: Cast) -> None:
    two = (*b.signal_jacks(), Jack("OUT2", "out", "left", 20))
    pedals = [replace(stands()[0], jacks=two), *stands()[1:]]
    links = (*b.chain("G1", "P1", "P2"), b.link("W3", "P1.OUT2", "P3.IN"))
    board = make_board(cast.shop, pedals, links=links)
    panel = chosen(text_of(cast, board, "W1"))
    assert sorted(refs(panel, "next")) == ["W2", "W3"]


def test_a_pedal_chooses_all_its_cables(cast: Cast, board: Board) -> None:
    text = text_of(cast, board, "P2")
    assert re.findall(r"\?run=(W\d)#chosen", chosen(text)) == ["W2", "W3"]
    assert text.count('class="d-run is-selected"') == 2
    jack = chosen(text_of(cast, board, "P2.IN"))
    assert re.findall(r"\?run=(W\d)#chosen", jack) == ["W2"]


def test_every_cable_and_pedal_of_the_drawing_is_a_link(cast: Cast, board: Board) -> None:
    text = text_of(cast, board)
    for ref in ("W1", "W2", "W3", "W4", "P1", "P2", "P3"):
        assert f'href="?run={ref}#chosen"' in text
    assert text.count('class="d-way-link"') == 4


def test_what_is_not_on_the_board_is_said_and_not_refused(cast: Cast, board: Board) -> None:
    assert "There is no W99 on this board" in chosen(text_of(cast, board, "W99"))
    assert "There is no &lt;b&gt; on this board" in chosen(text_of(cast, board, "<b>"))


def test_the_part_for_htmx_is_that_of_the_page(cast: Cast, board: Board) -> None:
    part, page = text_of(cast, board, "W2", part=True), text_of(cast, board, "W2")
    assert "<html" not in part
    assert chosen(part) == chosen(page)


def test_a_blocked_cable_names_what_blocks_it_and_the_ways_out(cast: Cast) -> None:
    wall = b.frame(keepouts=(Keepout(450, -5, 10, 400, "hinge"),))
    board = make_board(cast.shop, stands(), links=b.chain("G1", "P1", "P2", "P3", "A1"), frame=wall)
    text = text_of(cast, board, "W2")
    panel = chosen(text)
    assert "keep-out 1 (hinge)" in panel
    assert "Lead it under the frame instead" in panel
    assert 'data-blocks="W2"' in text
    assert re.search(r'class="d-mark d-blocked" href="\?run=W2#chosen"', text)


def test_a_cable_under_the_frame_says_where_it_goes_through(cast: Cast) -> None:
    rails = (Rail(0, 90), Rail(110, 180), Rail(200, 320))
    frame = b.frame(surface="slotted", rails=rails)
    links = tuple(replace(link, route="under") for link in b.chain("P1", "P2", "P3"))
    board = make_board(cast.shop, stands(), links=links, frame=frame)
    assert "through the top at x" in chosen(text_of(cast, board, "W1"))
    assert text_of(cast, board).count('class="d-drop"') == 4
    bare = make_board(cast.shop, stands(), links=links, frame=b.frame(surface="slotted"), name="Bare")
    assert "unknown, since the rails are not recorded" in chosen(text_of(cast, bare, "W1"))


def test_a_lead_of_given_length_has_no_way_to_tell(cast: Cast) -> None:
    board = make_board(cast.shop, stands(), links=b.chain("G1", "P1", "P2", length=3000))
    panel = chosen(text_of(cast, board, "W1"))
    assert "3000 mm" in panel
    assert "Along the bends" not in panel


def test_its_findings_stand_beside_it(cast: Cast) -> None:
    links = [replace(link, made=20) for link in b.chain("P1", "P2")]
    board = make_board(cast.shop, stands(), links=tuple(links))
    assert 'href="/cable-rules#C03"' in chosen(text_of(cast, board, "W1"))


def test_an_edit_keeps_what_is_chosen(cast: Cast, board: Board) -> None:
    editor = cast.browser("editor")
    page = editor.get(reverse("cables", args=[board.code]) + "?run=W2")
    assert page.text.count('name="open" value="W2"') == 4


def test_the_page_asks_no_more_of_the_database_for_more_cables(
    cast: Cast, board: Board, django_assert_num_queries: object
) -> None:
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    def queries(of: Board, run: str) -> int:
        browser = cast.browser("viewer")
        with CaptureQueriesContext(
            connection,
        ) as caught:
            assert browser.get(reverse("cables", args=[of.code]) + f"?run={run}").status_code == 200
        return len(caught)

    small = make_board(cast.shop, stands()[:1], links=b.chain("G1", "P1"), name="Small")
    assert queries(small, "W1") == queries(board, "W2")
