"""Place it for me in a browser: asked for, watched, chosen, undone; stopped; on a frame of the catalogue."""

import re
import time
from dataclasses import replace
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from boardshop.boards.models import Board, LayoutSearch
from boardshop.boards.searching import running
from boardshop.boards.searching.stored import Answer, Answers, Cure
from boardshop.core.placing import Progress
from tests.board_factories import make_board, plan_of
from tests.boards.searches import PLACING, answered
from tests.browser.every_page import axe_faults, look
from tests.chromium import AXE, DESKTOP, PHONE, InBrowser
from tests.core import builders as b
from tests.factories import Cast, make_frame_model

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
STARTER = "tests.boards.searches.start_in_thread"
PATIENCE = 60_000
"""A machine that runs other tests too takes its time, ms."""


@pytest.fixture
def board(cast: Cast, settings: Any) -> Board:
    """P1 stands, P2 and P3 wait for a place."""
    settings.SEARCH_STARTER = STARTER
    return make_board(cast.shop, [b.pedal("P1", at=(20, 20)), b.pedal("P2"), b.pedal("P3")])


@pytest.mark.parametrize("scripts", [True, False])
def test_what_is_missing_is_placed_and_undone(
    cast: Cast, board: Board, in_browser: InBrowser, scripts: bool
) -> None:
    before = plan_of(board)

    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/layout/place")
        expect(page.get_by_label("Finish it: only pedals without a place")).to_be_checked()
        page.get_by_role("button", name="Start the search").click()
        wait_for_layouts(page, scripts=scripts)
        page.get_by_role("button", name=re.compile(r"Take this layout\s*: 1")).click()
        expect(page).to_have_url(re.compile(f"/boards/{board.code}/layout$"))

    def undo(page: Page) -> None:
        page.goto(f"/boards/{board.code}/layout")
        page.get_by_role("button", name="Undo", exact=True).click()
        expect(page.get_by_role("button", name="Redo", exact=True)).to_be_visible()

    in_browser(steps, person=cast.editor, scripts=scripts)
    taken = [pedal.place for pedal in plan_of(board).pedals]
    assert taken[0] == before.pedals[0].place
    assert None not in taken
    in_browser(undo, person=cast.editor, scripts=scripts)
    assert plan_of(board) == before


def wait_for_layouts(page: Page, *, scripts: bool) -> None:
    """With scripts the page comes by itself; without, "Look again" or the page's own renewal shows it."""
    layouts = page.get_by_role("heading", name="Layouts to choose from")
    if scripts:
        expect(layouts).to_be_visible(timeout=PATIENCE)
        return
    deadline = time.monotonic() + PATIENCE / 1000
    while not layouts.is_visible() and time.monotonic() < deadline:
        page.wait_for_timeout(300)
        page.goto(page.url)
    expect(layouts).to_be_visible()


def test_one_that_takes_long_is_watched_and_stopped(
    cast: Cast, board: Board, in_browser: InBrowser, monkeypatch: Any
) -> None:
    """Core's place is taken by something that searches until it is stopped."""

    def search_on(_task: object, watch: Any, _found: object) -> Answers:
        while watch(Progress(40, PLACING)):
            time.sleep(0.05)
        return Answers((Answer(PLACING),))

    monkeypatch.setattr(running, "find_answers", search_on)

    def steps(page: Page) -> list[str]:
        page.goto(f"/boards/{board.code}/layout/place")
        page.get_by_label("Place all pedals anew").check()
        page.get_by_role("button", name="Start the search").click()
        expect(page.get_by_text("40 %")).to_be_visible(timeout=PATIENCE)
        expect(page.get_by_text("score 1034, cable between plugs 250 mm")).to_be_visible()
        page.evaluate(AXE.read_text(encoding="utf-8"))
        faults = axe_faults(page)
        page.get_by_role("button", name="Stop, and show the best so far").click()
        expect(page.get_by_text("It was stopped by hand")).to_be_visible(timeout=PATIENCE)
        expect(page.get_by_role("heading", name="Layout 1")).to_be_visible()
        return faults

    assert in_browser(steps, person=cast.editor) == []
    assert LayoutSearch.objects.get().state == "stopped"


def test_a_frame_is_found_and_the_board_put_on_it(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    make_frame_model(cast.shop, name="Wide one", width=700, depth=400)

    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/layout/place")
        page.get_by_role("link", name="Which frame").click()
        page.get_by_role("button", name="Start the search").click()
        expect(page.get_by_role("heading", name="The smallest frames that hold it")).to_be_visible(
            timeout=PATIENCE
        )
        page.get_by_role("button", name=re.compile("Put it on this frame")).first.click()
        expect(page).to_have_url(re.compile("/layout$"))

    in_browser(steps, person=cast.editor)
    assert (plan_of(board).frame.width, plan_of(board).frame.depth) == (700, 400)


def test_what_was_changed_meanwhile_is_told_before_anything_is_taken(
    cast: Cast, board: Board, in_browser: InBrowser
) -> None:
    """Somebody else edits the board while the page of the answers stands open."""
    search = answered(board, PLACING)

    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/layout/searches/{search.pk}")
        other = page.context.new_page()
        other.goto(f"/boards/{board.code}/order")
        edit = other.locator("#edit-number").input_value()
        token = other.locator("[name=csrfmiddlewaretoken]").first.input_value()
        form = {"edit": edit, "csrfmiddlewaretoken": token, "x": "50", "y": "10", "turn": "0"}
        address = f"/boards/{board.code}/pedals/P1/place"
        assert page.request.post(address, form=form, headers={"Referer": other.url}).ok
        page.get_by_role("button", name=re.compile("Take this layout")).click()
        expect(page.get_by_role("button", name="Make my change again")).to_be_visible()
        expect(page.get_by_text("The board was changed since this search began.")).to_be_visible()
        page.get_by_role("button", name="Make my change again").click()
        expect(page).to_have_url(re.compile("/layout$"))

    in_browser(steps, person=cast.editor, expect_errors=True)
    assert plan_of(board).pedals[0].place == dict(PLACING.places)["P1"]


@pytest.mark.parametrize("size", [DESKTOP, PHONE])
def test_nothing_is_wrong_with_the_pages_in_any_theme(
    cast: Cast, board: Board, in_browser: InBrowser, size: tuple[int, int]
) -> None:
    make_frame_model(cast.shop)
    left = replace(PLACING, places=PLACING.places[:1], left_out=("P2",), why="not found in this time: P2.")
    cure = Cure("leave out", "P2", "Without P2 the others fit.", left)
    search = answered(board, PLACING, left, PLACING, cures=(cure,))
    ways = ("place", "which-frame", f"searches/{search.pk}")

    def steps(page: Page) -> dict[str, list[str]]:
        return {way: look(page, f"/boards/{board.code}/layout/{way}", size == PHONE) for way in ways}

    assert in_browser(steps, person=cast.editor, size=size) == {way: [] for way in ways}
