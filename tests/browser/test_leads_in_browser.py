"""Using the leads at hand by keyboard and by pointer, with scripts and without; undone from the same page."""

import pytest
from django.urls import reverse
from playwright.sync_api import Page

from tests.board_factories import plan_of
from tests.boards.lead_boards import waiting_board
from tests.chromium import DESKTOP, PHONE, InBrowser
from tests.factories import Cast

pytestmark = [pytest.mark.browser, pytest.mark.django_db(transaction=True)]


@pytest.mark.parametrize("scripts", [True, False], ids=["scripts", "none"])
@pytest.mark.parametrize("size", [DESKTOP, PHONE], ids=["desk", "phone"])
def test_one_lead_is_used_then_all_then_the_last_is_undone(
    cast: Cast, in_browser: InBrowser, size: tuple[int, int], scripts: bool
) -> None:
    board = waiting_board(cast.shop, 3)
    address = reverse("leads", args=[board.code])

    def steps(page: Page) -> list[int]:
        page.goto(address)
        waiting = page.get_by_role("button", name="Use this lead")
        left = [waiting.count()]
        page.get_by_role("button", name="Use this lead P2.DC").press("Enter")
        page.locator('#edit-number[value="1"]').wait_for(state="attached")
        left.append(waiting.count())
        page.get_by_role("button", name="Use all 2 leads that fit").click()
        page.locator('#edit-number[value="2"]').wait_for(state="attached")
        left.append(waiting.count())
        page.get_by_role("button", name="Undo").click()
        page.locator('#edit-number[value="3"]').wait_for(state="attached")
        assert address in page.url
        return [*left, waiting.count()]

    assert in_browser(steps, person=cast.editor, size=size, scripts=scripts) == [3, 2, 0, 2]
    assert [feed.lead.length if feed.lead else None for feed in plan_of(board).feeds] == [None, 500, None]
