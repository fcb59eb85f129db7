"""Passkeys made and used by a real browser: the virtual authenticator of Web Authentication, section 11."""

import time
from concurrent.futures import ThreadPoolExecutor
from typing import Any
from urllib.parse import urlsplit

import pytest
from allauth.mfa.models import Authenticator
from django.db import connection
from django.urls import reverse
from playwright.sync_api import Page, expect, sync_playwright

from boardshop.crew.models import AuditEntry
from tests.browser.every_page import axe_faults
from tests.chromium import (
    AXE,
    DESKTOP,
    PHONE,
    SWITCHES,
    InBrowser,
    cookie_for,
    overflows_sideways,
    program,
)
from tests.crew.accounts import code_at, with_app
from tests.factories import PASSWORD, Cast

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


class Key:
    """A device with a finger reader that always says yes."""

    def __init__(self, page: Page) -> None:
        self.session = page.context.new_cdp_session(page)
        self.session.send("WebAuthn.enable")
        options = {
            "protocol": "ctap2",
            "transport": "internal",
            "hasResidentKey": True,
            "hasUserVerification": True,
            "isUserVerified": True,
            "automaticPresenceSimulation": True,
        }
        added = self.session.send("WebAuthn.addVirtualAuthenticator", {"options": options})
        self.name = added["authenticatorId"]

    def forget_all(self) -> None:
        self.session.send("WebAuthn.clearCredentials", {"authenticatorId": self.name})


def press(page: Page, button: str) -> None:
    page.get_by_role("button", name=button, exact=True).click()


def type_password(page: Page, name: str) -> None:
    page.goto(reverse("sign-in"))
    page.get_by_label("Name").fill(name)
    page.get_by_label("Password").fill(PASSWORD)
    press(page, "Sign in")


def sign_out(page: Page, name: str) -> None:
    page.locator("details.person summary", has_text=name).click()
    press(page, "Sign out")
    expect(page.get_by_role("heading", name="Sign in", exact=True)).to_be_visible()


def add_passkey(page: Page, called: str) -> None:
    page.goto(reverse("account"))
    page.get_by_role("link", name="Add a passkey").click()
    page.get_by_label("Your password").fill(PASSWORD)
    press(page, "Go on")
    page.get_by_label("Name of this passkey").fill(called)
    press(page, "Make it")
    expect(page.get_by_role("row", name=called)).to_be_visible()


def test_a_passkey_is_made_and_signs_in_without_the_password(cast: Cast, in_browser: InBrowser) -> None:
    name = cast.editor.username

    def steps(page: Page) -> None:
        Key(page)
        type_password(page, name)
        add_passkey(page, "work phone")
        sign_out(page, name)
        page.goto(f"{reverse('sign-in')}?next=/clients")
        press(page, "Use a passkey")
        page.wait_for_url(lambda url: urlsplit(url).path == "/clients")

    in_browser(steps)
    kept = Authenticator.objects.get()
    assert (kept.user, kept.wrap().is_passwordless) == (cast.editor, True)
    changed = AuditEntry.objects.filter(kind="security-changed").values_list("about", flat=True)
    assert list(changed) == ["passkey added"]
    said = list(AuditEntry.objects.filter(kind="sign-in").order_by("pk").values_list("about", flat=True))
    assert said == ["from 127.0.0.1", "from 127.0.0.1, by a passkey"]


@pytest.mark.parametrize("keeps", [True, False])
def test_a_passkey_keeps_one_signed_in_as_the_box_says(
    cast: Cast, in_browser: InBrowser, keeps: bool
) -> None:
    name = cast.editor.username

    def steps(page: Page) -> float:
        Key(page)
        type_password(page, name)
        add_passkey(page, "work phone")
        sign_out(page, name)
        page.get_by_label("Keep me signed in on this device").set_checked(keeps)
        press(page, "Use a passkey")
        expect(page.get_by_role("heading", name="Boards", exact=True)).to_be_visible()
        (ends,) = [one["expires"] for one in page.context.cookies() if one["name"] == "sessionid"]
        return ends

    ends = in_browser(steps)
    assert (ends > time.time() + 80 * 24 * 3600) if keeps else (ends == -1)


def test_a_passkey_that_was_removed_says_so_and_keeps_where_one_was_going(
    cast: Cast, in_browser: InBrowser
) -> None:
    def steps(page: Page) -> None:
        Key(page)
        type_password(page, cast.editor.username)
        add_passkey(page, "work phone")
        page.get_by_role("row", name="work phone").get_by_role("link", name="remove").click()
        press(page, "Remove it")
        expect(page.get_by_text("The passkey opens no more")).to_be_visible()
        sign_out(page, cast.editor.username)
        page.goto(f"{reverse('sign-in')}?next=/clients")
        page.get_by_label("Name").fill(cast.editor.username)
        press(page, "Use a passkey")
        expect(page.get_by_text("was removed. Try again, or use your password.")).to_be_visible()
        expect(page.get_by_label("Name")).to_have_value(cast.editor.username)
        page.get_by_label("Password").fill(PASSWORD)
        press(page, "Sign in")
        page.wait_for_url(lambda url: urlsplit(url).path == "/clients")

    in_browser(steps, expect_errors=True)


def test_a_passkey_stands_in_for_the_code(cast: Cast, in_browser: InBrowser) -> None:
    name = cast.editor.username

    def make(page: Page) -> None:
        Key(page)
        type_password(page, name)
        add_passkey(page, "work phone")
        with_app_on()
        sign_out(page, name)
        type_password(page, name)
        expect(page.get_by_role("heading", name="One more step")).to_be_visible()
        press(page, "Use a passkey")
        expect(page.get_by_role("heading", name="Boards", exact=True)).to_be_visible()
        page.goto(reverse("recovery-codes"))
        page.get_by_role("link", name="Use a passkey instead").click()
        press(page, "Use a passkey")
        expect(page.get_by_role("heading", name="Recovery codes")).to_be_visible()

    def with_app_on() -> None:
        with ThreadPoolExecutor(1) as thread:
            thread.submit(_with_app_elsewhere, cast.editor).result()

    in_browser(make)


def _with_app_elsewhere(person: Any) -> None:
    with_app(person)
    connection.close()


def test_a_device_without_a_passkey_says_so_and_the_password_still_opens(
    cast: Cast, in_browser: InBrowser
) -> None:
    def steps(page: Page) -> None:
        Key(page).forget_all()
        page.goto(reverse("sign-in"))
        press(page, "Use a passkey")
        expect(page.get_by_text("No passkey was used")).to_be_visible(timeout=15_000)
        type_password(page, cast.editor.username)
        expect(page.get_by_role("heading", name="Boards", exact=True)).to_be_visible()

    in_browser(steps)


def test_without_scripts_the_page_says_what_passkeys_need(cast: Cast, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        page.goto(reverse("sign-in"))
        assert "Passkeys need scripts" in page.content()
        press(page, "Use a passkey")
        expect(page.get_by_text("The browser sent no passkey")).to_be_visible()

    in_browser(steps, scripts=False, expect_errors=True)


def test_back_after_signing_out_shows_no_page_of_the_shop(cast: Cast, live_server: Any) -> None:
    """In a browser that keeps pages for Back, which Playwright switches off by itself."""
    cookie = cookie_for(cast.editor, live_server.url)

    def steps() -> list[str]:
        with sync_playwright() as playwright:
            kept = ["--disable-back-forward-cache"]
            browser = playwright.chromium.launch(
                executable_path=program(), args=SWITCHES, ignore_default_args=kept
            )
            context = browser.new_context(base_url=live_server.url)
            context.add_cookies([cookie])
            page = context.new_page()
            page.goto("/people")
            page.goto("/clients")
            sign_out(page, cast.editor.username)
            seen = []
            for _step in range(2):
                page.evaluate("history.back()")
                expect(page.get_by_role("heading", name="Sign in", exact=True)).to_be_visible()
                seen.append(page.url)
            browser.close()
            return seen

    with ThreadPoolExecutor(1) as thread:
        assert len(thread.submit(steps).result()) == 2


@pytest.mark.parametrize("length", [3, 24, 60])
def test_the_menus_open_within_the_screen_whatever_the_names(
    cast: Cast, in_browser: InBrowser, length: int
) -> None:
    cast.shop.name = cast.editor.username = "n" * length
    cast.shop.save()
    cast.editor.save()

    def steps(page: Page) -> list[dict[str, float]]:
        page.goto(reverse("account"))
        boxes = []
        for menu in page.locator("details.person").all():
            menu.locator("summary").click()
            boxes.append(menu.locator(".drop").bounding_box())
            menu.locator("summary").click()
        assert not overflows_sideways(page)
        return boxes

    boxes = in_browser(steps, person=cast.editor, size=PHONE)
    assert len(boxes) == 2
    assert [box for box in boxes if box["x"] < 0 or box["x"] + box["width"] > PHONE[0]] == []


@pytest.mark.parametrize("size", [DESKTOP, PHONE], ids=["desktop", "phone"])
def test_the_pages_behind_the_password_are_accessible(
    cast: Cast, in_browser: InBrowser, size: tuple[int, int]
) -> None:
    faults: list[str] = []

    def look(page: Page) -> None:
        page.evaluate(AXE.read_text(encoding="utf-8"))
        faults.extend(f"{page.url}: {fault}" for fault in axe_faults(page))
        if overflows_sideways(page):
            faults.append(f"{page.url} is wider than the screen")

    def steps(page: Page) -> None:
        Key(page)
        type_password(page, cast.editor.username)
        add_passkey(page, "work phone")
        look(page)
        for name in ("add-passkey", "change-password"):
            page.goto(reverse(name))
            look(page)
        page.goto(reverse("add-authenticator"))
        look(page)
        page.get_by_label("Authenticator code").fill(
            code_at(time.time(), page.locator("#secret").input_value())
        )
        press(page, "Turn it on")
        expect(page.get_by_role("heading", name="Recovery codes")).to_be_visible()
        look(page)
        for name in ("renew-recovery-codes", "remove-authenticator", "account"):
            page.goto(reverse(name))
            look(page)
        sign_out(page, cast.editor.username)
        type_password(page, cast.editor.username)
        expect(page.get_by_role("heading", name="One more step")).to_be_visible()
        look(page)

    in_browser(steps, size=size)
    assert faults == []
