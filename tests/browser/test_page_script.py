"""What each page does beside htmx: tells failures, keeps the focus, reads changes out, guards input."""

from typing import Any

import pytest
from playwright.sync_api import Page, Route, expect

from tests.chromium import InBrowser
from tests.factories import Cast

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

FORM = """
<form id="made" method="post" action="/made-up" hx-post="/made-up" hx-target="#there" hx-swap="innerHTML"
  hx-sync="this:replace" novalidate><input name="why" aria-label="why">
  <button class="button">Go</button></form>
<div id="there">before</div>
"""


def with_form(page: Page, answer: dict[str, Any] | None, form: str = FORM) -> None:
    """The sign-in page with one more form, whose address answers as told; None is no answer at all."""
    page.goto("/sign-in")

    def respond(route: Route) -> None:
        if answer is None:
            route.abort()
        else:
            route.fulfill(**({"status": 200, "content_type": "text/html"} | answer))

    page.route("**/made-up", respond)
    page.evaluate(
        "(html) => { const box = document.createElement('div'); box.innerHTML = html;"
        " document.querySelector('main').append(box); htmx.process(box); }",
        form,
    )


def send(page: Page, words: str = "tails fill the gaps") -> None:
    page.get_by_label("why").fill(words)
    page.get_by_role("button", name="Go").click()


@pytest.mark.parametrize(
    ("answer", "said"),
    [
        ({"status": 500, "body": "Server Error (500)"}, "could not finish"),
        ({"status": 404, "body": "gone"}, "no longer there"),
        ({"status": 403, "body": "no"}, "may not change it"),
        (None, "did not answer"),
    ],
)
def test_a_failure_is_told_and_nothing_is_lost(
    in_browser: InBrowser, answer: dict[str, Any] | None, said: str
) -> None:
    def steps(page: Page) -> None:
        with_form(page, answer)
        send(page)
        expect(page.get_by_role("alert")).to_contain_text(said)
        expect(page.locator("#there")).to_have_text("before")
        expect(page.get_by_label("why")).to_have_value("tails fill the gaps")

    in_browser(steps, expect_errors=True)


def test_a_refused_form_comes_back_with_its_faults(in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        with_form(page, {"status": 422, "body": "<p>Say why it is kept.</p>"})
        send(page)
        expect(page.locator("#there")).to_have_text("Say why it is kept.")

    in_browser(steps, expect_errors=True)


def test_the_word_goes_when_all_is_well_again(in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        with_form(page, {"status": 500, "body": "x"})
        send(page)
        expect(page.get_by_role("alert")).to_be_visible()
        page.unroute("**/made-up")
        page.route(
            "**/made-up", lambda route: route.fulfill(status=200, content_type="text/html", body="after")
        )
        send(page)
        expect(page.locator("#there")).to_have_text("after")
        expect(page.locator("#notice-of-page")).to_have_count(0)

    in_browser(steps, expect_errors=True)


def test_the_csrf_token_goes_along(in_browser: InBrowser) -> None:
    def steps(page: Page) -> str | None:
        with_form(page, {"body": "after"})
        with page.expect_request("**/made-up") as sent:
            send(page)
        return sent.value.headers.get("x-csrftoken")

    assert len(in_browser(steps)) == 64


def test_the_focus_stays_in_a_field_without_an_id(in_browser: InBrowser) -> None:
    form = FORM.replace('hx-target="#there"', 'hx-target="#made"').replace("innerHTML", "outerHTML")

    def steps(page: Page) -> None:
        with_form(page, {"body": form}, form)
        page.get_by_label("why").fill("x")
        page.get_by_label("why").press("Enter")
        expect(page.get_by_label("why")).to_have_value("")
        expect(page.get_by_label("why")).to_be_focused()

    in_browser(steps)


def test_changes_are_read_out(in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        with_form(page, {"body": "<ul data-announce><li>1  damage</li>\n<li>2 cautions</li></ul>"})
        send(page)
        expect(page.locator("#announcer")).to_have_text("1 damage 2 cautions")

    in_browser(steps)


@pytest.mark.parametrize(("is_sent", "asks"), [(False, ["beforeunload"]), (True, [])])
def test_typed_input_is_not_lost_without_a_question(
    in_browser: InBrowser, is_sent: bool, asks: list[str]
) -> None:
    def steps(page: Page) -> list[str]:
        asked: list[str] = []
        page.on("dialog", lambda dialog: (asked.append(dialog.type), dialog.accept()))
        with_form(page, {"body": "after"})
        if is_sent:
            send(page)
            expect(page.locator("#there")).to_have_text("after")
        else:
            page.get_by_label("why").press_sequentially("typed")
        page.goto("/healthz")
        return asked

    assert in_browser(steps) == asks


def test_the_menu_closes_with_escape(in_browser: InBrowser, cast: Cast) -> None:
    def steps(page: Page) -> None:
        page.goto("/clients")
        page.locator(".person summary").last.click()
        expect(page.get_by_role("button", name="Sign out")).to_be_visible()
        page.keyboard.press("Escape")
        expect(page.get_by_role("button", name="Sign out")).to_be_hidden()
        expect(page.locator(".person summary").last).to_be_focused()

    in_browser(steps, person=cast.editor)


def test_the_keyboard_skips_to_the_sheet(in_browser: InBrowser, cast: Cast) -> None:
    def steps(page: Page) -> None:
        page.goto("/clients")
        page.keyboard.press("Tab")
        expect(page.get_by_role("link", name="Skip to the sheet")).to_be_focused()
        expect(page.get_by_role("link", name="Skip to the sheet")).to_be_in_viewport()
        page.keyboard.press("Enter")
        expect(page.locator("main")).to_be_focused()

    in_browser(steps, person=cast.editor)


@pytest.mark.parametrize("scripts", [True, False], ids=["with scripts", "without scripts"])
def test_a_theme_is_chosen_and_kept(in_browser: InBrowser, scripts: bool) -> None:
    def steps(page: Page) -> None:
        page.goto("/sign-in")
        expect(page.locator("html")).to_have_attribute("data-theme", "auto")
        page.get_by_role("button", name="night").click()
        expect(page.locator("html")).to_have_attribute("data-theme", "night")
        page.goto("/sign-in")
        expect(page.locator("body")).to_have_css("background-color", "rgb(10, 8, 6)")
        expect(page.get_by_role("button", name="night")).to_have_attribute("aria-pressed", "true")

    in_browser(steps, scripts=scripts)


@pytest.mark.parametrize(("scheme", "colour"), [("light", "rgb(239, 237, 230)"), ("dark", "rgb(12, 15, 18)")])
def test_auto_follows_the_device(in_browser: InBrowser, scheme: str, colour: str) -> None:
    def steps(page: Page) -> None:
        page.goto("/sign-in")
        expect(page.locator("body")).to_have_css("background-color", colour)

    in_browser(steps, scheme=scheme)
