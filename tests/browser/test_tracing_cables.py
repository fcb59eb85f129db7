"""A cable chosen on the drawing, and the walk along the signal: pressed, by key or finger, scripts or not."""

import pytest
from playwright.sync_api import Page, expect

from boardshop.boards.models import Board
from tests.board_factories import make_board
from tests.chromium import InBrowser
from tests.core import builders as b
from tests.factories import Cast, make_cast

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def cast(transactional_db: None) -> Cast:
    return make_cast()


@pytest.fixture
def board(cast: Cast) -> Board:
    stands = [b.pedal(f"P{n}", at=(620 - 140 * n, 60)) for n in range(1, 4)]
    return make_board(cast.shop, stands, links=b.chain("G1", "P1", "P2", "P3", "A1"))


def head(page: Page, ref: str) -> None:
    expect(page.locator("#chosen-head")).to_contain_text(ref)


@pytest.mark.parametrize("scripts", [True, False])
def test_a_cable_is_pressed_and_the_signal_walked(
    cast: Cast, board: Board, in_browser: InBrowser, scripts: bool
) -> None:
    def steps(page: Page) -> str:
        page.goto(f"/boards/{board.code}/cables")
        page.locator('#cables-drawing a.d-mark[href*="run=W2"]').first.press("Enter")
        head(page, "W2")
        expect(page.locator("#cables-drawing .d-run.is-selected")).to_have_count(1)
        page.locator('#chosen a[rel="next"]').press("Enter")
        head(page, "W3")
        page.locator('#chosen a[rel="prev"]').click()
        head(page, "W2")
        return page.url

    assert "run=W2" in in_browser(steps, person=cast.viewer, scripts=scripts)


def test_a_pedal_on_the_drawing_chooses_its_cables(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/cables")
        page.locator('#cables-drawing a.d-pedal[href*="run=P2"]').click()
        head(page, "Cables of")
        expect(page.locator("#cables-drawing .d-run.is-selected")).to_have_count(2)

    in_browser(steps, person=cast.viewer)


def test_a_run_is_wide_enough_for_a_finger(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> list[str]:
        page.goto(f"/boards/{board.code}/cables")
        session = page.context.new_cdp_session(page)
        session.send("Emulation.setTouchEmulationEnabled", {"enabled": True, "maxTouchPoints": 5})
        widths = page.locator(".d-way-hit")
        return widths.evaluate_all("all => all.map(one => getComputedStyle(one).strokeWidth)")

    assert set(in_browser(steps, person=cast.viewer)) == {"44px"}
