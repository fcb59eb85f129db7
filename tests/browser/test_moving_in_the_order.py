"""A pedal is moved in the order: by its grip, by a stop of the strip, by keys, by a number, by touch."""

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import FloatRect, Locator, Page, expect

from boardshop.boards.models import Board
from boardshop.core.order import signal_paths
from tests.board_factories import make_board, plan_of
from tests.chromium import DESKTOP, PHONE, InBrowser
from tests.core import builders as b
from tests.factories import Cast

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
NAMES = ("Plumb", "Cinder", "Long Tide", "Harrow")


@pytest.fixture
def board(cast: Cast) -> Board:
    return make_board(cast.shop, [b.pedal(f"P{n}", name=name) for n, name in enumerate(NAMES, 1)])


def order_of(board: Board) -> str:
    (path,) = signal_paths(plan_of(board))
    return " ".join(path.refs)


def names_in_list(page: Page) -> Locator:
    return page.locator("#order-rows .row-name > a:first-child")


def box_of(part: Locator) -> FloatRect:
    box = part.bounding_box()
    assert box is not None
    return box


def drag(page: Page, grip: Locator, target: Locator, *, into: float, along: str) -> None:
    """From the middle of one to ``into`` (0..1) of the other, along x or y."""
    grip.scroll_into_view_if_needed()
    start, end = box_of(grip), box_of(target)
    page.mouse.move(start["x"] + start["width"] / 2, start["y"] + start["height"] / 2)
    page.mouse.down()
    x = end["x"] + end["width"] * (into if along == "x" else 0.5)
    y = end["y"] + end["height"] * (into if along == "y" else 0.5)
    page.mouse.move(x, y, steps=6)
    page.mouse.up()


def by_grip(page: Page) -> None:
    drag(page, page.locator("#grip-P4"), page.locator("#play-P2"), into=0.2, along="y")


def by_strip(page: Page) -> None:
    stops = page.locator(".strip [data-ref]")
    drag(page, stops.nth(3), stops.nth(1), into=0.2, along="x")


def by_number(page: Page) -> None:
    page.get_by_label("Position of Harrow in its line").fill("2")
    page.keyboard.press("Tab")


def by_arrows_on_the_grip(page: Page) -> None:
    page.locator("#grip-P4").focus()
    page.keyboard.press("ArrowUp")
    page.keyboard.press("ArrowUp")  # before the first answer is there


def by_arrows_on_the_strip(page: Page) -> None:
    for place in (3, 2):
        page.locator(".strip [data-ref] a").nth(place).focus()
        page.keyboard.press("Shift+ArrowLeft")
        expect(names_in_list(page).nth(place - 1)).to_have_text("Harrow")


def by_button(page: Page) -> None:
    for place in (2, 1):
        page.get_by_role("button", name="Harrow one place earlier").click()
        expect(names_in_list(page).nth(place)).to_have_text("Harrow")


@pytest.mark.parametrize("size", [DESKTOP, PHONE])
@pytest.mark.parametrize(
    "way", [by_grip, by_strip, by_number, by_arrows_on_the_grip, by_arrows_on_the_strip, by_button]
)
def test_the_fourth_comes_second(
    cast: Cast, board: Board, in_browser: InBrowser, way: Callable[[Page], None], size: tuple[int, int]
) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/order")
        way(page)
        expect(names_in_list(page)).to_have_text(["Plumb", "Harrow", "Cinder", "Long Tide"])

    in_browser(steps, person=cast.editor, size=size)
    assert order_of(board) == "P1 P4 P2 P3"


def test_without_scripts_the_number_has_a_button(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/order")
        expect(page.locator("#grip-P4")).to_be_hidden()
        page.get_by_label("Position of Harrow in its line").fill("2")
        page.get_by_role("button", name="Move Harrow", exact=True).click()
        expect(names_in_list(page)).to_have_text(["Plumb", "Harrow", "Cinder", "Long Tide"])

    in_browser(steps, person=cast.editor, scripts=False)
    assert order_of(board) == "P1 P4 P2 P3"


def test_escape_and_a_drop_on_itself_leave_everything(
    cast: Cast, board: Board, in_browser: InBrowser
) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/order")
        grip, target = page.locator("#grip-P4"), page.locator("#play-P2")
        drag(page, grip, page.locator("#play-P4"), into=0.9, along="y")
        start, end = box_of(grip), box_of(target)
        page.mouse.move(start["x"] + 4, start["y"] + 4)
        page.mouse.down()
        page.mouse.move(end["x"] + 4, end["y"] + 4, steps=4)
        expect(page.locator(".drops-before")).to_have_count(1)
        page.keyboard.press("Escape")
        page.mouse.up()
        expect(page.locator(".is-moving, .drops-before, .drops-behind")).to_have_count(0)

    in_browser(steps, person=cast.editor)
    assert (order_of(board), Board.objects.get(pk=board.pk).edit_number) == ("P1 P2 P3 P4", 0)


def test_a_number_that_is_no_place_is_said_beside_it_and_stays(
    cast: Cast, board: Board, in_browser: InBrowser
) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/order")
        field = page.get_by_label("Position of Harrow in its line")
        field.fill("9")
        page.keyboard.press("Enter")
        expect(page.get_by_text("The line has 4 places; choose one from 1 to 4.")).to_be_visible()
        expect(field).to_have_value("9")
        expect(field).to_have_attribute("aria-invalid", "true")

    in_browser(steps, person=cast.editor, expect_errors=True)
    assert order_of(board) == "P1 P2 P3 P4"


def test_one_move_of_a_schools_can_be_taken_alone(cast: Cast, in_browser: InBrowser) -> None:
    kinds = ("reverb", "delay", "overdrive")
    board = make_board(cast.shop, [b.pedal(f"P{n}", kind) for n, kind in enumerate(kinds, 1)])

    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/order")
        page.get_by_role("button", name=re.compile("Move it.*P3")).first.click()
        expect(page.locator("#school-common > summary")).to_contain_text("1 move, 3 cables re-made")

    in_browser(steps, person=cast.editor)
    assert order_of(board) == "P3 P1 P2"
