"""A real Chromium for tests: `in_browser(steps)` runs `steps(page)` in a thread of its own.

Playwright's event loop would make the ORM refuse to work in the same thread,
so database work stays in the test and only the page's steps go over.
"""

import os
import shutil
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest
from django.test import Client
from playwright.sync_api import Browser, ConsoleMessage, Page, expect, sync_playwright

AXE = Path(__file__).parent / "browser" / "vendor" / "axe-4.14.1.min.js"
NAMES = ("chromium", "chromium-browser", "google-chrome")
PATIENCE_MS = 30_000
"""How long a page may take for what a step waits for: a busy machine is no fault of the page."""
expect.set_options(timeout=PATIENCE_MS)

SWITCHES = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
DESKTOP = (1280, 900)
PHONE = (360, 740)

InBrowser = Callable[..., Any]


def program() -> str:
    found = next((path for path in map(shutil.which, NAMES) if path), None)
    if found is None and os.environ.get("CI"):
        pytest.fail("no Chromium on this machine; `make test` installs it")
    if found is None:
        pytest.skip("no Chromium on this machine: apt-get install chromium")
    return found


@pytest.fixture(scope="session")
def browser_thread() -> Iterator[tuple[ThreadPoolExecutor, Browser]]:
    executable = program()
    with ThreadPoolExecutor(1, thread_name_prefix="browser") as thread:
        playwright = thread.submit(lambda: sync_playwright().start()).result()
        try:
            launch = playwright.chromium.launch
            browser = thread.submit(lambda: launch(executable_path=executable, args=SWITCHES)).result()
            yield thread, browser
            thread.submit(browser.close).result()
        finally:
            thread.submit(playwright.stop).result()


@pytest.fixture
def in_browser(browser_thread: tuple[ThreadPoolExecutor, Browser], live_server: Any) -> InBrowser:
    """Runs steps on a fresh page whose addresses are relative to the live server.

    `person` signs in through a session cookie; `expect_errors` lets the console report failed requests.
    Otherwise any console error, script error or CSP report fails the test.
    """
    thread, browser = browser_thread

    def run(
        steps: Callable[[Page], Any],
        *,
        person: Any = None,
        scripts: bool = True,
        size: tuple[int, int] = DESKTOP,
        scheme: str = "light",
        expect_errors: bool = False,
    ) -> Any:
        cookies = [cookie_for(person, live_server.url)] if person else []

        def go() -> tuple[Any, list[str]]:
            context = browser.new_context(
                base_url=live_server.url,
                java_script_enabled=scripts,
                viewport={"width": size[0], "height": size[1]},
                color_scheme=scheme,
            )
            context.set_default_timeout(PATIENCE_MS)
            context.add_cookies(cookies)
            try:
                page = context.new_page()
                complaints: list[str] = []
                page.on("console", lambda said: is_complaint(said) and complaints.append(said.text))
                page.on("pageerror", lambda error: complaints.append(str(error)))
                return steps(page), complaints
            finally:
                context.close()

        result, complaints = thread.submit(go).result()
        assert expect_errors or not complaints, complaints
        return result

    return run


def is_complaint(said: ConsoleMessage) -> bool:
    """An error, unless it is about the icon that the browser asks for by itself."""
    return said.type == "error" and not said.location["url"].endswith("/favicon.ico")


def cookie_for(person: Any, url: str) -> dict[str, str]:
    client = Client()
    client.force_login(person)
    return {"name": "sessionid", "value": client.cookies["sessionid"].value, "url": url}


def axe_violations(page: Page) -> list[str]:
    """What axe finds on the page, one line each: rule, number of places, first place."""
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = page.evaluate("async () => (await axe.run()).violations")
    return [f"{rule['id']}: {len(rule['nodes'])} x {rule['nodes'][0]['html'][:200]}" for rule in found]


def overflows_sideways(page: Page) -> bool:
    """Whether the page is wider than the window, so that something is lost on a phone."""
    return page.evaluate("document.documentElement.scrollWidth > document.documentElement.clientWidth")
