"""A board whose things are placed by hand, and what a hand does on its drawing."""

from collections.abc import Callable

import pytest
from playwright.sync_api import FloatRect, Locator, Page, expect

from boardshop.boards.models import Board
from boardshop.core.plan import Rules
from tests.board_factories import make_board, plan_of
from tests.core import builders as b
from tests.core.layout_boards import PLAIN
from tests.factories import Cast

BEFORE = {"P1": (100, 20, 0), "P2": (300, 20, 0), "P3": (300, 220, 0), "P4": None}


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


def finger(page: Page) -> Callable[..., None]:
    session = page.context.new_cdp_session(page)

    def touch(kind: str, *at: float) -> None:
        points = [{"x": at[0], "y": at[1]}] if at else []
        session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    return touch


def middle_in_view(page: Page, of: str) -> tuple[float, float]:
    box = page.locator(of).bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, max(box["y"], 0) + 40
