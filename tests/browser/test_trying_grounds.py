"""Joins tried open on the grounds page, by hand and by keyboard, with scripts and without."""

import re

import pytest
from playwright.sync_api import Page, expect

from boardshop.boards.models import Board
from boardshop.crew.models import Person
from tests.board_factories import make_board
from tests.chromium import DESKTOP, PHONE, InBrowser
from tests.core.test_grounds_cures import worked_example
from tests.factories import make_person, make_shop

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def owner() -> Person:
    return make_person(make_shop(), "owner")


@pytest.fixture
def board(owner: Person) -> Board:
    plan = worked_example()
    names = ("sources", "amps", "computers", "links", "supplies", "feeds")
    parts = {name: getattr(plan, name) for name in names}
    return make_board(owner.memberships.get().shop, list(plan.pedals), **parts)


def head(page: Page) -> str:
    return page.locator("#loops-head").inner_text()


def test_ticking_counts_again_where_one_is(in_browser: InBrowser, owner: Person, board: Board) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/grounds")
        assert head(page) == "4 loops"
        box = page.get_by_label("W6 P4 to A2")
        box.scroll_into_view_if_needed()
        before = page.evaluate("scrollY")
        box.focus()
        page.keyboard.press("Space")
        expect(page.locator("#loops-head")).to_have_text("3 loops with W6 tried open")
        assert "without=W6" in page.url
        expect(box).to_be_focused()
        expect(box).to_be_checked()
        assert abs(page.evaluate("scrollY") - before) < 200
        page.get_by_label("A2 its protective earth").check()
        expect(page.get_by_role("alert")).to_contain_text("Stop: lifting the protective earth of A2")
        expect(page.locator("#loops-head")).to_have_text("3 loops with W6 tried open")
        page.get_by_role("link", name="Show the board as it stands").click()
        expect(page.locator("#loops-head")).to_have_text("4 loops")
        expect(page.get_by_label("W6 P4 to A2")).not_to_be_checked()

    in_browser(steps, person=owner)


@pytest.mark.parametrize("size", [DESKTOP, PHONE])
def test_the_same_without_scripts(
    in_browser: InBrowser, owner: Person, board: Board, size: tuple[int, int]
) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/grounds")
        page.get_by_label("W6 P4 to A2").check()
        page.get_by_role("button", name="Count again").click()
        assert head(page) == "3 loops with W6 tried open"
        page.get_by_role("link", name=re.compile("Try it on the drawing.*USB isolator")).click()
        assert head(page) == "3 loops with W7 tried open"
        page.get_by_role("link", name="Nothing open").click()
        assert head(page) == "4 loops"

    in_browser(steps, person=owner, scripts=False, size=size)
