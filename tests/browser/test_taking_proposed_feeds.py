"""Proposed feeds in a browser: one change, the rest, undone; a supply found and put on the board."""

import re

import pytest
from playwright.sync_api import Page, expect

from boardshop.boards.models import Board
from tests.board_factories import feeds_of, make_board
from tests.chromium import InBrowser
from tests.core import builders as b
from tests.core.feeding_cases import drawing
from tests.factories import Cast

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
PHONE = {"width": 390, "height": 844}


@pytest.fixture
def board(cast: Cast) -> Board:
    """P1 takes 180 % of S1.1, P2 little of the larger S1.2, and nothing feeds P3."""
    pedals = [
        b.draws(drawing(180, "P1"), share="never"),
        b.draws(drawing(4, "P2"), share="poor"),
        b.draws(drawing(30, "P3"), share="never"),
    ]
    supply = b.supply("S1", b.outlet("1"), b.outlet("2", max_ma=300), b.outlet("3"), model="Ridge 3")
    feeds = [b.feed("S1.1", "P1.DC", 9000), b.feed("S1.2", "P2.DC", 9000)]
    return make_board(cast.shop, pedals, supplies=(supply,), feeds=feeds)


@pytest.mark.parametrize("scripts", [True, False])
def test_one_change_then_the_rest_then_undone(
    cast: Cast, board: Board, in_browser: InBrowser, scripts: bool
) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/power/proposed")
        expect(page.locator(".moves > li")).to_have_count(3)
        page.get_by_role("button", name=re.compile(r"Plug it over\s*: P3\.DC")).click()
        expect(page.locator(".moves > li")).to_have_count(2)
        page.get_by_role("button", name="Make all 2 changes").click()
        expect(page.get_by_text("nothing to change")).to_be_visible()
        page.get_by_role("button", name=re.compile("^Undo")).first.click()
        expect(page.locator(".moves > li")).to_have_count(2)

    in_browser(steps, person=cast.editor, scripts=scripts)
    assert feeds_of(board) == {"P1.DC": "S1.1", "P2.DC": "S1.2", "P3.DC": "S1.3"}


def test_by_keyboard_alone(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/power/proposed")
        page.get_by_role("button", name="Make all 3 changes").focus()
        page.keyboard.press("Enter")
        expect(page.get_by_text("nothing to change")).to_be_visible()

    in_browser(steps, person=cast.editor)
    assert feeds_of(board) == {"P1.DC": "S1.2", "P2.DC": "S1.1", "P3.DC": "S1.3"}


def test_a_supply_is_searched_for_and_put_on_the_board(
    cast: Cast, board: Board, in_browser: InBrowser
) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/power")
        page.get_by_role("link", name="Which supply").click()
        page.get_by_label("Mains of the tour").fill("230 V 50 Hz; 120 V 60 Hz")
        page.get_by_role("button", name="Search").click()
        expect(page.get_by_text("takes 230 V 50 Hz; 120 V 60 Hz by its plate").first).to_be_visible()
        page.get_by_role("button", name=re.compile(r"Put it on the board\s*: Ridge 3")).first.click()
        expect(page.get_by_role("heading", name="S2 Ridge 3")).to_be_visible()

    in_browser(steps, person=cast.editor)


def test_on_a_phone_nothing_scrolls_sideways(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        page.set_viewport_size(PHONE)
        for address in ("proposed", "which-supply"):
            page.goto(f"/boards/{board.code}/power/{address}")
            assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]

    in_browser(steps, person=cast.editor)
