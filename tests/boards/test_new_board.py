import pytest
from django.urls import reverse

from tests.board_factories import make_board
from tests.factories import Cast

pytestmark = pytest.mark.django_db
URL = reverse("new-board")


def test_the_three_ways_stand_on_one_page(cast: Cast) -> None:
    text = cast.browser("editor").get(URL).text
    assert all(f'action="/boards/{way}"' in text for way in ("begin", "import", "copy"))
    assert "At most 10 MB" in text


def test_a_board_may_be_named_as_the_one_to_copy(cast: Cast) -> None:
    board = make_board(cast.shop, 0)
    page = cast.browser("editor").get(URL, {"copy": board.code})
    assert page.context["copy_form"].initial["board"] == board


def test_another_shops_board_is_not_offered(cast: Cast) -> None:
    board = make_board(cast.shop, 0, name="Nightjar main")
    assert "Nightjar main" not in cast.browser("stranger").get(URL, {"copy": board.code}).text


def test_a_viewer_gets_403(cast: Cast) -> None:
    assert cast.browser("viewer").get(URL).status_code == 403


def test_new_board_refuses_post(cast: Cast) -> None:
    assert cast.browser("editor").post(URL).status_code == 405
