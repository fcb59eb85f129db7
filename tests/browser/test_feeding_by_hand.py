"""A plug is moved by hand: by mouse, by finger, by keys, by choosing, and with scripts off."""

import re

import pytest
from playwright.sync_api import FloatRect, Locator, Page, expect

from boardshop.boards.models import Board
from tests.board_factories import feeds_of, make_board
from tests.chromium import DESKTOP, PHONE, InBrowser, axe_violations, overflows_sideways
from tests.core import builders as b
from tests.core.feeding_cases import drawing
from tests.factories import Cast

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]
BEFORE = {"P1.DC": "S1.1", "P2.DC": "S1.1"}


@pytest.fixture
def board(cast: Cast) -> Board:
    """P1 and P2 on S1.1 at 180 %, P3 waits; S1.2 gives 300 mA, S1.3 and S1.4 are of one group of 150 mA."""
    group = {"group": "A", "group_max_ma": 150}
    outlets = [b.outlet("1"), b.outlet("2", max_ma=300), b.outlet("3", **group), b.outlet("4", **group)]
    pedals = [drawing(90, "P1"), drawing(90, "P2"), drawing(100, "P3")]
    feeds = (b.feed("S1.1", "P1.DC"), b.feed("S1.1", "P2.DC"))
    return make_board(cast.shop, pedals, supplies=(b.supply("S1", *outlets),), feeds=feeds)


def chip(page: Page, jack: str) -> Locator:
    return page.locator(f"#chip-{jack}-DC")


def outlet(page: Page, number: int) -> Locator:
    return page.locator(f"#outlet-S1-{number}")


def trying(page: Page) -> Locator:
    return page.locator("#trying")


def middle(part: Locator) -> tuple[float, float]:
    box: FloatRect | None = part.bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + min(box["height"] / 2, 40)


def drag(page: Page, start: Locator, goal: Locator) -> None:
    """Up to the goal, without letting go."""
    start.scroll_into_view_if_needed()
    page.mouse.move(*middle(start))
    page.mouse.down()
    page.mouse.move(*middle(goal), steps=6)


def number(page: Page, count: int) -> None:
    expect(page.locator("#edit-number")).to_have_value(str(count))


def test_a_waiting_pedal_is_dragged_onto_an_outlet(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/power")
        expect(page.locator("#waiting .chip")).to_have_count(1)
        drag(page, chip(page, "P3"), outlet(page, 2))
        expect(outlet(page, 2)).to_have_class(re.compile("is-aimed"))
        expect(trying(page)).to_contain_text("to S1.2")
        page.mouse.up()
        number(page, 1)
        expect(outlet(page, 2).locator(".chip")).to_have_count(1)
        expect(page.locator("#waiting .chip")).to_have_count(0)
        expect(trying(page)).to_be_hidden()
        expect(page.locator(".is-ghost, .is-moving, .is-aimed, .is-dragging")).to_have_count(0)

    in_browser(steps, person=cast.editor)
    assert feeds_of(board) == BEFORE | {"P3.DC": "S1.2"}


def test_what_would_be_is_told_before_the_plug_is_let_go(
    cast: Cast, board: Board, in_browser: InBrowser
) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/power")
        drag(page, chip(page, "P2"), outlet(page, 2))
        expect(trying(page)).to_contain_text("180.0 % to 30.0 %")
        expect(trying(page)).to_contain_text("It settles P08 (fault)")
        page.keyboard.press("Escape")
        page.mouse.up()
        expect(trying(page)).to_be_hidden()
        number(page, 0)

    in_browser(steps, person=cast.editor)
    assert feeds_of(board) == BEFORE


def test_a_fed_pedal_goes_to_another_outlet_and_back_to_the_tray(
    cast: Cast, board: Board, in_browser: InBrowser
) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/power")
        drag(page, chip(page, "P2"), outlet(page, 3))
        page.mouse.up()
        number(page, 1)
        drag(page, chip(page, "P1"), page.locator("#waiting"))
        expect(page.locator("#waiting")).to_have_class(re.compile("is-aimed"))
        page.mouse.up()
        number(page, 2)
        expect(page.locator("#waiting .chip")).to_have_count(2)
        drag(page, chip(page, "P2"), outlet(page, 3))  # where it is already
        page.mouse.up()
        number(page, 2)

    in_browser(steps, person=cast.editor)
    assert feeds_of(board) == {"P2.DC": "S1.3"}


@pytest.mark.parametrize("size", [DESKTOP, PHONE])
def test_a_finger_on_the_grip_drags(
    cast: Cast, board: Board, in_browser: InBrowser, size: tuple[int, int]
) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/power")
        finger = page.context.new_cdp_session(page)

        def touch(kind: str, *at: float) -> None:
            points = [{"x": at[0], "y": at[1]}] if at else []
            finger.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

        grip = chip(page, "P2").locator(".chip-grip")
        grip.scroll_into_view_if_needed()
        (x, y), goal = middle(grip), middle(outlet(page, 2))
        touch("touchStart", x, y)
        for part in (0.2, 0.6, 1.0):
            touch("touchMove", x + (goal[0] - x) * part, y + (goal[1] - y) * part)
        expect(trying(page)).to_contain_text("180.0 % to 30.0 %")
        touch("touchEnd")
        number(page, 1)

    in_browser(steps, person=cast.editor, size=size)
    assert feeds_of(board) == {"P1.DC": "S1.1", "P2.DC": "S1.2"}


def test_keys_go_through_the_outlets_and_tell_each(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/power")
        chip(page, "P2").focus()
        page.keyboard.press("ArrowRight")
        expect(page.locator("#announcer")).to_contain_text("from S1.1 to S1.2: 180.0 % to 30.0 %, matches.")
        page.keyboard.press("ArrowRight")
        expect(page.locator("#announcer")).to_contain_text("to S1.3")
        page.keyboard.press("Escape")
        expect(trying(page)).to_be_hidden()
        page.keyboard.press("ArrowLeft")  # from the first to the last
        expect(outlet(page, 4)).to_have_class(re.compile("is-aimed"))
        page.keyboard.press("Enter")
        number(page, 1)
        expect(outlet(page, 4).locator(".chip")).to_have_count(1)
        expect(chip(page, "P2")).to_be_focused()

    in_browser(steps, person=cast.editor)
    assert feeds_of(board) == {"P1.DC": "S1.1", "P2.DC": "S1.4"}


def test_leaving_a_pedal_leaves_what_was_tried(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/power")
        chip(page, "P2").focus()
        page.keyboard.press("ArrowDown")
        expect(trying(page)).to_be_visible()
        page.keyboard.press("Tab")
        expect(trying(page)).to_be_hidden()
        number(page, 0)

    in_browser(steps, person=cast.editor)
    assert feeds_of(board) == BEFORE


def test_a_row_tells_what_is_chosen_and_its_button_does_it(
    cast: Cast, board: Board, in_browser: InBrowser
) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/power")
        page.get_by_label("Outlet of P2.DC").select_option("S1.2@9000")
        expect(trying(page)).to_contain_text("180.0 % to 30.0 %")
        page.get_by_role("button", name="Move P2.DC").click()
        number(page, 1)
        expect(page.get_by_label("Outlet of P2.DC")).to_have_value("S1.2@9000")

    in_browser(steps, person=cast.editor)
    assert feeds_of(board) == {"P1.DC": "S1.1", "P2.DC": "S1.2"}


def test_a_move_that_came_too_late_says_so_and_keeps_what_was_chosen(
    cast: Cast, board: Board, in_browser: InBrowser
) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/power")
        other = page.context.new_page()
        other.goto(f"/boards/{board.code}/power")
        drag(other, chip(other, "P1"), outlet(other, 4))
        other.mouse.up()
        number(other, 1)
        drag(page, chip(page, "P2"), outlet(page, 2))
        page.mouse.up()
        expect(page.locator("#conflict")).to_contain_text("was changed after you opened it")
        expect(page.get_by_label("Outlet of P2.DC")).to_have_value("S1.2@9000")
        page.get_by_role("button", name="Make my change again").click()
        number(page, 2)

    in_browser(steps, person=cast.editor, expect_errors=True)
    assert feeds_of(board) == {"P1.DC": "S1.4", "P2.DC": "S1.2"}


def test_with_scripts_off_a_row_moves_a_plug_and_a_page_tells_what_would_be(
    cast: Cast, board: Board, in_browser: InBrowser
) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/power?open=P2.DC")
        expect(page.locator(".chip-grip").first).to_be_hidden()
        expect(page.locator("#chip-help")).to_be_hidden()
        page.get_by_role("link", name="What if S1.2").click()
        expect(page.locator("main")).to_contain_text("180.0 % to 30.0 %")
        page.get_by_role("button", name="Feed P2.DC from S1.2").click()
        expect(page.get_by_label("Outlet of P2.DC")).to_have_value("S1.2@9000")
        page.get_by_label("Outlet of P3.DC").select_option("S1.4@9000")
        page.get_by_role("button", name="Move P3.DC").click()
        page.get_by_label("Outlet of P1.DC").select_option("unfed")
        page.get_by_role("button", name="Move P1.DC").click()
        expect(page.locator("#waiting .chip")).to_have_count(1)

    in_browser(steps, person=cast.editor, scripts=False)
    assert feeds_of(board) == {"P2.DC": "S1.2", "P3.DC": "S1.4"}


def test_a_viewer_drags_nothing(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/power")
        drag(page, chip(page, "P2"), outlet(page, 2))
        page.mouse.up()
        expect(page.locator(".is-ghost, .is-aimed")).to_have_count(0)
        expect(page.locator("#trying")).to_have_count(0)

    in_browser(steps, person=cast.viewer)
    assert feeds_of(board) == BEFORE


@pytest.mark.parametrize("size", [DESKTOP, PHONE])
def test_what_is_told_can_be_read_by_all(
    cast: Cast, board: Board, in_browser: InBrowser, size: tuple[int, int]
) -> None:
    def steps(page: Page) -> tuple[list[str], bool]:
        page.goto(f"/boards/{board.code}/power")
        chip(page, "P3").focus()
        page.keyboard.press("ArrowRight")
        expect(trying(page)).to_contain_text("It brings")
        return axe_violations(page), overflows_sideways(page)

    assert in_browser(steps, person=cast.editor, size=size) == ([], False)
