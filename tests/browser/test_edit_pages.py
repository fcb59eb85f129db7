"""The edit pages in a real browser: nothing typed is lost while answers are on their way, scripts or not."""

from typing import Any

import pytest
from playwright.sync_api import Page, expect

from boardshop.boards.models import Board
from tests.board_factories import feeds_of, make_board, plan_of
from tests.chromium import InBrowser
from tests.core import builders as b
from tests.factories import Cast, make_cast

SETTLED_MS = 600
"""By then whatever waits for an answer on this machine has been sent."""

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.fixture
def cast(transactional_db: None) -> Cast:
    return make_cast()


@pytest.fixture
def board(cast: Cast) -> Board:
    return make_board(cast.shop, 4)


def type_into(page: Page, field: str, text: str, then: str = "Tab") -> None:
    page.focus(field)
    page.keyboard.press("Control+A")
    page.keyboard.type(text)
    page.keyboard.press(then)


def number(page: Page, value: int) -> None:
    """Waits until the page shows this edit number."""
    expect(page.locator("#edit-number")).to_have_value(str(value))


def place_of(board: Board, ref: str) -> tuple[int, int]:
    place = next(pedal.place for pedal in plan_of(board).pedals if pedal.ref == ref)
    assert place is not None
    return place.x, place.y


def test_fields_filled_in_one_go_are_all_kept(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> tuple[str, str]:
        page.goto(f"/boards/{board.code}/layout")
        type_into(page, "#place-P1-x", "31")
        type_into(page, "#place-P1-y", "12")
        type_into(page, "#place-P2-x", "1 in")
        page.focus("#place-P3-y")
        page.keyboard.press("Control+A")
        page.keyboard.type("77")
        number(page, 3)
        return page.input_value("#place-P3-y"), page.evaluate("document.activeElement.id")

    half_typed, focused = in_browser(steps, person=cast.editor)
    assert (half_typed, focused) == ("77", "place-P3-y")
    assert place_of(board, "P1") == (31, 12)
    assert place_of(board, "P2")[0] == 25


def test_what_was_kept_is_shown_as_it_was_read(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> str:
        page.goto(f"/boards/{board.code}/layout")
        type_into(page, "#place-P1-x", "3 cm")
        number(page, 1)
        return page.input_value("#place-P1-x")

    assert in_browser(steps, person=cast.editor) == "30"


def test_enter_sends_a_row_once(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/layout")
        type_into(page, "#place-P1-x", "33", then="Enter")
        number(page, 1)
        type_into(page, "#place-P1-y", "15", then="Enter")
        number(page, 2)

    in_browser(steps, person=cast.editor)
    board.refresh_from_db()
    assert board.edit_number == 2


def test_a_refused_enter_is_sent_once_and_again_when_it_is_pressed_again(
    cast: Cast, board: Board, in_browser: InBrowser
) -> None:
    posts: list[str] = []

    def steps(page: Page) -> None:
        page.on("request", lambda request: posts.append(request.url) if request.method == "POST" else None)
        page.goto(f"/boards/{board.code}/layout")
        type_into(page, "#place-P1-x", "wide", then="Enter")
        expect(page.locator("#place-P1 .form-error")).to_contain_text("is no length")
        page.wait_for_timeout(SETTLED_MS)
        assert len(posts) == 1
        page.focus("#place-P1-x")
        page.keyboard.press("Enter")
        page.wait_for_timeout(SETTLED_MS)
        assert len(posts) == 2
        type_into(page, "#place-P1-x", "44", then="Enter")
        number(page, 1)
        page.wait_for_timeout(SETTLED_MS)

    in_browser(steps, person=cast.editor, expect_errors=True)
    assert len(posts) == 3
    assert place_of(board, "P1")[0] == 44


def test_a_wrong_value_stays_with_its_error_until_it_is_put_right(
    cast: Cast, board: Board, in_browser: InBrowser
) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/layout")
        type_into(page, "#place-P1-x", "wide")
        expect(page.locator("#place-P1 .form-error")).to_contain_text("is no length")
        expect(page.locator("#place-P1-x")).to_have_value("wide")
        expect(page.locator("#place-P1-x")).to_have_attribute("aria-invalid", "true")
        type_into(page, "#place-P1-x", "40")
        expect(page.locator("#place-P1 .form-error")).to_have_count(0)

    in_browser(steps, person=cast.editor, expect_errors=True)
    assert place_of(board, "P1")[0] == 40


def test_an_edit_over_somebody_elses_is_refused_once_and_then_meant(
    cast: Cast, board: Board, in_browser: InBrowser
) -> None:
    def steps(page: Page) -> None:
        other = page.context.new_page()
        page.goto(f"/boards/{board.code}/layout")
        other.goto(f"/boards/{board.code}/layout")
        type_into(other, "#place-P1-x", "200")
        number(other, 1)
        type_into(page, "#place-P1-x", "300")
        expect(page.locator("#conflict")).to_be_visible()
        expect(page.locator("#place-P1-x")).to_have_value("300")
        expect(page.locator("#place-P1")).to_contain_text("now: 200")
        page.focus("#place-P1-x")
        page.keyboard.press("Enter")
        expect(page.locator("#conflict")).to_have_count(0)

    in_browser(steps, person=cast.editor, expect_errors=True)
    assert place_of(board, "P1")[0] == 300


def test_a_list_shows_what_is_kept_after_the_answer(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> tuple[str, str]:
        page.goto(f"/boards/{board.code}/order")
        page.select_option("#play-P1-use", "5")
        number(page, 1)
        page.click("#later-P1")
        number(page, 2)
        return page.input_value("#play-P1-use"), page.inner_text("#play-P1 .balloon")

    assert in_browser(steps, person=cast.editor) == ("5", "2")
    assert [pedal.use for pedal in plan_of(board).pedals] == [5, 0, 0, 0]


def test_an_opened_fold_stays_open_over_an_edit(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> tuple[bool, str]:
        page.goto(f"/boards/{board.code}/order")
        page.click("summary:has-text('Add an amp')")
        page.fill("#add-amp-ref", "TOP")
        page.select_option("#play-P1-use", "2")
        number(page, 1)
        is_open = page.evaluate("document.querySelector('#add-amp-ref').closest('details').open")
        return is_open, page.input_value("#add-amp-ref")

    assert in_browser(steps, person=cast.editor) == (True, "TOP")


def test_feeding_jack_after_jack(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/power")
        for count, (jack, outlet) in enumerate((("P2", "S1.2"), ("P3", "S1.3"), ("P4", "S1.4")), start=1):
            page.check(f"#feed-{jack}-DC input[value='{outlet}@9000']")
            page.click(f"button:has-text('Feed {jack}.DC')")
            number(page, count)
        expect(page.locator(".jack-form")).to_have_count(0)

    in_browser(steps, person=cast.editor)
    assert feeds_of(board) == {f"P{n}.DC": f"S1.{n}" for n in (1, 2, 3, 4)}


def test_a_session_that_ended_leads_to_the_sign_in(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> str:
        page.goto(f"/boards/{board.code}/layout")
        page.context.clear_cookies(name="sessionid")
        page.on("dialog", lambda dialog: dialog.accept())
        type_into(page, "#place-P1-x", "31")
        page.wait_for_url("**/sign-in**")
        return page.url

    assert f"next=/boards/{board.code}/layout" in in_browser(steps, person=cast.editor)


def test_the_same_edits_with_scripts_off(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    def steps(page: Page) -> None:
        page.goto(f"/boards/{board.code}/layout")
        page.fill("#place-P1-x", "31")
        page.click("#place-P1 button")
        expect(page.locator("#place-P1-x")).to_have_value("31")
        page.fill("#place-P1-y", "deep")
        page.click("#place-P1 button")
        expect(page.locator("#place-P1 .form-error")).to_be_visible()
        page.goto(f"/boards/{board.code}/power?open=P2.DC")
        page.check("#feed-P2-DC input[value='S1.2@9000']")
        page.click("button:has-text('Feed P2.DC')")
        page.click("a.button:has-text('Feed P3.DC')")
        expect(page.locator("#feed-P3-DC .jack-form")).to_be_visible()
        page.goto(f"/boards/{board.code}/order")
        page.click("#later-P1")
        expect(page.locator("#play-P1 .balloon")).to_have_text("2")

    in_browser(steps, person=cast.editor, scripts=False, expect_errors=True)
    assert place_of(board, "P1")[0] == 31
    assert feeds_of(board)["P2.DC"] == "S1.2"


def keep_first(page: Page, board: Board) -> Any:
    page.goto(f"/boards/{board.code}")
    page.locator(".finding summary:visible", has_text="Keep on purpose").first.click()
    page.locator(".finding input[name=why]:visible").first.fill("the player asked for it")
    page.locator(".finding form.inline button:visible").first.click()
    number(page, 1)
    return page.locator(".tally").inner_text()


def test_a_finding_is_kept_with_a_reason(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    said = in_browser(lambda page: keep_first(page, board), person=cast.editor)
    assert "1 kept on purpose" in " ".join(said.split())
    assert board.accepted.get().by == str(cast.editor)


def keep_one_of_many(page: Page, board: Board) -> None:
    page.goto(f"/boards/{board.code}/power")
    many = page.locator("#all-P29-unknown")
    many.locator("summary", has_text="One by one").click()
    second = many.locator(".finding", has_text="P2.DC")
    second.locator("summary", has_text="Keep on purpose").click()
    second.locator("input[name=why]").fill("borrowed lead")
    second.get_by_role("button", name="Keep", exact=True).click()
    number(page, 1)
    expect(page.locator("#counts")).to_contain_text("1 kept on purpose")
    expect(page.locator("#announcer")).to_contain_text("1 kept on purpose")
    expect(many.locator(".finding")).to_have_count(2)
    expect(many).to_have_attribute("open", "")


def test_one_of_many_findings_is_kept_and_the_rest_stay_open(cast: Cast, in_browser: InBrowser) -> None:
    feeds = [b.feed(f"S1.{n}", f"P{n}.DC", lead=None) for n in (1, 2, 3)]
    board = make_board(cast.shop, 3, feeds=feeds)
    in_browser(lambda page: keep_one_of_many(page, board), person=cast.editor)
    assert board.accepted.get().subjects == ["S1.2", "P2.DC"]


def test_the_list_is_searched_while_typing(cast: Cast, board: Board, in_browser: InBrowser) -> None:
    make_board(cast.shop, 0, name="Moorhen spare")

    def steps(page: Page) -> None:
        page.goto("/")
        expect(page.locator("#found tbody tr")).to_have_count(2)
        page.type("input[name=find]", "moor")
        expect(page.locator("#found tbody tr")).to_have_count(1)
        expect(page.locator("input[name=find]")).to_have_value("moor")
        page.fill("input[name=find]", "nothing like it")
        expect(page.locator("#found")).to_contain_text("No board matches")

    in_browser(steps, person=cast.viewer)
