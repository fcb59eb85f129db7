"""After something went into the trash one button puts it back, without a script."""

from collections.abc import Callable
from html.parser import HTMLParser

import pytest
from django.db.models import Model
from django.urls import reverse

from boardshop.boards.models import Placement
from boardshop.files.models import Attachment
from tests.board_factories import make_board
from tests.crew.shops import wary
from tests.factories import Cast, make_client, make_pedal_model
from tests.files.pictures import picture, sent

pytestmark = pytest.mark.django_db


class Button(HTMLParser):
    """The form in the notices: where it goes and what it sends."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.action, self.sent = "", dict[str, str]()
        self.feed(page.partition('id="notices"')[2].partition("</section>")[0])

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = dict(attrs)
        if tag == "form":
            assert found["method"] == "post"
            self.action = found["action"] or ""
        if tag == "input":
            self.sent[found["name"] or ""] = found["value"] or ""


type Trashed = tuple[Model, str, dict[str, object]]
"""The thing, the address that puts it into the trash, and what its form sends."""


def a_board(cast: Cast) -> Trashed:
    board = make_board(cast.shop)
    return board, reverse("remove-board", args=[board.code]), {"edit": board.edit_number}


def a_pedal(cast: Cast) -> Trashed:
    board = make_board(cast.shop)
    pedal = Placement.objects.get(board=board, ref="P2")
    return pedal, reverse("remove-pedal", args=[board.code, "P2"]), {"edit": board.edit_number}


def a_model(cast: Cast) -> Trashed:
    model = make_pedal_model(cast.shop)
    return model, reverse("delete-gear", args=["pedals", model.pk]), {}


def a_client(cast: Cast) -> Trashed:
    client = make_client(cast.shop)
    return client, reverse("delete-client", args=[client.pk]), {}


def a_file(cast: Cast) -> Trashed:
    model = make_pedal_model(cast.shop)
    page = reverse("show-pedal-model", args=[model.pk])
    address = reverse("add-gear-files", args=["pedals", model.pk])
    cast.browser("editor").post(address, {"sent": sent(picture()), "shows": "other"})
    photo = Attachment.objects.get()
    return photo, reverse("remove-file", args=[photo.key]), {"back": page}


def is_there(thing: Model) -> bool:
    return type(thing)._default_manager.filter(pk=thing.pk).exists()


@pytest.mark.parametrize("kind", [a_board, a_pedal, a_model, a_client, a_file])
def test_one_button_puts_it_back(cast: Cast, kind: Callable[[Cast], Trashed]) -> None:
    thing, address, typed = kind(cast)
    browser = cast.browser("editor")
    button = Button(browser.post(address, typed, follow=True).text)
    assert not is_there(thing)
    answer = wary(browser).post(button.action, button.sent, follow=True)
    assert answer.status_code == 200
    assert answer.redirect_chain
    assert is_there(thing)
    assert "Put it back" not in answer.text


@pytest.mark.parametrize("kind", [a_board, a_pedal, a_model, a_client])
def test_it_leads_back_to_the_page_of_the_button(cast: Cast, kind: Callable[[Cast], Trashed]) -> None:
    _thing, address, typed = kind(cast)
    browser = cast.browser("editor")
    answer = browser.post(address, typed, follow=True)
    button = Button(answer.text)
    assert button.sent["back"] == answer.redirect_chain[0][0]
    assert browser.post(button.action, button.sent).url == button.sent["back"]


def test_a_notice_of_another_kind_has_no_button(cast: Cast) -> None:
    page = cast.browser("editor").post(
        reverse("add-client"), {"name": "Zora", "kind": "artist", "contact": "", "note": ""}, follow=True
    )
    assert "Zora is kept" in page.text
    assert Button(page.text).action == ""
