"""Takes the pictures of the README from a running demo, by hand:

.venv/bin/python -m tests.browser.take_pictures http://localhost:8000 demo PASSWORD
"""

import io
import sys

import pypdfium2
from PIL import Image
from playwright.sync_api import Browser, Page, sync_playwright

from tests.browser.technician import Technician
from tests.chromium import SWITCHES, program
from tests.house.tree import ROOT

DOCS = ROOT / "docs"
BOARD = "Oakhollow main"
BRANCHED = "Tallow centre"
TALL = {"width": 1280, "height": 1160}
DESK = {"width": 1280, "height": 900}
PHONE = {"width": 390, "height": 760}
SHEET_WIDTH_PX = 1280
SEARCH_MS = 120_000
COLOURS = 128
"""More than the themes have; the rest are the edges of letters."""


def keep(name: str, picture: Image.Image) -> None:
    path = DOCS / f"{name}.png"
    picture.convert("RGB").quantize(COLOURS, dither=Image.Dither.NONE).save(path, optimize=True)
    print(f"{path.relative_to(ROOT)}: {picture.width} x {picture.height}, {path.stat().st_size // 1000} kB")


def photograph(page: Page, name: str) -> None:
    page.evaluate("document.fonts.ready")
    keep(name, Image.open(io.BytesIO(page.screenshot())))


def first_sheet(pdf: bytes) -> Image.Image:
    with pypdfium2.PdfDocument(pdf) as document:
        page = document[0]
        return page.render(scale=SHEET_WIDTH_PX / page.get_width()).to_pil()


def at_the_desk(browser: Browser, address: str, name: str, password: str) -> str:
    """The pictures of the wide pages; returns the address of the stage page."""
    page = browser.new_page(base_url=address, viewport=DESK, color_scheme="light")
    technician = Technician(page)
    technician.sign_in(name, password)
    page.get_by_role("link", name=BOARD).click()
    photograph(page, "board-light")
    page.set_viewport_size(TALL)
    page.goto("/")
    page.get_by_role("link", name=BRANCHED).click()
    technician.go_to("Order")
    photograph(page, "order-light")
    page.set_viewport_size(DESK)
    page.goto("/")
    page.get_by_role("link", name=BOARD).click()
    technician.go_to("Layout")
    page.get_by_role("link", name="From the side").click()
    photograph(page, "side-light")
    page.get_by_role("link", name="Place it for me").first.click()
    page.get_by_role("button", name="Start the search").click()
    page.get_by_role("heading", name="Layouts to choose from").wait_for(timeout=SEARCH_MS)
    page.set_viewport_size(TALL)
    photograph(page, "layouts-light")
    of_the_cables(page, technician)
    page.set_viewport_size(DESK)
    page.emulate_media(color_scheme="dark")
    technician.go_to("Power")
    photograph(page, "power-dark")
    technician.go_to("Papers")
    keep("build-sheet", first_sheet(technician.fetch("Build sheet of revision 1, PDF")))
    return page.get_by_role("link", name="Open the stage page").get_attribute("href") or ""


def of_the_cables(page: Page, technician: Technician) -> None:
    """The cables page with one cable chosen, the tone, and the cut plan of the cut list."""
    technician.go_to("Cables")
    page.get_by_role("link", name="way W3").click()
    page.get_by_role("heading", name="W3 ").wait_for()
    page.evaluate("window.scrollTo(0, 0)")
    photograph(page, "cables-light")
    ways = page.get_by_role("navigation", name="Pages of the cables")
    ways.get_by_role("link", name="Tone").click()
    page.get_by_role("heading", name="What hangs on it").wait_for()
    photograph(page, "tone-light")
    ways.get_by_role("link", name="Cut list").click()
    page.get_by_role("heading", name="Cut plan").scroll_into_view_if_needed()
    page.evaluate("document.getElementById('plan-head')?.scrollIntoView()")
    photograph(page, "cuts-light")


def on_stage(browser: Browser, address: str, name: str, password: str, stage: str) -> None:
    page = browser.new_page(base_url=address, viewport=PHONE, device_scale_factor=2, has_touch=True)
    Technician(page).sign_in(name, password)
    page.goto(stage)
    chain = page.get_by_role("list", name="Pedals in signal order")
    chain.get_by_role("listitem").filter(has_text="fuzz").locator("summary").click()
    page.evaluate("window.scrollTo(0, 0)")
    photograph(page, "stage-night")


def main(address: str, name: str, password: str) -> None:
    DOCS.mkdir(exist_ok=True)
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program(), args=SWITCHES)
        stage = at_the_desk(browser, address, name, password)
        on_stage(browser, address, name, password, stage)


if __name__ == "__main__":
    main(*sys.argv[1:])
