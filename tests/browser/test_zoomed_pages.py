"""Enlarged pages need no sideways scrolling: WCAG 2.2, 1.4.10 Reflow, asks for it down to 320 CSS px."""

from dataclasses import replace
from typing import Any

import pytest
from django.urls import reverse
from playwright.sync_api import Page

from boardshop.boards.plan.write import store_plan
from boardshop.core.plan import Accepted
from tests.board_factories import make_board
from tests.chromium import InBrowser, overflows_sideways
from tests.core import builders as b
from tests.factories import make_cast

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

WIDTHS = (640, 320)
"""A window of 1280 px at 200 % and at 400 %."""


def wide_at(page: Page, address: str) -> list[int]:
    found = []
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 740})
        page.goto(address)
        if overflows_sideways(page):
            found.append(width)
    return found


@pytest.mark.parametrize("scripts", [True, False])
def test_the_new_board_page_and_the_order_page_fit(in_browser: InBrowser, scripts: bool) -> None:
    cast = make_cast()
    kinds = ("reverb", "tuner", "delay", "compressor", "looper", "wah")
    pedals = [b.pedal(f"P{n}", kind, name=f"A long name {kind}") for n, kind in enumerate(kinds, 1)]
    board = make_board(
        cast.shop, pedals, links=b.chain("G1", "P1", "P2", "P3") + b.chain("P4", "P5", "A1", first=7)
    )
    addresses = [reverse("new-board"), reverse("order", args=[board.code])]

    def steps(page: Page) -> dict[str, list[int]]:
        return {address: wide_at(page, address) for address in addresses}

    found: Any = in_browser(steps, person=cast.editor, scripts=scripts)
    assert found == {address: [] for address in addresses}


def test_a_word_without_a_break_in_a_finding_does_not_widen_the_page(in_browser: InBrowser) -> None:
    cast = make_cast()
    kept = Accepted(rule="P30", subjects=("P1.DC",), why="m" * 70)
    plan = replace(b.wired_board(b.pedal("P1", name="M" * 70)), accepted=(kept,))
    address = reverse("power", args=[store_plan(cast.shop, plan, name="Main").code])

    def steps(page: Page) -> tuple[bool, bool]:
        page.set_viewport_size({"width": WIDTHS[-1], "height": 740})
        page.goto(address)
        page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true })")
        return page.locator(".finding-kept").first.is_visible(), overflows_sideways(page)

    assert in_browser(steps, person=cast.viewer) == (True, False)


def test_a_long_name_stays_inside_its_outlet(in_browser: InBrowser) -> None:
    cast = make_cast()
    plan = b.wired_board(
        b.pedal("P1", name="M" * 70), supplies=[b.supply("S1")], feeds=[b.feed("S1.1", "P1.DC")]
    )
    board = store_plan(cast.shop, plan, name="Main")

    def steps(page: Page) -> tuple[int, int]:
        page.set_viewport_size({"width": 1280, "height": 740})
        page.goto(reverse("power", args=[board.code]))
        over = "box => box.scrollWidth - box.clientWidth"
        card: int = page.locator("#outlet-S1-1").evaluate(over)
        page.goto(reverse("board", args=[board.code]))
        table: int = page.locator(".scroll-box:has(.outlets)").evaluate(over)
        return card, table

    assert in_browser(steps, person=cast.viewer) == (0, 0)
