"""Enlarged pages need no sideways scrolling: WCAG 2.2, 1.4.10 Reflow, asks for it down to 320 CSS px."""

from typing import Any

import pytest
from django.urls import reverse
from playwright.sync_api import Page

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
