"""Photos on the pages: sent and shown with and without scripts, at any size, accessible."""

from typing import Any

import pytest
from django.urls import reverse
from playwright.sync_api import Page

from tests.board_factories import make_board
from tests.chromium import DESKTOP, PHONE, InBrowser, axe_violations, overflows_sideways
from tests.factories import make_cast
from tests.files.pictures import document, picture

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

SENT = [
    {"name": "knobs.jpg", "mimeType": "image/jpeg", "buffer": picture((800, 600))},
    {"name": f"{'a-long-name' * 9}.pdf", "mimeType": "application/pdf", "buffer": document()},
    {"name": "words.jpg", "mimeType": "image/jpeg", "buffer": b"words"},
]


def send(page: Page, address: str) -> None:
    page.goto(address)
    page.get_by_text("Add photos or files").click()
    page.get_by_label("Photos or files").set_input_files(SENT)  # type: ignore[arg-type]
    page.get_by_role("button", name="Keep them").click()


@pytest.mark.parametrize("scripts", [True, False])
def test_photos_are_sent_in_one_go_and_seen(in_browser: InBrowser, scripts: bool) -> None:
    cast = make_cast()
    address = reverse("change-pedal", args=[make_board(cast.shop).code, "P1"])

    def steps(page: Page) -> tuple[str, int, int]:
        send(page, address)
        image = page.locator("#files img")
        image.scroll_into_view_if_needed()
        return page.locator("#notices").inner_text(), image.count(), page.locator("#files li").count()

    said, images, rows = in_browser(steps, person=cast.editor, scripts=scripts)
    assert (images, rows) == (1, 2)
    assert "knobs.jpg is kept." in said
    assert "words.jpg is no picture" in said


@pytest.mark.parametrize("size", [DESKTOP, PHONE])
def test_pages_with_photos_fit_and_are_accessible(in_browser: InBrowser, size: Any) -> None:
    cast = make_cast()
    board = make_board(cast.shop)
    addresses = [reverse("board", args=[board.code]), reverse("change-pedal", args=[board.code, "P1"])]

    def steps(page: Page) -> list[Any]:
        found: list[Any] = []
        for address in addresses:
            send(page, address)
            page.evaluate("document.querySelectorAll('#files details').forEach(one => { one.open = true })")
            found += [*axe_violations(page), *([address] if overflows_sideways(page) else [])]
        page.locator("#files a", has_text="Change").first.click()
        return found + axe_violations(page) + (["change-file"] if overflows_sideways(page) else [])

    assert in_browser(steps, person=cast.editor, size=size) == []
