import pytest
from django.urls import reverse

from boardshop.boards.models import Board
from boardshop.boards.services.trash import trash_board
from boardshop.crew.models import Client
from tests.board_factories import make_board
from tests.factories import Cast, make_client, make_unit

pytestmark = pytest.mark.django_db


@pytest.fixture
def client_row(cast: Cast) -> Client:
    return make_client(cast.shop, name="Zora <b>")


@pytest.fixture
def url(client_row: Client) -> str:
    return reverse("delete-client", args=[client_row.pk])


def board_of(client: Client) -> Board:
    board = make_board(client.shop, name="Nightjar")
    Board.objects.filter(pk=board.pk).update(client=client)
    board.refresh_from_db()
    return board


def test_it_is_taken_off_after_a_question_and_put_back_by_one_button(cast: Cast, url: str) -> None:
    browser = cast.browser("editor")
    assert "Take Zora &lt;b&gt; off the list?" in browser.get(url).text
    assert Client.objects.exists()
    page = browser.post(url, follow=True).text
    assert not Client.objects.exists()
    row = Client.with_trash.get()
    assert row.trashed_by == cast.editor
    assert f'action="{reverse("restore-client", args=[row.pk])}"' in page
    assert page.count("Zora &lt;b&gt;") == 1


def test_the_page_of_changes_leads_there(cast: Cast, client_row: Client, url: str) -> None:
    assert url in cast.browser("editor").get(reverse("change-client", args=[client_row.pk])).text


def test_the_refusal_names_the_boards_and_units(cast: Cast, client_row: Client, url: str) -> None:
    board_of(client_row)
    make_unit(cast.shop, owner=client_row, serial="KE-0042")
    answer = cast.browser("editor").post(url)
    assert answer.status_code == 422
    assert "board Nightjar" in answer.text
    assert "KE-0042" in answer.text
    assert Client.objects.exists()


def test_a_board_in_the_trash_holds_nobody(cast: Cast, client_row: Client, url: str) -> None:
    board = board_of(client_row)
    board.person = cast.editor
    trash_board(board, board.edit_number)
    assert cast.browser("editor").post(url).status_code == 302
    back = reverse("restore-board", args=[board.code])
    answer = cast.browser("editor").post(back)
    assert answer.status_code == 422
    assert "Zora &lt;b&gt; lies in the trash" in answer.text
    cast.browser("editor").post(reverse("restore-client", args=[client_row.pk]))
    assert cast.browser("editor").post(back).status_code == 302


def test_who_is_in_the_trash_is_offered_nowhere(cast: Cast, client_row: Client, url: str) -> None:
    cast.browser("editor").post(url)
    browser, name = cast.browser("editor"), "Zora &lt;b&gt;"
    browser.get("/")
    for address in (reverse("clients"), reverse("new-board"), reverse("add-unit")):
        assert name not in browser.get(address).text, address
    assert browser.get(reverse("change-client", args=[client_row.pk])).status_code == 404
    assert browser.get(url).status_code == 404


def test_a_stranger_gets_404(cast: Cast, url: str) -> None:
    assert cast.browser("stranger").get(url).status_code == 404
    assert cast.browser("stranger").post(url).status_code == 404


def test_a_viewer_gets_403(cast: Cast, url: str) -> None:
    assert cast.browser("viewer").get(url).status_code == 403
    assert cast.browser("viewer").post(url).status_code == 403
    assert url not in cast.browser("viewer").get(reverse("clients")).text


def test_delete_client_refuses_other_methods(cast: Cast, url: str) -> None:
    assert cast.browser("editor").put(url).status_code == 405
