"""A technician at the browser: each verb does one thing on a page, by the words that a person sees there.

The same verbs work with scripts on, where a row sends itself when it is left and the page stays, and with
scripts off, where its button is pressed and the page comes anew.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Locator, Page, expect

FILES = Path(__file__).parent / "files"
"""Tables as they are kept in a van: a mark at the start, semicolons, decimal commas, inches, blank rows."""


class Technician:
    def __init__(self, page: Page, *, scripts: bool = True) -> None:
        self.page = page
        self.scripts = scripts

    def sign_in(self, name: str, password: str) -> None:
        self.page.goto("/")
        self.page.get_by_label("Name").fill(name)
        self.page.get_by_label("Password").fill(password)
        self.press("Sign in")
        expect(self.heading("Boards")).to_be_visible()

    def go_to(self, tab: str) -> None:
        """One of the board's pages, by its tab."""
        tabs = self.page.get_by_role("navigation", name="Pages of this board")
        tabs.get_by_role("link", name=tab, exact=True).click()
        expect(tabs.get_by_role("link", name=tab, exact=True)).to_have_attribute("aria-current", "page")
        # The tab stands there before the scripts have run: what is typed until then would not be sent.
        self.page.wait_for_load_state()

    def try_table(self, which: str, file: Path) -> None:
        """The dry run of a table of gear."""
        places = self.page.get_by_role("navigation", name="Places")
        places.get_by_role("link", name="Gear").click()
        lists = self.page.get_by_role("navigation", name="Lists")
        lists.get_by_role("link", name=which).click()
        self.page.get_by_role("link", name="Bring in a table").click()
        self.page.get_by_label("Table").set_input_files(file)
        self.press("Try it: show what would happen")
        expect(self.heading("Dry run: nothing is stored yet")).to_be_visible()

    def begin_board(self, name: str, width: str, depth: str) -> None:
        self.page.get_by_role("navigation", name="Places").get_by_role("link", name="Boards").click()
        self.page.get_by_role("link", name="New board").first.click()
        form = self.page.get_by_role("region", name="From nothing")
        form.get_by_label("Name").fill(name)
        form.get_by_label("Width").fill(width)
        form.get_by_label("Depth").fill(depth)
        form.get_by_role("button", name="Begin").click()
        expect(self.heading(name)).to_be_visible()

    def add_pedal(self, gear: str, becomes: str) -> None:
        """By its line in the list; `becomes` is what its row is called then."""
        self.page.get_by_label("Pedal", exact=True).select_option(label=gear)
        self.press("Add pedal")
        expect(self.page.get_by_role("link", name=becomes, exact=True)).to_be_visible()

    def add_end(self, what: str, becomes: str, typed: dict[str, str]) -> None:
        """An instrument or an amp, with what is typed under each label."""
        group = self.open_fold(f"Add an {what}")
        for label, value in typed.items():
            group.get_by_label(label).fill(value)
        group.get_by_role("button", name=f"Add {what}").click()
        ends = self.page.get_by_role("region", name="Instruments, amps, computers")
        expect(ends.get_by_role("link", name=becomes)).to_be_visible()

    def add_supply(self, gear: str, becomes: str) -> None:
        self.page.get_by_label("Supply", exact=True).select_option(label=gear)
        self.press("Add supply")
        expect(self.heading(f"{becomes} {gear}")).to_be_visible()

    def wire(self, refs: str) -> None:
        self.page.get_by_label("Sequence").fill(refs)
        self.press("Wire in this order")

    def play(self, ref: str, normally: str, stepped_on: str) -> None:
        self.page.get_by_label(f"Normally of {ref}").select_option(label=normally)
        self.page.get_by_label(f"Stepped on of {ref}").select_option(label=stepped_on)
        self.keep(ref)

    def place(self, ref: str, x: str, y: str) -> None:
        self.page.get_by_label(f"x mm of {ref}").fill(x)
        self.page.get_by_label(f"y mm of {ref}").fill(y)
        self.keep(ref)

    def choose_cable(self, ref: str, cable: str, plug: str) -> None:
        """The cable of a link, and the same plug at both ends."""
        self.page.get_by_label(f"Cable of {ref}").select_option(label=cable)
        self.page.get_by_label(f"Plug at its start of {ref}").select_option(label=plug)
        self.page.get_by_label(f"Plug at its end of {ref}").select_option(label=plug)
        self.keep(ref)

    def open_jack(self, jack: str) -> Locator:
        """The choice of outlets for a power jack."""
        outlets = self.page.get_by_role("group", name=f"({jack})")
        if not outlets.is_visible():
            self.page.get_by_role("link", name=re.compile(rf"(Feed|Change) {re.escape(jack)}")).click()
        return outlets

    def feed(self, jack: str, outlet: str) -> None:
        self.open_jack(jack).get_by_role("radio", name=f"{outlet} ").check()
        self.press(f"Feed {jack}")

    def move_plug(self, jack: str, outlet: str) -> None:
        """To another outlet, chosen in the jack's row; its lead comes along."""
        choice = self.page.get_by_label(f"Outlet of {jack}", exact=True)
        words = choice.locator("option", has_text=f"{outlet}, ").first.text_content()
        choice.select_option(label=words)
        self.press(f"Move {jack}")

    def fetch(self, link: str) -> bytes:
        """What a link leads to, with the person's own session."""
        address = self.page.get_by_role("link", name=link).get_attribute("href")
        answer = self.page.context.request.get(address or "")
        assert answer.ok, answer.status
        return answer.body()

    @contextmanager
    def stays_on_the_page(self) -> Iterator[None]:
        """With scripts on, nothing in between loads the page anew."""
        if self.scripts:
            self.page.evaluate("() => { window.loadedOnce = true; }")
        yield
        assert not self.scripts or self.page.evaluate("window.loadedOnce === true")

    def keep_finding(self, rule: str, why: str) -> None:
        finding = self.finding(rule)
        finding.get_by_text("Keep on purpose").click()
        finding.get_by_label("Why it is kept").fill(why)
        finding.get_by_role("button", name="Keep").click()

    def keep(self, ref: str) -> None:
        """Leave a row: it sends itself, or its button does."""
        if self.scripts:
            self.page.keyboard.press("Tab")
        else:
            self.press(f"Keep {ref}")

    def open_fold(self, words: str) -> Locator:
        """What lies folded away under these words, unfolded."""
        group = self.page.get_by_role("group").filter(has_text=words)
        if group.get_attribute("open") is None:
            group.get_by_text(words, exact=True).click()
        return group

    def row(self, ref: str) -> Locator:
        """The row of fields of one pedal, link or supply, found by its button."""
        return self.page.locator(".row").filter(
            has=self.page.get_by_role("button", name=f"Keep {ref}", exact=True)
        )

    def press(self, words: str) -> None:
        self.button(words).click()

    def button(self, words: str) -> Locator:
        return self.page.get_by_role("button", name=words, exact=True)

    def heading(self, words: str) -> Locator:
        return self.page.get_by_role("heading", name=words, exact=True)

    def finding(self, rule: str) -> Locator:
        """Every finding of this rule that stands on the page."""
        found = self.page.get_by_role("listitem").filter(has_text="Basis:")
        return found.filter(has=self.page.get_by_text(rule, exact=True))

    def counts(self) -> Locator:
        """The counts of the whole board."""
        return self.page.locator("#counts")
