"""Which addresses show a page: what the decorators say, held against what the server answers to all."""

import re

import pytest
from django.test import Client as Browser
from django.test import RequestFactory
from django.urls import reverse

from boardshop.crew.addresses import nearest_page, page_seen, shows_page
from tests.board_factories import make_board
from tests.factories import Cast
from tests.house.test_access_matrix import NAMES, ROWS

OF_A_BOARD = "/boards/7K3MA"


def filled(route: str) -> str:
    """With something of the right form in each gap."""
    gaps = {"int": "1", "str": "7K3MA", "slug": "pedals", "path": "a"}
    return re.sub(r"<(?:(\w+):)?\w+>", lambda gap: gaps.get(gap[1] or "str", "pedals"), route)


@pytest.mark.parametrize("name", sorted(ROWS))
def test_it_is_told_of_every_address_whether_it_has_a_page(name: str) -> None:
    """The table of tests/house was taken from the server's own answers."""
    assert shows_page(filled(NAMES[name])) == (405 not in ROWS[name][0])


@pytest.mark.parametrize(
    ("path", "page"),
    [
        ("/", "/"),
        (f"{OF_A_BOARD}/layout?open=P4", f"{OF_A_BOARD}/layout?open=P4"),
        (f"{OF_A_BOARD}/undo", OF_A_BOARD),
        (f"{OF_A_BOARD}/pedals/P4/place?x=1", OF_A_BOARD),
        ("/set-theme", "/"),
        ("/no/such/place", "/"),
    ],
)
def test_the_page_itself_or_the_one_above(path: str, page: str) -> None:
    assert shows_page(page.partition("?")[0])
    assert nearest_page(path) == page


@pytest.mark.parametrize(
    ("referer", "page"),
    [
        (f"http://testserver{OF_A_BOARD}/layout?open=P4", f"{OF_A_BOARD}/layout?open=P4"),
        (f"http://testserver{OF_A_BOARD}/undo", OF_A_BOARD),
        (f"http://elsewhere.example{OF_A_BOARD}/layout", OF_A_BOARD),
        ("", OF_A_BOARD),
    ],
)
def test_a_refused_form_was_seen_on_the_page_before(referer: str, page: str) -> None:
    request = RequestFactory(headers={"referer": referer}).post(f"{OF_A_BOARD}/undo")
    assert page_seen(request) == page


@pytest.mark.django_db
@pytest.mark.parametrize("stood_on", ["layout", "undo"])
def test_the_theme_of_a_refused_page_leads_to_a_page(cast: Cast, stood_on: str) -> None:
    board = make_board(cast.shop)
    browser: Browser = cast.browser("editor")
    referer = f"http://testserver/boards/{board.code}/{stood_on}"
    refused = browser.post(f"/boards/{board.code}/undo", {"edit": 0}, headers={"referer": referer})
    assert refused.status_code == 422
    back = re.search(r'name="next" value="([^"]*)"', refused.text)[1]
    answer = browser.post(reverse("set-theme"), {"theme": "night", "next": back})
    assert browser.get(answer.url).status_code == 200
