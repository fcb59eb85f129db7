"""A drawing is looked at closely: by buttons, keys, wheel and two fingers; and it is measured on."""

import re

import pytest
from playwright.sync_api import FloatRect, Locator, Page, expect

from boardshop.boards.models import Board
from tests.board_factories import make_board, plan_of
from tests.chromium import DESKTOP, PHONE, InBrowser, axe_violations, overflows_sideways
from tests.core import builders as b
from tests.core.layout_boards import PLAIN
from tests.factories import Cast

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def board(cast: Cast) -> Board:
    """P1 from 100 to 173 and P2 from 300 to 373 in x, both from 20 to 150 in y."""
    places = {"P1": (100, 20), "P2": (300, 20)}
    pedals = [b.pedal(ref, at=at, name=ref, **PLAIN) for ref, at in places.items()]
    supply = b.under_frame(b.supply("S1"), 600, 200)
    return make_board(cast.shop, pedals, links=(), feeds=(), supplies=(supply,), frame=b.frame(900, 400))


def open_view(page: Page, board: Board, view: str = "") -> None:
    page.goto(f"/boards/{board.code}/layout{view}")
    drawing(page).scroll_into_view_if_needed()


def drawing(page: Page) -> Locator:
    return page.locator(".drawing-box svg.board-drawing")


def shown(page: Page) -> list[float]:
    return [float(part) for part in (drawing(page).get_attribute("viewBox") or "").split()]


def area(part: Locator) -> FloatRect:
    box = part.bounding_box()
    assert box is not None
    return box


def body(page: Page, ref: str) -> Locator:
    return page.locator(f"svg.board-drawing rect[data-ref={ref}]").first


def press(page: Page, ref: str, across: float = 0.5, deep: float = 0.4) -> None:
    box = area(body(page, ref))
    page.mouse.click(box["x"] + across * box["width"], box["y"] + deep * box["height"])


def said(page: Page) -> Locator:
    return page.locator("#measured")


def test_buttons_and_keys_make_it_larger_and_fit_it_again(
    cast: Cast, board: Board, in_browser: InBrowser
) -> None:
    def steps(page: Page) -> None:
        open_view(page, board)
        whole = shown(page)
        page.get_by_role("button", name="Larger").click()
        assert shown(page)[2] == pytest.approx(whole[2] / 1.4, abs=0.1)
        expect(page.locator("[data-zoom-said]")).to_have_text("140 %")
        page.locator(".drawing-box").focus()
        page.keyboard.press("+")
        assert shown(page)[2] == pytest.approx(whole[2] / 1.96, abs=0.1)
        page.keyboard.press("-")
        assert shown(page)[2] == pytest.approx(whole[2] / 1.4, abs=0.1)
        page.keyboard.press("0")
        assert shown(page) == whole
        page.get_by_role("button", name="Smaller").click()
        assert shown(page) == whole

    in_browser(steps, person=cast.viewer)


def test_with_ctrl_the_wheel_zooms_about_the_pointer_and_without_it_scrolls(
    cast: Cast, board: Board, in_browser: InBrowser
) -> None:
    def steps(page: Page) -> None:
        open_view(page, board)
        whole, before = shown(page), area(body(page, "P2"))
        at = before["x"] + before["width"] / 2, before["y"] + before["height"] / 2
        page.mouse.move(*at)
        page.mouse.wheel(0, 10)
        page.wait_for_timeout(100)
        assert shown(page) == whole
        after = area(body(page, "P2"))
        at = after["x"] + after["width"] / 2, after["y"] + after["height"] / 2
        page.mouse.move(*at)
        page.keyboard.down("Control")
        page.mouse.wheel(0, -100)
        page.keyboard.up("Control")
        expect(page.locator("[data-zoom-said]")).to_have_text("140 %")
        box = area(body(page, "P2"))
        assert (box["x"] + box["width"] / 2, box["y"] + box["height"] / 2) == pytest.approx(at, abs=2)

    in_browser(steps, person=cast.viewer)


def test_empty_ground_moves_the_drawing_and_a_body_still_moves_itself(
    cast: Cast, board: Board, in_browser: InBrowser
) -> None:
    def steps(page: Page) -> None:
        open_view(page, board)
        page.get_by_role("button", name="Larger").click()
        before, box = shown(page), area(body(page, "P2"))
        ground = box["x"] - 0.4 * box["width"], box["y"] + 0.5 * box["height"]
        page.mouse.move(*ground)
        page.mouse.down()
        page.mouse.move(ground[0] + 60, ground[1], steps=4)
        page.mouse.up()
        assert shown(page)[0] < before[0]
        assert shown(page)[2:] == before[2:]
        page.mouse.move(*(area(body(page, "P1"))[key] + 20 for key in ("x", "y")))
        page.mouse.down()
        page.keyboard.down("Alt")
        start = area(body(page, "P1"))
        page.mouse.move(start["x"] + 50, start["y"] + 20, steps=4)
        page.mouse.up()
        page.keyboard.up("Alt")
        expect(page.locator("#edit-number")).to_have_value("1")
        expect(page.locator("[data-zoom-said]")).to_have_text("140 %")
        assert shown(page)[2] == pytest.approx(before[2], abs=0.1)

    in_browser(steps, person=cast.editor)
    assert plan_of(board).pedals[0].place.x > 100


def test_two_things_are_measured_on_the_drawing(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        open_view(page, board)
        toggle = page.locator("a[data-measure]")
        toggle.click()
        expect(toggle).to_have_attribute("aria-pressed", "true")
        expect(said(page)).to_contain_text("Choose the first")
        press(page, "P1")
        expect(said(page)).to_contain_text("second")
        press(page, "P2")
        expect(said(page)).to_contain_text("127 mm in x, 0 mm in y, 127 mm straight")
        expect(page.locator("svg.board-drawing .d-measure-line")).to_have_count(1)
        expect(page.locator("#announcer")).to_contain_text("127 mm")
        page.keyboard.press("Escape")
        expect(toggle).to_have_attribute("aria-pressed", "false")
        expect(page.locator("svg.board-drawing .d-measure-line")).to_have_count(0)
        expect(said(page)).to_be_hidden()

    in_browser(steps, person=cast.editor)
    assert Board.objects.get(pk=board.pk).edit_number == 0


def test_near_an_edge_the_edge_is_meant(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        open_view(page, board)
        page.locator("a[data-measure]").click()
        press(page, "P1", across=0.02)
        press(page, "P2", across=0.98)
        # From 100 to 373.
        expect(said(page)).to_contain_text("the left edge of P1 to the right edge of P2: 273 mm in x")

    in_browser(steps, person=cast.viewer)


def test_on_the_mirrored_underside_left_stays_the_players(
    cast: Cast, board: Board, in_browser: InBrowser
) -> None:
    def steps(page: Page) -> None:
        open_view(page, board, "/underside")
        page.locator("a[data-measure]").click()
        press(page, "S1", across=0.02)
        frame = area(page.locator("svg.board-drawing .d-frame"))
        page.mouse.click(frame["x"] + 2, frame["y"] + frame["height"] / 2)
        # S1 is 160 wide from 600 on in a frame of 900.
        expect(said(page)).to_contain_text(
            "the right edge of the supply S1 to the right edge of the frame: 140 mm"
        )

    in_browser(steps, person=cast.viewer)


def test_with_the_keyboard_alone(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        open_view(page, board)
        page.locator("a[data-measure]").focus()
        page.keyboard.press("Space")
        for ref in ("P1", "P2"):
            page.locator(f"svg.board-drawing a[data-ref={ref}]").focus()
            page.keyboard.press("Enter")
        expect(said(page)).to_contain_text("127 mm in x")

    in_browser(steps, person=cast.viewer)


def test_two_fingers_zoom_a_phone_and_one_scrolls_it(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        open_view(page, board, "/side")
        touch = page.context.new_cdp_session(page)

        def fingers(kind: str, *points: tuple[float, float]) -> None:
            touch.send(
                "Input.dispatchTouchEvent",
                {"type": kind, "touchPoints": [{"x": x, "y": y, "id": n} for n, (x, y) in enumerate(points)]},
            )

        whole, box = shown(page), area(page.locator(".drawing-box"))
        x, y = box["x"] + 150, box["y"] + 150
        fingers("touchStart", (x - 20, y), (x + 20, y))
        for far in (30, 40, 50, 60):
            fingers("touchMove", (x - far, y), (x + far, y))
        fingers("touchEnd")
        assert shown(page)[2] == pytest.approx(whole[2] / 3, rel=0.05)
        page.get_by_role("button", name="Fit").click()
        top = page.evaluate("scrollY")
        box = area(page.locator(".drawing-box"))
        x, y = box["x"] + 150, box["y"] + 200
        fingers("touchStart", (x, y))
        for down in (20, 60, 100, 140):
            fingers("touchMove", (x, y - down))
        fingers("touchEnd")
        page.wait_for_timeout(300)
        assert page.evaluate("scrollY") > top
        assert shown(page) == whole

    in_browser(steps, person=cast.viewer, size=PHONE)


@pytest.mark.parametrize("size", [DESKTOP, PHONE])
@pytest.mark.parametrize("view", ["/underside", "/side", "/measure?from=P1&to=P2"])
def test_scripts_off_every_view_is_a_page(
    cast: Cast, board: Board, in_browser: InBrowser, view: str, size: tuple[int, int]
) -> None:
    def steps(page: Page) -> None:
        open_view(page, board, view)
        expect(page.locator(".zoom")).to_be_hidden()
        assert not overflows_sideways(page)
        if "measure" in view:
            expect(page.locator(".measured-said")).to_contain_text("127 mm")
            page.locator("#measure-from").select_option("P1")
            page.locator("#measure-to").select_option("frame edge")
            page.locator("#measure-to-edge").select_option("left")
            page.locator(".measure-form button").click()
            expect(page.locator(".measured-said")).to_contain_text("100 mm in x")
            return
        page.get_by_role("link", name=re.compile("From above")).click()
        expect(page.locator("#layout-drawing")).to_be_visible()

    in_browser(steps, person=cast.viewer, size=size, scripts=False)


@pytest.mark.parametrize("view", ["/underside", "/side", "/measure?from=P1&to=P2"])
def test_each_view_is_accessible(cast: Cast, board: Board, in_browser: InBrowser, view: str) -> None:
    def steps(page: Page) -> None:
        open_view(page, board, view)
        assert axe_violations(page) == []

    in_browser(steps, person=cast.viewer)
