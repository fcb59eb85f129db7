"""Things are placed on the drawing by mouse and finger, from the tray and back."""

import re

import pytest
from playwright.sync_api import Page, expect

from boardshop.boards.models import Board
from tests.board_factories import plan_of
from tests.browser.placing import (
    BEFORE,
    drag,
    finger,
    middle,
    middle_in_view,
    number,
    open_layout,
    places,
    px_per_mm,
    thing,
    trying,
)
from tests.browser.placing import board as board
from tests.chromium import DESKTOP, PHONE, InBrowser
from tests.factories import Cast

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


def test_a_pedal_is_dragged_and_lies_there(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        open_layout(page, board)
        drag(page, "P1", 50, 90)
        number(page, 1)
        expect(page.locator(".d-ghost-body, .is-away, .d-guide")).to_have_count(0)
        expect(thing(page, "P1")).to_have_class(re.compile("is-selected"))
        expect(page.locator("#selection")).to_contain_text("Low Ember")
        expect(page.locator("#selected-x")).to_have_value(re.compile("1(49|50|51)"))

    in_browser(steps, person=cast.editor)
    x, y, turn = places(board)["P1"] or (0, 0, 0)
    assert abs(x - 150) <= 1
    assert abs(y - 110) <= 1
    assert places(board) == BEFORE | {"P1": (x, y, turn)}


def test_what_would_be_found_is_shown_before_it_is_let_go(
    cast: Cast, board: Board, in_browser: InBrowser
) -> None:
    def steps(page: Page) -> None:
        open_layout(page, board)
        drag(page, "P1", 150, 0, drop=False)
        expect(trying(page)).to_contain_text("It brings L03 (fault)")
        expect(trying(page)).to_contain_text("overlap")
        expect(page.locator(".d-live [data-found=P1]")).to_have_count(1)
        expect(page.locator(".d-live [data-found=P2]")).to_contain_text("L03")
        page.keyboard.press("Escape")
        page.mouse.up()
        expect(trying(page)).to_be_hidden()
        expect(page.locator(".d-live, .d-ghost-body, .is-away")).to_have_count(0)
        number(page, 0)

    in_browser(steps, person=cast.editor)
    assert places(board) == BEFORE


def test_it_snaps_to_the_gap_beside_a_neighbour(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    """P2 begins at 300, P1 is 73 wide and the gap 4: it comes to lie at 223, in line with P2 at 20."""

    def steps(page: Page) -> None:
        open_layout(page, board)
        at, scale = middle(thing(page, "P1")), px_per_mm(page)
        page.mouse.move(*at)
        page.mouse.down()
        page.mouse.move(at[0] + 121 * scale, at[1] - 3 * scale, steps=6)
        expect(page.locator(".d-guide")).not_to_have_count(0)
        page.mouse.up()
        number(page, 1)

    in_browser(steps, person=cast.editor)
    assert places(board)["P1"] == (223, 20, 0)


@pytest.mark.parametrize("size", [DESKTOP, PHONE])
def test_a_finger_on_a_pedal_drags_it(
    cast: Cast, board: Board, in_browser: InBrowser, size: tuple[int, int]
) -> None:
    def steps(page: Page) -> None:
        open_layout(page, board)
        touch = finger(page)
        x, y = middle(thing(page, "P1"))
        touch("touchStart", x, y)
        touch("touchEnd")
        expect(page.locator("#selection-head")).to_contain_text("P1")
        x, y = middle(thing(page, "P1"))
        goal = y - 100 * px_per_mm(page)
        touch("touchStart", x, y)
        for part in (0.3, 0.6, 1.0):
            touch("touchMove", x, y + (goal - y) * part)
        expect(trying(page)).to_contain_text("Low Ember")
        touch("touchEnd")
        number(page, 1)

    in_browser(steps, person=cast.editor, size=size)
    x, y, _turn = places(board)["P1"] or (0, 0, 0)
    assert abs(x - 100) <= 8
    assert abs(y - 120) <= 12


@pytest.mark.parametrize("what", ['a[data-ref="P1"]', ".d-frame"], ids=["a pedal", "the ground"])
def test_a_finger_that_passes_over_it_moves_nothing(
    cast: Cast, board: Board, in_browser: InBrowser, what: str
) -> None:
    """Nothing is chosen, so the page is scrolled."""

    def steps(page: Page) -> None:
        open_layout(page, board)
        touch = finger(page)
        x, y = middle(page.locator(f"#layout-drawing {what}").first)
        touch("touchStart", x, y)
        for part in (20, 60, 120):
            touch("touchMove", x, y - part)
        touch("touchEnd")
        expect(page.locator(".d-ghost-body, .d-band")).to_have_count(0)
        number(page, 0)

    in_browser(steps, person=cast.editor, size=PHONE)


def test_a_pinned_pedal_is_not_dragged_away(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        open_layout(page, board)
        drag(page, "P3", 100, 0)
        expect(page.locator("#selection")).to_contain_text("Pinned: only its fields move it.")
        expect(page.locator(".d-ghost-body")).to_have_count(0)
        number(page, 0)

    in_browser(steps, person=cast.editor)
    assert places(board) == BEFORE


def test_from_the_tray_onto_the_board_and_back(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        open_layout(page, board)
        expect(page.locator("#tray [data-waiting]")).to_have_count(2)
        goal = middle(page.locator("#layout-drawing .d-frame"))
        start = middle(page.locator("[data-waiting=P4] .chip-grip"))
        goal = middle_in_view(page, "#layout-drawing .d-frame")
        page.mouse.move(*start)
        page.mouse.down()
        page.mouse.move(goal[0] + 60, goal[1], steps=8)
        expect(trying(page)).to_contain_text("Grain Hall")
        page.mouse.up()
        number(page, 1)
        expect(page.locator("#tray [data-waiting]")).to_have_count(1)
        page.get_by_role("button", name="Put on the board S1").click()
        number(page, 2)
        expect(page.locator("#tray")).to_contain_text("None: everything has a place.")

    in_browser(steps, person=cast.editor)
    assert places(board)["P4"] is not None
    assert plan_of(board).supplies[0].place is not None


def test_a_move_that_came_too_late_goes_back_and_says_so(
    cast: Cast, board: Board, in_browser: InBrowser
) -> None:
    def steps(page: Page) -> None:
        open_layout(page, board)
        other = page.context.new_page()
        open_layout(other, board)
        drag(other, "P2", 200, 0)
        number(other, 1)
        drag(page, "P1", 0, 100)
        expect(page.locator("#conflict")).to_contain_text("was changed after you opened it")
        expect(page.locator("#conflict")).to_contain_text("Slow Tide")
        expect(page.locator(".d-ghost-body, .is-away")).to_have_count(0)
        expect(thing(page, "P1")).to_have_attribute("data-y", "20")
        page.get_by_role("button", name="Make my change again").click()
        number(page, 2)

    in_browser(steps, person=cast.editor, expect_errors=True)
    assert abs((places(board)["P1"] or (0, 0, 0))[1] - 120) <= 1
    assert abs((places(board)["P2"] or (0, 0, 0))[0] - 500) <= 1


def test_moves_that_follow_each_other_quickly_are_all_kept(
    cast: Cast, board: Board, in_browser: InBrowser
) -> None:
    def steps(page: Page) -> None:
        open_layout(page, board)
        drag(page, "P1", 0, 150)
        drag(page, "P2", 150, 0)
        drag(page, "P1", 20, 0)
        number(page, 3)
        expect(page.locator(".d-ghost-body, .is-away")).to_have_count(0)

    in_browser(steps, person=cast.editor)
    (x1, y1, _), (x2, _, _) = places(board)["P1"] or (0, 0, 0), places(board)["P2"] or (0, 0, 0)
    assert abs(x1 - 120) <= 2
    assert abs(y1 - 170) <= 2
    assert abs(x2 - 450) <= 2


def test_a_finding_brings_out_the_two_things(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        open_layout(page, board)
        drag(page, "P1", 150, 0)
        number(page, 1)
        expect(page.locator(".d-marks [data-found=P2]")).to_contain_text("L03")
        page.locator("#findings [data-about='P1 P2']").first.hover()
        for ref in ("P1", "P2"):
            expect(thing(page, ref)).to_have_class(re.compile("is-pointed"))
        expect(thing(page, "P3")).not_to_have_class(re.compile("is-pointed"))

    in_browser(steps, person=cast.editor)
