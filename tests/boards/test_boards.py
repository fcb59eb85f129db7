from typing import Any

import pytest
from django.test import Client as Browser

from boardshop.boards.models import Board
from tests.board_factories import make_board
from tests.core import builders as b
from tests.factories import Cast, make_client, make_person

pytestmark = pytest.mark.django_db
URL = "/"


def found(browser: Browser, text: str) -> list[str]:
    return [board.name for board in browser.get(URL, {"find": text}).context["boards"]]


@pytest.fixture
def two(cast: Cast) -> tuple[Board, Board]:
    main = make_board(cast.shop, 2, name="Nightjar main")
    spare = make_board(cast.shop, 0, name="Moorhen spare", supplies=(b.supply("S1", model="Ridge 8"),))
    main.client = make_client(cast.shop, name="Zora Vane")
    main.save()
    placement = main.items.get(ref="P1").placement
    placement.unit = placement.model.units.create(shop=cast.shop, serial="KE-0042")
    placement.save()
    return main, spare


def test_the_list_shows_code_client_and_pedals_but_computes_nothing(cast: Cast, two: Any) -> None:
    text = cast.browser("viewer").get(URL).text
    assert two[0].code in text
    assert "Zora Vane" in text
    assert text.index("Moorhen spare") < text.index("Nightjar main")


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("night", ["Nightjar main"]),
        ("zora", ["Nightjar main"]),
        ("pedal 2", ["Nightjar main"]),
        ("ke-0042", ["Nightjar main"]),
        ("ridge", ["Moorhen spare", "Nightjar main"]),
        ("zora ridge", ["Nightjar main"]),
        ("zora spare", []),
        ('"nightjar main"', ["Nightjar main"]),
        ("", ["Moorhen spare", "Nightjar main"]),
        ("%", []),
        ("'", ["Moorhen spare", "Nightjar main"]),
    ],
)
def test_every_word_is_looked_for_everywhere(cast: Cast, two: Any, text: str, names: list[str]) -> None:
    assert found(cast.browser("viewer"), text) == names


def test_a_code_is_found_as_people_type_it(cast: Cast, two: Any) -> None:
    code = two[1].code
    assert "Moorhen spare" in found(cast.browser("viewer"), f" {code[:3].lower()}-{code[3:].lower()} ")


def test_a_stranger_finds_none_of_them(cast: Cast, two: Any) -> None:
    assert found(cast.browser("stranger"), "") == []


def test_a_person_without_a_shop_gets_404(client: Browser) -> None:
    client.force_login(make_person())
    assert client.get(URL).status_code == 404


def test_a_viewer_is_offered_no_new_board(cast: Cast, two: Any) -> None:
    assert "/boards/new" not in cast.browser("viewer").get(URL).text
    assert "/boards/new" in cast.browser("editor").get(URL).text


def test_nothing_found_says_so_and_leads_on(cast: Cast, two: Any) -> None:
    text = cast.browser("viewer").get(URL, {"find": "<b>zzz"}).text
    assert "No board matches" in text
    assert "<b>zzz" not in text


def test_with_scripts_only_the_list_comes_back(cast: Cast, two: Any) -> None:
    answer = cast.browser("viewer").get(URL, {"find": "night"}, headers={"HX-Request": "true"})
    assert "<html" not in answer.text
    assert "Nightjar main" in answer.text
    assert "HX-Request" in answer["Vary"]


def test_a_text_too_long_is_refused(cast: Cast) -> None:
    assert cast.browser("viewer").get(URL, {"find": "x" * 101}).status_code == 422


@pytest.mark.parametrize("boards", [1, 18])
def test_the_queries_do_not_grow(cast: Cast, boards: int, django_assert_num_queries: Any) -> None:
    for number in range(boards):
        make_board(cast.shop, 1, name=f"Board {number}")
    browser = cast.browser("editor")
    with django_assert_num_queries(8):
        browser.get(URL, {"find": "pedal"})


def test_a_long_list_is_cut_into_pages(cast: Cast, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("boardshop.boards.views.lists.BOARDS_ON_A_PAGE", 2)
    for number in range(3):
        make_board(cast.shop, 0, name=f"Board {number}")
    browser = cast.browser("viewer")
    assert "1 to 2 of 3" in browser.get(URL).text
    assert "Board 2" in browser.get(URL, {"page": "2"}).text


def test_boards_refuses_post(cast: Cast) -> None:
    assert cast.browser("editor").post(URL).status_code == 405


def test_so_many_words_are_not_looked_for(cast: Cast) -> None:
    answer = cast.browser("viewer").get("/", {"find": "a b c d e f g h i"})
    assert answer.status_code == 422
    assert "Look for at most 8 words at once." in answer.text
    assert 'value="a b c d e f g h i"' in answer.text
