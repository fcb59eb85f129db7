"""Things are placed by keys, by buttons, several at once, and with scripts off."""

import re

import pytest
from playwright.sync_api import Page, expect

from boardshop.boards.models import Board
from tests.browser.placing import (
    BEFORE,
    drag,
    middle,
    number,
    open_layout,
    places,
    px_per_mm,
    thing,
)
from tests.browser.placing import board as board
from tests.chromium import DESKTOP, PHONE, InBrowser, axe_violations, overflows_sideways
from tests.factories import Cast

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


def test_arrow_keys_move_by_1_and_10_mm_in_one_edit(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        open_layout(page, board)
        thing(page, "P1").focus()
        for keys in ("ArrowRight", "ArrowRight", "Shift+ArrowUp", "ArrowLeft"):
            page.keyboard.press(keys)
        expect(page.locator("#announcer")).to_contain_text("Low Ember x 101 mm, y 30 mm")
        number(page, 1)
        expect(thing(page, "P1")).to_be_focused()

    in_browser(steps, person=cast.editor)
    assert places(board) == BEFORE | {"P1": (101, 30, 0)}


def test_keys_turn_pin_take_off_and_undo(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    """73 x 130 turned about its middle, to whole mm: 29 mm to the left, 28 to the rear."""

    def steps(page: Page) -> None:
        open_layout(page, board)
        thing(page, "P1").focus()
        page.keyboard.press("t")
        number(page, 1)
        expect(thing(page, "P1")).to_have_attribute("data-turn", "90")
        page.keyboard.press("p")
        number(page, 2)
        expect(page.locator("#selection")).to_contain_text("pinned")
        page.keyboard.press("ArrowRight")
        expect(page.locator("#announcer")).to_contain_text("P1 is pinned")
        page.keyboard.press("Delete")
        number(page, 3)
        expect(page.locator("#tray [data-waiting=P1]")).to_be_visible()
        page.keyboard.press("Control+z")
        number(page, 4)
        expect(page.locator("#tray [data-waiting=P1]")).to_have_count(0)

    in_browser(steps, person=cast.editor)
    assert places(board) == BEFORE | {"P1": (71, 48, 90)}


def test_several_are_chosen_and_moved_together(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    """P3 is chosen too, but it is pinned and stays."""

    def steps(page: Page) -> None:
        open_layout(page, board)
        thing(page, "P1").click()
        for ref in ("P2", "P3"):
            thing(page, ref).click(modifiers=["Shift"])
        expect(page.locator("#selection")).to_contain_text("3 things chosen")
        drag(page, "P2", 10, 40)
        number(page, 1)
        expect(page.locator("#selection")).to_contain_text("3 things chosen")
        page.get_by_role("button", name="1 mm left", exact=True).click()
        number(page, 2)
        page.get_by_role("button", name="Undo").click()
        number(page, 3)

    in_browser(steps, person=cast.editor)
    (x1, y1, _), (x2, y2, _) = places(board)["P1"] or (0, 0, 0), places(board)["P2"] or (0, 0, 0)
    assert (x2 - x1, y2 - y1) == (200, 0)
    assert abs(x1 - 110) <= 1
    assert abs(y1 - 60) <= 1
    assert places(board)["P3"] == BEFORE["P3"]


def test_buttons_that_are_pressed_quickly_add_up(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        open_layout(page, board)
        thing(page, "P1").click()
        right = page.get_by_role("button", name="1 mm right", exact=True)
        for _ in range(3):
            right.click()
        number(page, 1)
        expect(page.locator("#selected-x")).to_have_value("103")

    in_browser(steps, person=cast.editor)
    assert places(board) == BEFORE | {"P1": (103, 20, 0)}


def test_a_frame_drawn_around_things_chooses_them(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        open_layout(page, board)
        scale, (x, y) = px_per_mm(page), middle(thing(page, "P1"))
        page.mouse.move(x - 60 * scale, y + 70 * scale)
        page.mouse.down()
        page.mouse.move(x + 210 * scale, y, steps=5)
        page.mouse.up()
        expect(page.locator("#selection")).to_contain_text("2 things chosen")
        page.keyboard.press("Escape")
        expect(page.locator("#selection")).to_contain_text("Nothing chosen")

    in_browser(steps, person=cast.editor)


def test_with_scripts_off_links_and_buttons_do_the_same(
    cast: Cast, board: Board, in_browser: InBrowser
) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/layout")
        thing(page, "P1").click()
        page.get_by_role("button", name="10 mm right", exact=True).click()
        page.get_by_role("button", name="1 mm to the rear", exact=True).click()
        expect(page.locator("#selected-x")).to_have_value("110")
        page.get_by_role("button", name="Turn to 90°").click()
        page.locator("#selected-x").fill("5 cm")
        page.get_by_role("button", name="Place it there").click()
        expect(page.locator("#selected-x")).to_have_value("50")
        page.get_by_role("button", name="Pin", exact=True).click()
        expect(page.locator("#selection")).to_contain_text("Pinned: only its fields move it.")
        page.get_by_role("button", name="Unpin").click()
        page.goto(f"/boards/{board.code}/layout?open=P2")
        page.get_by_role("button", name="Take off the frame").click()
        page.get_by_role("button", name="Put on the board P4").click()
        expect(page.locator("#selection")).to_contain_text("Grain Hall")

    in_browser(steps, person=cast.editor, scripts=False)
    found = places(board)
    assert found["P1"] == (50, 49, 90)
    assert found["P2"] is None
    assert found["P4"] is not None


def test_a_viewer_moves_nothing(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        open_layout(page, board)
        drag(page, "P1", 150, 0)
        expect(page.locator(".d-ghost-body")).to_have_count(0)

    in_browser(steps, person=cast.viewer)
    assert places(board) == BEFORE


@pytest.mark.parametrize("size", [DESKTOP, PHONE])
def test_it_can_be_read_by_all_while_something_is_moved(
    cast: Cast, board: Board, in_browser: InBrowser, size: tuple[int, int]
) -> None:
    def steps(page: Page) -> tuple[list[str], bool]:
        open_layout(page, board)
        drag(page, "P1", 150, 0)
        number(page, 1)
        expect(page.locator("#selection")).to_contain_text("Low Ember")
        return axe_violations(page), overflows_sideways(page)

    assert in_browser(steps, person=cast.editor, size=size) == ([], False)


def test_escape_ends_measuring_and_leaves_what_is_chosen(
    cast: Cast, board: Board, in_browser: InBrowser
) -> None:
    def steps(page: Page) -> None:
        open_layout(page, board)
        thing(page, "P1").click()
        expect(page.locator("#selection")).to_contain_text("Low Ember")
        page.locator("a[data-measure]").click()
        expect(page.locator("#layout-drawing[data-measuring]")).to_have_count(1)
        page.keyboard.press("Escape")
        expect(page.locator("#layout-drawing[data-measuring]")).to_have_count(0)
        expect(thing(page, "P1")).to_have_class(re.compile("is-selected"))
        page.keyboard.press("Escape")
        expect(page.locator("#selection")).to_contain_text("Nothing chosen")

    in_browser(steps, person=cast.editor)
