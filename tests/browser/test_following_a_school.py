"""Following a school, or not: all moves at once, undone, the other school, a finding kept on purpose."""

import re

import pytest
from playwright.sync_api import Page, expect

from boardshop.boards.models import Board
from boardshop.core.order import signal_paths
from tests.board_factories import make_board, plan_of
from tests.chromium import InBrowser
from tests.core import builders as b
from tests.factories import Cast

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
KINDS = ("reverb", "delay", "overdrive")
WHY = "A wall of sound in the last song."


@pytest.fixture
def board(cast: Cast) -> Board:
    return make_board(cast.shop, [b.pedal(f"P{n}", kind) for n, kind in enumerate(KINDS, 1)])


def order_of(board: Board) -> str:
    (path,) = signal_paths(plan_of(board))
    return " ".join(path.refs)


@pytest.mark.parametrize("scripts", [True, False])
def test_all_moves_are_made_and_undone(
    cast: Cast, board: Board, in_browser: InBrowser, scripts: bool
) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/order")
        page.get_by_role("button", name="Make all 2 moves").first.click()
        expect(page.locator("#school-common > summary")).to_contain_text("stands as this school has it")
        page.get_by_role("button", name=re.compile("^Undo")).first.click()
        expect(page.locator("#school-common > summary")).to_contain_text("2 moves, 4 cables re-made")

    in_browser(steps, person=cast.editor, scripts=scripts)
    assert order_of(board) == "P1 P2 P3"


def test_the_board_is_judged_by_the_other_school(cast: Cast, in_browser: InBrowser) -> None:
    """Wah into fuzz: one move in the common order, none in the other, which is then the board's own."""
    board = make_board(cast.shop, [b.pedal("P1", "wah"), b.pedal("P2", "fuzz")])

    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/order")
        expect(page.locator("#school-common > summary")).to_contain_text("1 move")
        page.locator("#school-dynamics-first > summary").click()
        page.get_by_role("button", name="Judge this board by the dynamics-first order").click()
        expect(page.locator("#school-dynamics-first > summary")).to_contain_text("the board is judged by it")
        expect(page.get_by_text("0 moves from the dynamics-first order")).to_be_visible()

    in_browser(steps, person=cast.editor)
    assert (order_of(board), plan_of(board).rules.school) == ("P1 P2", "dynamics-first")


def test_a_finding_is_kept_where_it_stands_and_taken_back(
    cast: Cast, board: Board, in_browser: InBrowser
) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/order")
        between = page.locator(".between")
        found = between.locator("li.finding", has_text="R19")
        found.get_by_text("Keep on purpose").click()
        found.get_by_label("Why it is kept").fill(WHY)
        found.get_by_role("button", name="Keep", exact=True).click()
        kept = between.locator("details", has_text="1 kept on purpose")
        expect(kept).to_contain_text("R19 P2 P3")
        kept.locator("summary").click()
        expect(kept.locator("li")).to_contain_text(f"Kept on purpose: {WHY}")
        page.get_by_role("button", name=re.compile("Take back")).click()
        expect(between.locator("details", has_text="kept on purpose")).to_have_count(0)

    in_browser(steps, person=cast.editor)
    assert plan_of(board).accepted == ()
