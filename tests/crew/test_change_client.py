import pytest
from django.urls import reverse

from boardshop.crew.clients import ClientNameTaken, keep_client
from boardshop.crew.models import Client
from tests.factories import Cast, make_client

pytestmark = pytest.mark.django_db
TYPED = {"name": "Zora Vane", "kind": "customer", "contact": "+00 1", "note": ""}


@pytest.fixture
def client_row(cast: Cast) -> Client:
    return make_client(cast.shop, name="Zora")


@pytest.fixture
def url(client_row: Client) -> str:
    return reverse("change-client", args=[client_row.pk])


def test_an_editor_changes_it(cast: Cast, client_row: Client, url: str) -> None:
    assert cast.browser("editor").post(url, TYPED).url == reverse("clients")
    client_row.refresh_from_db()
    assert (client_row.name, client_row.kind, client_row.contact) == ("Zora Vane", "customer", "+00 1")


def test_a_stranger_gets_404(cast: Cast, url: str) -> None:
    assert cast.browser("stranger").get(url).status_code == 404
    assert cast.browser("stranger").post(url, TYPED).status_code == 404


def test_a_viewer_gets_403(cast: Cast, url: str) -> None:
    assert cast.browser("viewer").post(url, TYPED).status_code == 403


def test_invalid_input_is_refused_under_the_name_it_is_known_by(cast: Cast, url: str) -> None:
    answer = cast.browser("editor").post(url, TYPED | {"name": ""})
    assert answer.status_code == 422
    assert "<h1>Zora</h1>" in answer.text


def test_the_name_of_another_is_refused(cast: Cast, url: str) -> None:
    make_client(cast.shop, name="ZORA VANE")
    assert cast.browser("editor").post(url, TYPED).status_code == 422


def test_its_own_name_in_other_letters_is_not_taken(cast: Cast, url: str) -> None:
    assert cast.browser("editor").post(url, TYPED | {"name": "ZORA"}).status_code == 302


def test_the_database_refuses_the_same_name_in_the_same_words(
    cast: Cast, client_row: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    # As in a race: the look-up saw nobody of that name yet.
    monkeypatch.setattr("django.db.models.query.QuerySet.exists", lambda self: False)
    with pytest.raises(ClientNameTaken, match="named ZORA"):
        keep_client(Client(shop=cast.shop, name="ZORA"))


def test_change_client_refuses_other_methods(cast: Cast, url: str) -> None:
    assert cast.browser("editor").put(url).status_code == 405


def test_what_somebody_else_changed_meanwhile_is_told_and_nothing_typed_is_lost(
    cast: Cast, client_row: Client, url: str
) -> None:
    browser = cast.browser("editor")
    seen = browser.get(url).context["form"]["seen"].value()
    Client.objects.filter(pk=client_row.pk).update(contact="+00 9")
    answer = browser.post(url, TYPED | {"seen": seen})
    assert answer.status_code == 409
    assert "Somebody changed “Zora”" in answer.text
    assert "now different from yours: kind, name, contact" in answer.text
    assert 'value="Zora Vane"' in answer.text
    client_row.refresh_from_db()
    assert (client_row.name, client_row.contact) == ("Zora", "+00 9")
    # Sent again as it is shown then, it is kept knowingly.
    again = TYPED | {"seen": answer.context["form"]["seen"].value()}
    assert browser.post(url, again).status_code == 302
    client_row.refresh_from_db()
    assert client_row.name == "Zora Vane"
