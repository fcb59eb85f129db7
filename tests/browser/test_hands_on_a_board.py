"""What hands do on a board: keys alone, two tabs, a double click, half a row, a tab pressed too soon."""

import re

import pytest
from playwright.sync_api import Locator, Page, expect

from boardshop.boards.models import Board
from tests.board_factories import links_of, make_board, plan_of
from tests.browser.technician import Technician
from tests.chromium import InBrowser
from tests.core import builders as b
from tests.factories import Cast, make_pedal_model, make_supply_model

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]

MOST_TABS = 90


@pytest.fixture
def board(cast: Cast) -> Board:
    """A fuzz behind a buffered tuner, which R02 is about; the tuner is fed, the others are not."""
    pedals = [
        b.pedal("P1", kind="tuner", name="Plumb", at=(300, 20), bypass="buffered"),
        b.pedal("P2", kind="fuzz", name="Cinder", at=(200, 20), input_ohm=20_000),
        b.pedal("P3", kind="delay", name="Long Tide", at=(100, 20)),
    ]
    make_pedal_model(cast.shop, maker="Marlow", name="Ferry", jacks="IN:in OUT:out", power="DC")
    make_supply_model(cast.shop, maker="Halden", name="Brick", outlets="1 2")
    return make_board(cast.shop, pedals, name="Tour A")


def tab_to(page: Page, target: Locator) -> None:
    """By the Tab key alone, from wherever the focus is."""
    for _ in range(MOST_TABS):
        page.keyboard.press("Tab")
        if target.evaluate("(one) => one === document.activeElement"):
            return
    raise AssertionError(f"{MOST_TABS} times Tab do not lead to {target}")


def go_by_keys(page: Page, link: str) -> None:
    tab_to(page, page.get_by_role("link", name=link, exact=True))
    page.keyboard.press("Enter")
    expect(page).to_have_url(re.compile(link.lower()))


def set_order_by_keys(technician: Technician) -> None:
    page = technician.page
    go_by_keys(page, "Order")
    tab_to(page, technician.button("Cinder one place earlier"))
    page.keyboard.press("Enter")
    expect(technician.finding("R02")).to_have_count(0)
    tab_to(page, page.get_by_label("Normally of P2"))
    page.keyboard.press("ArrowDown")
    expect(page.get_by_label("Normally of P2").locator("option:checked")).to_have_text("bypassed")


def feed_by_keys(technician: Technician) -> None:
    page = technician.page
    go_by_keys(page, "Power")
    tab_to(page, page.get_by_role("link", name="Feed P3.DC"))
    page.keyboard.press("Enter")
    outlets = page.get_by_role("group", name="(P3.DC)")
    expect(outlets).to_be_visible()
    tab_to(page, outlets.get_by_role("radio", name="S1.2 "))  # the first that is free
    page.keyboard.press("ArrowDown")
    tab_to(page, technician.button("Feed P3.DC"))
    page.keyboard.press("Enter")
    expect(page.locator("#outlet-S1-3")).to_contain_text("Long Tide P3.DC")


def place_by_keys(technician: Technician) -> None:
    page = technician.page
    go_by_keys(page, "Layout")
    tab_to(page, page.get_by_label("x mm of P3"))
    page.keyboard.type("9 cm")
    page.keyboard.press("Tab")
    page.keyboard.type("15")
    page.keyboard.press("Enter")
    expect(page.get_by_label("x mm of P3")).to_have_value("90")


def keep_by_keys(technician: Technician, rule: str) -> None:
    page = technician.page
    go_by_keys(page, "Board")
    tab_to(page, technician.finding(rule).locator("summary"))
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    page.keyboard.type("Leads come with the amp.")
    page.keyboard.press("Enter")
    expect(technician.counts()).to_contain_text("1 kept on purpose")


def test_by_keyboard_alone(in_browser: InBrowser, cast: Cast, board: Board) -> None:
    def steps(page: Page) -> None:
        technician = Technician(page)
        page.goto(f"/boards/{board.code}")
        set_order_by_keys(technician)
        feed_by_keys(technician)
        place_by_keys(technician)
        keep_by_keys(technician, "C11")

    in_browser(steps, person=cast.editor)
    plan = plan_of(board)
    assert list(links_of(board).values()) == ["G1.OUT P2.IN", "P2.OUT P1.IN", "P1.OUT P3.IN", "P3.OUT A1.IN"]
    assert {jack: feed.outlets for feed in plan.feeds for jack in feed.jacks}["P3.DC"] == ("S1.3",)
    assert (plan.pedals[2].place.x, plan.pedals[2].place.y) == (90, 15)
    assert [(one.rule, one.why) for one in plan.accepted] == [("C11", "Leads come with the amp.")]


def test_the_focus_stays_where_it_was_put(in_browser: InBrowser, cast: Cast, board: Board) -> None:
    """Or goes on to the neighbour of a button that can do no more."""

    def steps(page: Page) -> None:
        t = Technician(page)
        page.goto(f"/boards/{board.code}/order")
        t.press("Cinder one place earlier")
        expect(t.finding("R02")).to_have_count(0)
        expect(t.button("Cinder one place later")).to_be_focused()
        page.get_by_label("Normally of P3").select_option(label="engaged")
        page.get_by_label("Stepped on of P3").focus()
        expect(page.locator("#edit-number")).to_have_value("2")
        expect(page.get_by_label("Stepped on of P3")).to_be_focused()

    in_browser(steps, person=cast.editor)


def test_what_is_typed_elsewhere_outlives_an_edit(in_browser: InBrowser, cast: Cast, board: Board) -> None:
    def steps(page: Page) -> None:
        t = Technician(page)
        page.on("dialog", lambda dialog: dialog.accept())
        page.goto(f"/boards/{board.code}/order")
        page.get_by_label("Sequence").fill("P3 P2 P1")
        finding = t.finding("R02")
        finding.get_by_text("Keep on purpose").click()
        finding.get_by_label("Why it is kept").fill("She wants it to spit")
        page.get_by_label("Pedal", exact=True).select_option(label="Marlow Ferry, overdrive")
        t.press("Plumb one place later")
        expect(finding).to_have_count(0)
        t.press("Plumb one place earlier")
        expect(page.get_by_label("Stepped on of P3")).to_have_value("0")
        page.get_by_label("Stepped on of P3").select_option(label="3")
        t.press("Long Tide one place earlier")
        expect(page.locator("#edit-number")).to_have_value("4")
        expect(t.finding("R02")).to_have_count(1)
        expect(page.get_by_label("Sequence")).to_have_value("P3 P2 P1")
        expect(page.get_by_label("Pedal", exact=True).locator("option:checked")).to_have_text(
            re.compile("Ferry")
        )

    in_browser(steps, person=cast.editor)
    assert plan_of(board).pedals[2].use == 3


def place_in_another_tab(technician: Technician, x: str) -> None:
    other = technician.page.context.new_page()
    other.goto(technician.page.url)
    there = Technician(other, scripts=technician.scripts)
    there.place("P3", x, "20")
    expect(other.get_by_label("x mm of P3")).to_have_value(x)
    expect(other.get_by_role("alert")).to_have_count(0)
    other.close()


@pytest.mark.parametrize("scripts", [True, False], ids=["scripts", "no-scripts"])
def test_a_late_edit_is_told_and_keeps_what_was_typed(
    in_browser: InBrowser, cast: Cast, board: Board, scripts: bool
) -> None:
    def steps(page: Page) -> None:
        t = Technician(page, scripts=scripts)
        page.goto(f"/boards/{board.code}/layout")
        place_in_another_tab(t, "120")
        # With scripts x is sent as y is typed in; y is not left, since it would be sent for itself, and kept.
        page.get_by_label("x mm of P3").fill("55")
        page.get_by_label("y mm of P3").fill("30")
        if not scripts:
            t.keep("P3")
        expect(page.get_by_role("alert")).to_contain_text("Tour A was changed after you opened it")
        expect(page.get_by_label("x mm of P3")).to_have_value("55")
        expect(page.get_by_label("x mm of P3")).to_have_accessible_description("now: 120")
        expect(page.get_by_label("y mm of P3")).to_have_value("30")
        # On a slow machine a script sends the row again by itself, and its button goes while it is aimed at.
        t.button("Keep P3").dispatch_event("click")
        expect(page.get_by_role("alert")).to_have_count(0)
        expect(page.get_by_label("x mm of P3")).to_have_value("55")

    in_browser(steps, person=cast.editor, scripts=scripts, expect_errors=True)
    place = plan_of(board).pedals[2].place
    assert (place.x, place.y) == (55, 30)


def twice(page: Page, button: str) -> None:
    page.get_by_role("button", name=button, exact=True).dblclick()


def test_a_double_click_begins_one_board(in_browser: InBrowser, cast: Cast) -> None:
    """The clicks 20 ms apart, so that the first is on its way when the second comes."""

    def steps(page: Page) -> None:
        page.goto("/boards/new")
        form = page.get_by_role("region", name="From nothing")
        for label, value in (("Name", "Tour B"), ("Width", "600"), ("Depth", "320")):
            form.get_by_label(label).fill(value)
        box = form.get_by_role("button", name="Begin").bounding_box()
        assert box is not None
        for pause_ms in (20, 0):
            page.mouse.click(box["x"] + 5, box["y"] + 5)
            page.wait_for_timeout(pause_ms)
        expect(page.get_by_role("heading", name="Tour B")).to_be_visible()

    in_browser(steps, person=cast.editor)
    assert Board.objects.count() == 1


@pytest.mark.parametrize("scripts", [True, False], ids=["scripts", "no-scripts"])
def test_a_double_click_puts_on_nothing_twice(
    in_browser: InBrowser, cast: Cast, board: Board, scripts: bool
) -> None:
    """Without scripts the second click may be told that it came late."""

    def steps(page: Page) -> None:
        technician = Technician(page, scripts=scripts)
        page.goto(f"/boards/{board.code}/order")
        page.get_by_label("Pedal", exact=True).select_option(label="Marlow Ferry, overdrive")
        twice(page, "Add pedal")
        expect(page.get_by_role("link", name="Ferry")).to_be_visible()
        technician.open_fold("Add an amp")
        twice(page, "Add amp")
        expect(page.get_by_role("link", name="A2")).to_be_visible()
        page.wait_for_load_state("networkidle")

    in_browser(steps, person=cast.editor, scripts=scripts, expect_errors=not scripts)
    plan = plan_of(board)
    assert [pedal.ref for pedal in plan.pedals] == ["P1", "P2", "P3", "P4"]
    assert [amp.ref for amp in plan.amps] == ["A1", "A2"]


def test_a_pressed_tab_waits_for_the_last_edit(in_browser: InBrowser, cast: Cast, board: Board) -> None:
    """The page that comes next shows it, and its own edits are not late."""

    def steps(page: Page) -> None:
        t = Technician(page)
        page.goto(f"/boards/{board.code}/order")
        page.get_by_label("Stepped on of P1").select_option(label="5")
        page.get_by_label("Stepped on of P2").select_option(label="4")
        t.go_to("Layout")
        t.place("P3", "90", "15")
        t.go_to("Order")
        expect(page.get_by_label("Stepped on of P2")).to_have_value("4")

    in_browser(steps, person=cast.editor)
    assert [pedal.use for pedal in plan_of(board).pedals] == [5, 4, 0]
    assert plan_of(board).pedals[2].place.x == 90


def test_half_a_place_is_asked_for_only_when_its_row_is_left(
    in_browser: InBrowser, cast: Cast, board: Board
) -> None:
    def steps(page: Page) -> None:
        t = Technician(page)
        page.goto(f"/boards/{board.code}/layout")
        page.get_by_label("x mm of S1").fill("200")
        page.get_by_label("y mm of S1").focus()
        page.wait_for_timeout(400)
        expect(t.row("S1")).not_to_contain_text("A place needs both x and y")
        page.get_by_label("x mm of P3").focus()
        expect(t.row("S1")).to_contain_text("A place needs both x and y")
        expect(page.get_by_label("x mm of S1")).to_have_value("200")
        page.get_by_label("y mm of S1").fill("200")
        page.get_by_label("x mm of P3").focus()
        expect(t.row("S1")).not_to_contain_text("A place needs both x and y")

    in_browser(steps, person=cast.editor, expect_errors=True)
    assert plan_of(board).supplies[0].place.x == 200


def test_a_half_fed_jack_stays_open_over_an_edit_elsewhere(
    in_browser: InBrowser, cast: Cast, board: Board
) -> None:
    """What is typed for one jack is neither lost nor taken for another's."""

    def steps(page: Page) -> None:
        t = Technician(page)
        page.on("dialog", lambda dialog: dialog.accept())
        page.goto(f"/boards/{board.code}/power")
        outlets = t.open_jack("P3.DC")
        outlets.get_by_role("radio", name="S1.4 ").check()
        page.get_by_label("Lead mm of P3.DC").fill("450")
        page.get_by_label("Supply", exact=True).select_option(label="Halden Brick")
        t.press("Add supply")
        expect(t.heading("S2 Halden Brick")).to_be_visible()
        expect(page.get_by_label("Lead mm of P3.DC")).to_have_value("450")
        expect(outlets.get_by_role("radio", name="S1.4 ")).to_be_checked()

    in_browser(steps, person=cast.editor)
