"""The first power-on at the bench: a phone in one hand, the keyboard, and no scripts."""

from typing import Any

import pytest
from django.urls import reverse
from playwright.sync_api import Locator, Page, expect

from boardshop.boards.models import Board, LeadReading
from boardshop.gear.models import UnitDraw
from tests.board_factories import make_board
from tests.boards.readings import meter, meter_load
from tests.browser.every_page import look
from tests.chromium import DESKTOP, PHONE, InBrowser
from tests.core import builders as b
from tests.factories import Cast

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def board(cast: Cast) -> Board:
    """Three pedals that are fed, the first a unit of its own."""
    pedals = [b.pedal(f"P{n}", name=f"Low Ember {n}", unit="0042" if n == 1 else None) for n in range(1, 4)]
    return make_board(cast.shop, pedals, feeds=tuple(b.feed(f"S1.{n}", f"P{n}.DC") for n in range(1, 4)))


def url(board: Board) -> str:
    return reverse("first-power", args=[board.code])


def step(page: Page, end: str) -> Locator:
    return page.locator(f"#step-{end.replace('.', '-')}")


def read_plug(page: Page, end: str, volts: str, polarity: str = "centre-negative") -> None:
    one = step(page, end)
    one.get_by_label("Plug reads").fill(volts)
    one.get_by_label(polarity, exact=True).check()
    one.get_by_role("button", name=f"Record {end}", exact=True).click()


@pytest.mark.parametrize(("scripts", "size"), [(True, PHONE), (False, PHONE), (True, DESKTOP)])
def test_a_plug_is_metered_then_its_pedal_then_the_draw_is_kept(
    cast: Cast, board: Board, in_browser: InBrowser, scripts: bool, size: tuple[int, int]
) -> None:
    def steps(page: Page) -> None:
        page.goto(url(board))
        read_plug(page, "P1.DC", "9,12")
        one = step(page, "P1.DC")
        expect(one.locator(".meter-state")).to_have_text("As planned")
        one.get_by_label("Pedal draws").fill("18 mA")
        one.get_by_role("button", name="Record the current P1.DC").click()
        one.get_by_role("button", name="Keep 18 mA as the measured draw of this unit").click()
        expect(one.get_by_text("measured 18 mA")).to_be_visible()
        expect(step(page, "P2.DC").locator(".meter-state")).to_have_text("Not metered")

    in_browser(steps, person=cast.editor, scripts=scripts, size=size)
    assert [(one.mv, one.load_ma) for one in LeadReading.objects.order_by("pk")] == [(9120, None), (None, 18)]
    assert UnitDraw.objects.get().measured == 18


@pytest.mark.parametrize("scripts", [True, False])
def test_a_mistyped_reading_is_taken_back_and_put_back(
    cast: Cast, board: Board, in_browser: InBrowser, scripts: bool
) -> None:
    meter(board, cast.editor, mv=91_000)

    def steps(page: Page) -> None:
        page.goto(url(board))
        one = step(page, "P1.DC")
        expect(one.locator(".meter-state")).to_contain_text("Do not plug")
        one.get_by_role("button", name="Take back").click()
        expect(one.locator(".meter-state")).to_have_text("Not metered")
        one.get_by_text("1 other reading").click()
        one.get_by_role("button", name="Put back").click()
        expect(one.locator(".meter-state")).to_contain_text("Do not plug")

    in_browser(steps, person=cast.editor, scripts=scripts)


def test_by_keyboard_alone_and_what_is_typed_elsewhere_stays(
    cast: Cast, board: Board, in_browser: InBrowser
) -> None:
    def steps(page: Page) -> list[Any]:
        page.goto(url(board))
        step(page, "P2.DC").get_by_label("Plug reads").fill("9.3")
        step(page, "P1.DC").get_by_label("Plug reads").focus()
        page.keyboard.type("much")
        page.keyboard.press("Enter")
        expect(step(page, "P1.DC")).to_contain_text("is no voltage")
        step(page, "P1.DC").get_by_label("Plug reads").fill("9.0")
        page.keyboard.press("Tab")
        page.keyboard.press("ArrowDown")
        page.keyboard.press("Enter")
        expect(step(page, "P1.DC").locator(".meter-state")).to_have_text("As planned")
        fields = [step(page, end).get_by_label("Plug reads") for end in ("P1.DC", "P2.DC")]
        return [field.input_value() for field in fields]

    # A refused form is a 422, which the console reports.
    assert in_browser(steps, person=cast.editor, expect_errors=True) == ["", "9.3"]
    assert LeadReading.objects.get().polarity == "centre-negative"


@pytest.mark.parametrize("size", [DESKTOP, PHONE], ids=["desk", "phone"])
def test_the_page_with_every_state_is_accessible(
    cast: Cast, board: Board, in_browser: InBrowser, size: tuple[int, int]
) -> None:
    meter(board, cast.editor, "P1.DC")
    meter_load(board, cast.editor, 18, "P1.DC")
    meter_load(board, cast.editor, 120, "P1.DC")
    meter(board, cast.editor, "P2.DC", 12_000)
    found = in_browser(lambda page: look(page, url(board), size == PHONE), person=cast.editor, size=size)
    assert found == []
