"""The gear pages in Chromium: axe finds nothing, a phone loses nothing, scripts may be off."""

import re
from pathlib import Path
from typing import Any

import pytest
from django.urls import reverse
from playwright.sync_api import Page

from boardshop.gear.models import PedalModel
from boardshop.gear.shelves import pedal_record
from tests.chromium import DESKTOP, PHONE, InBrowser, axe_violations, overflows_sideways
from tests.factories import (
    Cast,
    make_cast,
    make_client,
    make_frame_model,
    make_pedal_model,
    make_plug_type,
    make_stock,
    make_supply_model,
    make_unit,
)

pytestmark = [pytest.mark.django_db(transaction=True), pytest.mark.browser]
FILES = Path(__file__).parent / "files"


@pytest.fixture
def filled() -> Cast:
    cast = make_cast()
    pedal = make_pedal_model(cast.shop, maker="Kestrel", name="Ember", jacks="IN:in OUT:out", power="DC")
    make_unit(cast.shop, pedal=pedal, serial="KE-0042", owner=make_client(cast.shop)).draws.create(
        measured=11
    )
    make_supply_model(cast.shop, name="Eight", outlets="1 2").outlets.first().settings.create(
        min_mv=9000, max_mv=9000
    )
    make_frame_model(cast.shop)
    make_plug_type(cast.shop)
    make_stock(cast.shop)
    return cast


def pages(cast: Cast) -> list[str]:
    """Those that no walk over the addresses finds: other lists, and pages whose address names a kind."""
    kinds = ("supplies", "frames", "cables", "plugs", "stock", "units")
    return [
        *(reverse("gear") + f"?kind={kind}" for kind in kinds),
        reverse("gear") + "?find=nothing-like-it",
        reverse("delete-gear", args=["pedals", cast.shop.pedal_models.get().pk]),
        reverse("import-gear", args=["pedals"]),
    ]


@pytest.mark.parametrize(("theme", "size"), [("light", DESKTOP), ("night", PHONE)])
def test_axe_finds_nothing_and_nothing_is_lost(
    filled: Cast, in_browser: InBrowser, theme: str, size: tuple[int, int]
) -> None:
    addresses = pages(filled)

    def look(page: Page) -> dict[str, Any]:
        page.goto(addresses[0])
        page.context.add_cookies([{"name": "theme", "value": theme, "url": page.url}])
        found = {}
        for address in addresses:
            page.goto(address)
            assert page.locator("html").get_attribute("data-theme") == theme
            found[address] = (axe_violations(page), overflows_sideways(page))
        return found

    found = in_browser(look, person=filled.editor, size=size)
    assert {address: seen for address, seen in found.items() if seen != ([], False)} == {}


@pytest.mark.parametrize("scripts", [True, False])
def test_a_pedal_is_added_with_one_more_jack(in_browser: InBrowser, scripts: bool) -> None:
    cast = make_cast()

    def steps(page: Page) -> None:
        page.goto(reverse("add-pedal-model"))
        page.fill("[name=name]", "Ember")
        page.select_option("[name=kind]", "fuzz")
        page.fill("[name=width]", '2 7/8"')
        page.get_by_role("button", name="One more jack").click()
        page.locator("[name=jacks-2-name]").fill("EXP")
        page.select_option("[name=jacks-2-role]", "control")
        assert page.input_value("[name=width]") == '2 7/8"'
        page.fill("[name=depth]", "129")
        page.locator(".button.is-main").click()
        page.wait_for_url(re.compile(r"/gear/pedals/\d+$"))

    in_browser(steps, person=cast.editor, scripts=scripts)
    record = pedal_record(PedalModel.objects.get())
    assert record.width == 73
    assert [(jack.name, jack.role) for jack in record.jacks] == [
        ("IN", "in"),
        ("OUT", "out"),
        ("EXP", "control"),
    ]


@pytest.mark.parametrize("scripts", [True, False])
def test_a_table_is_brought_in(in_browser: InBrowser, scripts: bool) -> None:
    cast = make_cast()

    def steps(page: Page) -> tuple[str, list[str], bool]:
        page.goto(reverse("gear"))
        page.get_by_role("link", name="Bring in a table").click()
        page.set_input_files("[name=file]", FILES / "pedals_from_a_german_spreadsheet.csv")
        page.get_by_role("button", name=re.compile("Try it")).click()
        page.wait_for_selector("text=Dry run")
        seen = axe_violations(page) if scripts else []
        wide = overflows_sideways(page) if scripts else False
        page.get_by_role("button", name="Bring all of it in").click()
        page.wait_for_url(re.compile(r"kind=pedals"))
        return page.locator("main").inner_text(), seen, wide

    text, seen, wide = in_browser(steps, person=cast.editor, scripts=scripts, size=PHONE)
    assert (seen, wide) == ([], False)
    assert "Ødegård Tide" in text
    assert PedalModel.objects.count() == 3


def test_the_search_answers_while_typing(filled: Cast, in_browser: InBrowser) -> None:
    make_pedal_model(filled.shop, name="Slate")

    def steps(page: Page) -> str:
        page.goto(reverse("gear"))
        page.locator("#id_find").press_sequentially("slate")
        page.wait_for_selector("text=Ember", state="detached")
        return page.url

    assert "find=slate" in in_browser(steps, person=filled.viewer)
