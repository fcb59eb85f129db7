"""A form of the new-board page that is sent twice begins one board, whichever of the three ways it is."""

import json
import re
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test import Client as Browser
from django.urls import reverse

from boardshop.boards.models import Board
from tests.board_factories import make_board
from tests.factories import Cast, make_cast

pytestmark = pytest.mark.django_db
NAMES = ("begin-board", "import-board", "copy-board")
FILE = {
    "format": "boardshop-board",
    "version": 1,
    "frame": {"width": 600, "depth": 320},
    "pedals": [{"ref": "P1", "kind": "fuzz", "name": "Low Ember", "width": 73, "depth": 130}],
}


def tokens_of(browser: Browser) -> dict[str, str]:
    """The token in each form of the page, by the address it is sent to."""
    text = browser.get(reverse("new-board")).text
    forms = re.findall(r'action="([^"]+)"[^>]*>(.*?)</form>', text, re.DOTALL)
    return {
        action: found[1]
        for action, content in forms
        if (found := re.search(r'name="once" value="([^"]+)"', content))
    }


def typed_in(name: str, shop: Any, token: str) -> Callable[[], dict[str, Any]]:
    """What is sent; made anew each time, since a file is read only once."""
    values: dict[str, Any] = {"name": "Twice", "once": token}
    if name == "begin-board":
        values |= {"width": "600", "depth": "320"}
    if name == "copy-board":
        values["board"] = make_board(shop, 2, name="First").pk
    if name == "import-board":
        content = json.dumps(FILE).encode()
        return lambda: values | {"board_file": SimpleUploadedFile("b.json", content, "application/json")}
    return lambda: values


def twice() -> int:
    return Board.objects.filter(name="Twice").count()


def test_each_form_has_a_token_of_its_own_each_time(cast: Cast) -> None:
    browser = cast.browser("editor")
    first, second = tokens_of(browser), tokens_of(browser)
    assert set(first) == {reverse(name) for name in NAMES}
    assert len({*first.values(), *second.values()}) == 6


@pytest.mark.parametrize("name", NAMES)
def test_the_same_form_sent_again_leads_to_the_board_it_began(cast: Cast, name: str) -> None:
    browser = cast.browser("editor")
    typed = typed_in(name, cast.shop, tokens_of(browser)[reverse(name)])
    answers = [browser.post(reverse(name), typed()) for _ in range(2)]
    (board,) = Board.objects.filter(name="Twice")
    assert [answer.status_code for answer in answers] == [302, 302]
    assert {answer.url for answer in answers} == {f"/boards/{board.code}"}


@pytest.mark.parametrize("name", NAMES)
def test_a_form_in_which_something_else_is_typed_begins_another(cast: Cast, name: str) -> None:
    """Somebody went back to the page and typed another name."""
    browser = cast.browser("editor")
    typed = typed_in(name, cast.shop, "one-token")
    before = Board.objects.count()
    browser.post(reverse(name), typed())
    browser.post(reverse(name), typed() | {"name": "Other"})
    assert Board.objects.count() == before + 2


@pytest.mark.parametrize("name", NAMES)
def test_without_a_token_each_form_begins_a_board(cast: Cast, name: str) -> None:
    typed = typed_in(name, cast.shop, "")
    for _ in range(2):
        cast.browser("editor").post(reverse(name), typed())
    assert twice() == 2


def test_another_shop_may_send_the_same(cast: Cast) -> None:
    typed = typed_in("begin-board", cast.shop, "one-token")
    for role in ("editor", "stranger"):
        cast.browser(role).post(reverse("begin-board"), typed())
    assert Board.objects.values("shop").distinct().count() == twice() == 2


def test_a_refused_form_keeps_its_token(cast: Cast) -> None:
    answer = cast.browser("editor").post(reverse("begin-board"), {"name": "Twice", "once": "one-token"})
    assert answer.status_code == 422
    assert 'name="once" value="one-token"' in answer.text


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("name", NAMES)
def test_two_at_the_same_moment_begin_one(name: str) -> None:
    cast = make_cast()
    typed = typed_in(name, cast.shop, "one-token")
    browsers, start = [cast.browser("editor") for _ in range(4)], Barrier(4)

    def send(browser: Browser) -> str:
        start.wait(timeout=10)
        try:
            return str(browser.post(reverse(name), typed()).url)
        finally:
            connection.close()

    with ThreadPoolExecutor(4) as threads:
        addresses = set(threads.map(send, browsers))
    assert (len(addresses), twice()) == (1, 1)
