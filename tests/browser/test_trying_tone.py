"""Other cables, lengths and buffers tried on the tone page, with scripts and without."""

import pytest
from playwright.sync_api import Page, expect

from boardshop.boards.models import Board
from boardshop.crew.models import Person
from tests.board_factories import make_board
from tests.chromium import DESKTOP, PHONE, InBrowser
from tests.core import builders as b
from tests.factories import make_person, make_shop

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def owner() -> Person:
    return make_person(make_shop(), "owner")


@pytest.fixture
def board(owner: Person) -> Board:
    """G1, three true-bypass pedals and 3 m between all: 1260 pF, 310 behind a buffer at the entry."""
    links = b.chain("G1", "P1", "P2", "P3", "A1", length=3000)
    pedals = [b.pedal(f"P{n}", name=f"Pedal {n}") for n in range(1, 4)]
    return make_board(owner.memberships.get().shop, pedals, links=links)


def test_a_tick_is_tried_where_one_is_and_stands_in_the_address(
    in_browser: InBrowser, owner: Person, board: Board
) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/tone")
        box = page.get_by_label("at the entry, behind the lead of G1")
        box.scroll_into_view_if_needed()
        box.focus()
        page.keyboard.press("Space")
        outcome = page.locator("#tried")
        expect(outcome).to_contain_text("a buffer behind G1")
        expect(outcome.get_by_role("row", name="All bypassed")).to_contain_text("310 pF")
        assert "buffer=G1" in page.url
        expect(box).to_be_focused()
        page.get_by_text("4 cables", exact=True).click()
        length = page.get_by_label("Length of W1")
        length.fill("1000")
        length.press("Tab")
        expect(outcome.get_by_role("row", name="All bypassed")).to_contain_text("110 pF")
        length.fill("long")
        length.press("Tab")
        expect(page.get_by_label("Length of W1")).to_have_attribute("aria-invalid", "true")
        expect(page.get_by_label("Length of W1")).to_have_value("long")
        expect(outcome).to_have_count(0)
        page.get_by_label("Length of W1").fill("1000")
        page.get_by_label("Length of W1").press("Tab")
        page.get_by_role("link", name="A link to this, to be shared").click()
        expect(outcome).to_contain_text("W1 1000 mm long; a buffer behind G1")
        assert page.url.count("=") == 2

    in_browser(steps, person=owner, expect_errors=True)


@pytest.mark.parametrize("size", [DESKTOP, PHONE])
def test_the_same_without_scripts(
    in_browser: InBrowser, owner: Person, board: Board, size: tuple[int, int]
) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/tone")
        page.get_by_label("behind Pedal 1 (P1)").check()
        page.get_by_label("Its input's capacitance").fill("50")
        page.get_by_role("button", name="Try it").click()
        outcome = page.locator("#tried")
        expect(outcome).to_contain_text("a buffer behind P1")
        expect(outcome).to_contain_text("370 pF")
        expect(page.get_by_label("behind Pedal 1 (P1)")).to_be_checked()
        page.get_by_role("link", name="Clear all that is tried").click()
        expect(outcome).to_have_count(0)

    in_browser(steps, person=owner, scripts=False, size=size)
