"""The sheet of the first power-on, read back from the PDF."""

import pytest
from django.urls import reverse

from boardshop.boards.models import Board
from boardshop.boards.pages.first_power import say_draws, say_expected, say_stands
from boardshop.boards.plan.read import load_plan
from boardshop.boards.plan.write import store_plan
from boardshop.core.power.first_power import list_power_steps
from boardshop.ops.demo.boards import TALLOW_RIGHT
from boardshop.ops.demo.build import build
from tests.board_factories import make_board
from tests.boards.readings import meter
from tests.core import builders as b
from tests.core.feeding_cases import selectable
from tests.factories import Cast
from tests.papers.printed import Printed, beyond_margin, read_pdf

pytestmark = pytest.mark.django_db


def url(board: Board) -> str:
    return reverse("first-power-sheet", args=[board.code])


def printed(cast: Cast, board: Board) -> Printed:
    answer = cast.browser("viewer").get(url(board))
    assert answer["Content-Type"] == "application/pdf"
    return read_pdf(answer.content)


def closed_up(text: str) -> str:
    """Without the breaks that a narrow column makes."""
    return text.replace(" ", "").replace("\u00ad", "")


def test_every_plug_stands_on_it_in_the_words_of_the_page(cast: Cast) -> None:
    board = store_plan(cast.shop, build(TALLOW_RIGHT), name="Tallow right")
    text = closed_up(printed(cast, board).text)
    steps = list_power_steps(load_plan(board))
    assert len(steps) > 5
    for step in steps:
        for words in (step.end, say_expected(step), say_stands(step), say_draws(step)):
            assert closed_up(words) in text, words


def test_a_plug_that_was_metered_wrong_says_so(cast: Cast) -> None:
    board = make_board(cast.shop)
    meter(board, cast.editor, mv=18000)
    assert closed_up("Metered: do not plug.") in closed_up(printed(cast, board).text)


def test_the_foot_says_board_state_day_and_sheet(cast: Cast) -> None:
    board = make_board(cast.shop)
    text = printed(cast, board).text
    assert f"Nightjar main · {board.code} · working copy, edit 0, printed 20" in text
    assert "sheet 1 of" in text


def test_it_leaves_lines_for_the_pen(cast: Cast) -> None:
    text = printed(cast, make_board(cast.shop)).text
    for words in ("Volts read", "Polarity read", "neg / pos / AC", "mA read", "Plugged by", "Metered by"):
        assert words in text


def test_the_cautions_and_the_preparation_come_first(cast: Cast) -> None:
    supplies = (b.supply("S1", selectable("1")),)
    board = make_board(cast.shop, supplies=supplies, feeds=(b.feed("S1.1", "P1.DC", 18_000),))
    text = printed(cast, board).text
    first = text.index("Volts read")
    for words in (
        "under the local code",
        "outer sleeve is live",
        "Every power plug pulled at its pedal",
        "90 to 264 V, 50/60 Hz, inlet C8",
        "Mains here, metered not recorded for this board",
        "photographed (P24) S1.1 18 V",
    ):
        assert -1 < text.find(words) < first, words


def test_what_would_destroy_a_pedal_is_barred_on_paper(cast: Cast) -> None:
    supplies = (b.supply("S1", b.outlet("1", polarity="centre-positive")),)
    text = printed(cast, make_board(cast.shop, supplies=supplies)).text
    assert "Do not plug: P05" in text
    assert "Cure these before anything is switched on: Damage P05" in text


def test_a_feed_without_faults_is_not_barred(cast: Cast) -> None:
    text = printed(cast, make_board(cast.shop)).text
    assert "Do not plug" not in text
    assert "declares nothing safe" in text


def test_a_board_without_a_supply_says_so(cast: Cast) -> None:
    text = printed(cast, make_board(cast.shop, supplies=(), feeds=())).text
    assert "No supply on this board yet." in text
    assert "Nothing feeds P1.DC, P2.DC yet" in text


@pytest.mark.parametrize(("paper", "size"), [("A4", (297.0, 210.0)), ("Letter", (279.4, 215.9))])
def test_it_lies_across_the_shops_paper_and_nothing_runs_off_it(
    cast: Cast, paper: str, size: tuple[float, float]
) -> None:
    cast.shop.paper = paper
    cast.shop.save()
    board = store_plan(cast.shop, build(TALLOW_RIGHT), name="Tallow right")
    data = cast.browser("viewer").get(url(board)).content
    assert set(read_pdf(data).sizes_mm) == {size}
    assert beyond_margin(data, 14) == ""


def test_a_revision_is_printed_as_it_was_released(cast: Cast) -> None:
    board = make_board(cast.shop)
    browser = cast.browser("owner")
    typed = {"edit": 0, "note": "first", "reason": "for the test"}
    assert browser.post(reverse("release-revision", args=[board.code]), typed).status_code in (302, 303)
    browser.post(reverse("feed-pedal", args=[board.code, "P1.DC"]), {"outlet": "S1.3@9000", "edit": 0})
    text = read_pdf(browser.get(f"{url(board)}?revision=1").content).text
    assert "revision 1, printed" in text
    assert "S1.1" in text
    assert "S1.3" not in text
    assert "S1.3" in read_pdf(browser.get(url(board)).content).text


def test_a_stranger_gets_404(cast: Cast) -> None:
    assert cast.browser("stranger").get(url(make_board(cast.shop))).status_code == 404


def test_first_power_sheet_only_reads(cast: Cast) -> None:
    assert cast.browser("owner").post(url(make_board(cast.shop))).status_code == 405
