import re
from html import unescape

import pytest
from django.test import Client as Browser
from django.urls import reverse

from boardshop.boards.models import Board
from tests.board_factories import make_board
from tests.cable_factories import make_cable
from tests.factories import Cast

pytestmark = pytest.mark.django_db
URL = reverse("find-board")


@pytest.fixture
def board(cast: Cast) -> Board:
    board = make_board(cast.shop)
    Board.objects.filter(pk=board.pk).update(code="7K3MA")
    return Board.objects.get(pk=board.pk)


def test_it_asks_for_nothing_but_a_code(cast: Cast) -> None:
    text = cast.browser("viewer").get(URL).text
    assert re.findall(r"<label[^>]*>\s*([^<]+?)\s*<", text) == ["Board code"]
    assert 'name="code"' in text
    assert f'<form class="form stage-find" method="get" action="{URL}"' in text
    assert "form-error" not in text


@pytest.mark.parametrize(
    "typed", ["7K3MA", "7k3ma", " 7k3-ma ", "7 K 3 M A", "7k3\u2013ma", "7K3\u00a0MA", "7K3\u2011MA"]
)
def test_a_code_is_read_as_people_write_it(cast: Cast, board: Board, typed: str) -> None:
    answer = cast.browser("viewer").get(URL, {"code": typed})
    assert (answer.status_code, answer.url) == (302, reverse("stage-board", args=["7K3MA"]))


@pytest.mark.parametrize(
    "pasted",
    [
        "http://localhost:8000/s/7K3MA/",
        "https://boards.example/s/7k3ma",
        "BOARDS.EXAMPLE/S/7K3MA/?x=1#P4",
        " https://boards.shop-with-a-long-name.example/s/7K3MA/ ",
    ],
)
def test_the_code_is_taken_out_of_a_pasted_stage_address(cast: Cast, board: Board, pasted: str) -> None:
    answer = cast.browser("viewer").get(URL, {"code": pasted})
    assert (answer.status_code, answer.url) == (302, reverse("stage-board", args=["7K3MA"]))


def test_an_address_of_nothing_is_an_unknown_code(cast: Cast, board: Board) -> None:
    for pasted in ("http://localhost:8000/s/", "http://localhost:8000/s/ZZZZZ/", "/s//7K3MA/"):
        assert cast.browser("viewer").get(URL, {"code": pasted}).status_code == 422


def test_an_unknown_code_keeps_what_was_typed_and_says_where_codes_stand(cast: Cast, board: Board) -> None:
    answer = cast.browser("viewer").get(URL, {"code": "7k3-mb"})
    assert answer.status_code == 422
    assert 'value="7k3-mb"' in answer.text
    assert "No board of yours has the code “7k3-mb”. It stands on the case label" in unescape(answer.text)


def test_nothing_typed_is_asked_for_again(cast: Cast) -> None:
    answer = cast.browser("viewer").get(URL, {"code": "  "})
    assert answer.status_code == 422
    assert "Type the code on the label" in answer.text


def test_a_board_of_another_shop_is_unknown(cast: Cast, board: Board) -> None:
    answer = cast.browser("stranger").get(URL, {"code": board.code})
    assert answer.status_code == 422
    assert board.name not in answer.text


def test_what_was_typed_stays_text(cast: Cast) -> None:
    answer = cast.browser("viewer").get(URL, {"code": "<script>alert(1)</script>"})
    assert answer.status_code == 422
    assert "<script>alert" not in answer.text


def test_what_no_code_can_be_is_no_crash(cast: Cast) -> None:
    for typed in ("7" * 500, "ß" * 5, "%"):
        assert cast.browser("viewer").get(URL, {"code": typed}).status_code == 422


def test_a_visitor_signs_in_and_comes_back(client: Browser) -> None:
    assert client.get(URL, {"code": "7k3ma"}).url == f"{reverse('sign-in')}?next={URL}%3Fcode%3D7k3ma"


def test_it_only_reads(cast: Cast) -> None:
    assert cast.browser("owner").post(URL).status_code == 405


def test_it_is_dark_unless_somebody_chose_otherwise(cast: Cast) -> None:
    assert 'data-theme="night"' in cast.browser("viewer").get(URL).text


def test_the_list_of_boards_and_a_board_lead_to_the_stage(cast: Cast, board: Board) -> None:
    browser = cast.browser("viewer")
    assert f'href="{URL}"' in browser.get(reverse("boards")).text
    head = browser.get(reverse("board", args=[board.code])).text.partition('<div id="sheet"')[0]
    assert f'href="{reverse("stage-board", args=[board.code])}"' in head


def test_a_made_cables_id_leads_to_the_cable(cast: Cast) -> None:
    cable = make_cable(cast.shop)
    answer = cast.browser("viewer").get(URL, {"code": f" {cable.code.lower()} "})
    assert answer.url == reverse("show-made-cable", args=[cable.code])


def test_a_cable_of_another_shop_is_not_found_by_its_id(cast: Cast) -> None:
    assert cast.browser("stranger").get(URL, {"code": make_cable(cast.shop).code}).status_code == 422
