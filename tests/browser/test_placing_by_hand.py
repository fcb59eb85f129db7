"""Things are placed by hand on the drawing: by mouse, finger and keys, several at once, with scripts off."""

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import FloatRect, Locator, Page, expect

from boardshop.boards.models import Board
from boardshop.core.plan import Rules
from tests.board_factories import make_board, plan_of
from tests.chromium import DESKTOP, PHONE, InBrowser, axe_violations, overflows_sideways
from tests.core import builders as b
from tests.core.layout_boards import PLAIN
from tests.factories import Cast

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def board(cast: Cast) -> Board:
    """P1 and P2, 73 x 130, side by side, P3 behind them and pinned, P4 in the tray; supply S1 not placed."""
    pedals = [
        b.pedal("P1", at=(100, 20), name="Low Ember", turns=(0, 90), **PLAIN),
        b.pedal("P2", at=(300, 20), name="Slow Tide", **PLAIN),
        b.pedal("P3", at=(300, 220), name="Far Shed", pinned=True, **PLAIN),
        b.pedal("P4", name="Grain Hall", use=2, **PLAIN),
    ]
    rules = Rules(gap_mm=4)
    return make_board(cast.shop, pedals, links=(), feeds=(), frame=b.frame(900, 400), rules=rules)


def places(board: Board) -> dict[str, tuple[int, int, int] | None]:
    return {p.ref: p.place and (p.place.x, p.place.y, p.place.turn) for p in plan_of(board).pedals}


BEFORE = {"P1": (100, 20, 0), "P2": (300, 20, 0), "P3": (300, 220, 0), "P4": None}


def thing(page: Page, ref: str) -> Locator:
    return page.locator(f"#layout-drawing a[data-ref={ref}]")


def middle(part: Locator) -> tuple[float, float]:
    part.scroll_into_view_if_needed()
    box: FloatRect | None = part.bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def px_per_mm(page: Page) -> float:
    scale: float = page.evaluate("document.querySelector('svg.board-drawing').getScreenCTM().a")
    return scale


def number(page: Page, count: int) -> None:
    expect(page.locator("#edit-number")).to_have_value(str(count))


def trying(page: Page) -> Locator:
    return page.locator("#trying")


def open_layout(page: Page, board: Board) -> None:
    page.goto(f"/boards/{board.code}/layout")
    page.locator("#layout-drawing").scroll_into_view_if_needed()


def drag(page: Page, ref: str, x: float, y: float, drop: bool = True) -> None:
    """So many mm to the right and to the rear, with Alt so that nothing snaps."""
    at, scale = middle(thing(page, ref)), px_per_mm(page)
    page.mouse.move(*at)
    page.mouse.down()
    page.keyboard.down("Alt")
    page.mouse.move(at[0] + x * scale, at[1] - y * scale, steps=6)
    if drop:
        page.mouse.up()
    page.keyboard.up("Alt")


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


def finger(page: Page) -> Callable[..., None]:
    session = page.context.new_cdp_session(page)

    def touch(kind: str, *at: float) -> None:
        points = [{"x": at[0], "y": at[1]}] if at else []
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    return touch


def test_a_finger_on_the_ground_moves_nothing(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        open_layout(page, board)
        touch = finger(page)
        x, y = middle(page.locator("#layout-drawing .d-frame"))
        touch("touchStart", x, y)
        for part in (20, 60, 120):
            touch("touchMove", x, y - part)
        touch("touchEnd")
        expect(page.locator(".d-ghost-body, .d-band")).to_have_count(0)
        number(page, 0)

    in_browser(steps, person=cast.editor, size=PHONE)


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


def test_a_pinned_pedal_is_not_dragged_away(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        open_layout(page, board)
        drag(page, "P3", 100, 0)
        expect(page.locator("#selection")).to_contain_text("Pinned: only its fields move it.")
        expect(page.locator(".d-ghost-body")).to_have_count(0)
        number(page, 0)

    in_browser(steps, person=cast.editor)
    assert places(board) == BEFORE


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

    in_browser(steps, person=cast.editor)


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


def middle_in_view(page: Page, of: str) -> tuple[float, float]:
    box = page.locator(of).bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, max(box["y"], 0) + 40


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
