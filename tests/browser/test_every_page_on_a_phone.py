"""Every page in every theme on a phone, and a page spoiled on purpose."""

import pytest
from django.urls import reverse
from playwright.sync_api import Page

from boardshop.crew.setup import issue_setup_token
from tests.browser.every_page import axe_faults, look, look_at_every_page, small_targets
from tests.chromium import AXE, PHONE, InBrowser, overflows_sideways

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


def test_every_page(in_browser: InBrowser) -> None:
    look_at_every_page(in_browser, PHONE)


def test_the_first_start(in_browser: InBrowser) -> None:
    """The one page that is there only while nobody has an account."""
    path = reverse("set-up", args=[issue_setup_token()])
    assert in_browser(lambda page: look(page, path, is_phone=True), size=PHONE) == []


def test_the_walk_sees_what_is_wrong(in_browser: InBrowser) -> None:
    """A page spoiled on purpose, so that a walk that finds nothing means something."""

    def steps(page: Page) -> list[str]:
        page.goto("/sign-in")
        page.evaluate(
            """() => { document.querySelector('h1').insertAdjacentHTML('afterend',
                '<img src="/static/icon.svg"><input size=1 class=low><pre>' + 'wide '.repeat(200) + '</pre>');
                document.querySelector('.low').type = 'range'; }"""
        )
        page.evaluate(AXE.read_text(encoding="utf-8"))
        return [*axe_faults(page), *["wide"] * overflows_sideways(page), *small_targets(page)]

    said = " ".join(in_browser(steps, size=PHONE))
    assert "image-alt" in said
    assert "label" in said
    assert "wide" in said
    assert "px: <input" in said
