"""A board opened by its code belongs to its own shop, whichever shop is in use on the device."""

import pytest
from django.urls import reverse

from boardshop.crew.models import Membership
from tests.board_factories import make_board
from tests.factories import Cast, make_client, make_pedal_model, make_shop

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(("page", "offered"), [("order", "Low Ember"), ("change-board", "Zora")])
def test_its_forms_offer_what_its_own_shop_has(cast: Cast, page: str, offered: str) -> None:
    other = make_shop()
    Membership.objects.create(shop=other, person=cast.editor, role="editor")
    for shop, pedal, client in ((cast.shop, "Wrong Ember", "Wrong Zora"), (other, "Low Ember", "Zora")):
        make_pedal_model(shop, name=pedal)
        make_client(shop, name=client)
    board = make_board(other, 2, name="Elsewhere")
    answer = cast.browser("editor").get(reverse(page, args=[board.code]))
    assert answer.status_code == 200
    assert offered in answer.text
    assert "Wrong" not in answer.text
