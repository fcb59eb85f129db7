import pytest
from django.test import Client as Browser
from django.urls import reverse

from boardshop.crew.models import Membership, Person, SetupToken, Shop
from boardshop.crew.setup import issue_setup_token
from tests.factories import make_person

pytestmark = pytest.mark.django_db

TYPED = {
    "shop_name": "Bench Seven",
    "username": "mara",
    "password": "seven-long-patch-leads",
    "again": "seven-long-patch-leads",
}


@pytest.fixture
def url() -> str:
    return reverse("set-up", args=[issue_setup_token()])


def test_set_up_makes_a_shop_and_its_owner_and_signs_them_in(client: Browser, url: str) -> None:
    answer = client.post(url, TYPED)
    membership = Membership.objects.get()
    assert (membership.role, membership.person.username, membership.shop.name) == (
        "owner",
        "mara",
        "Bench Seven",
    )
    assert answer.url == reverse("boards")
    assert client.session["_auth_user_id"] == str(membership.person.pk)


def test_the_password_rules_are_shown_before_anything_is_typed(client: Browser, url: str) -> None:
    text = client.get(url).text
    assert "at least 10 characters" in text


def test_the_link_works_once(client: Browser, url: str) -> None:
    client.post(url, TYPED)
    second = Browser().post(url, TYPED | {"username": "other"})
    assert second.status_code == 410
    assert reverse("sign-in") in second.text
    assert not SetupToken.objects.exists()
    assert Person.objects.count() == Shop.objects.count() == 1


def test_an_unknown_token_is_404_and_names_the_log(client: Browser, url: str) -> None:
    answer = client.get(reverse("set-up", args=["never-issued"]))
    assert answer.status_code == 404
    assert "announce_setup" in answer.text


def test_a_newer_token_replaces_the_older(client: Browser, url: str) -> None:
    issue_setup_token()
    assert client.get(url).status_code == 404


def test_no_token_is_issued_once_somebody_has_an_account(client: Browser, url: str) -> None:
    make_person()
    assert issue_setup_token() is None
    assert client.get(url).status_code == 410


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"password": "short", "again": "short"}, "too short"),
        ({"password": "1234567890123", "again": "1234567890123"}, "entirely numeric"),
        ({"again": "something-else-long"}, "two passwords differ"),
        ({"username": "two words"}, "valid username"),
        ({"shop_name": " "}, "required"),
        ({"shop_name": "a\0b"}, "Null characters"),
    ],
)
def test_what_is_wrong_is_said_and_nothing_is_stored(
    client: Browser, url: str, wrong: dict[str, str], said: str
) -> None:
    answer = client.post(url, TYPED | wrong)
    assert answer.status_code == 422
    assert said in answer.text
    assert not Person.objects.exists()
    assert not Shop.objects.exists()


def test_passwords_are_never_sent_back(client: Browser, url: str) -> None:
    assert TYPED["password"] not in client.post(url, TYPED | {"username": "two words"}).text


def test_set_up_refuses_other_methods(client: Browser, url: str) -> None:
    assert client.delete(url).status_code == 405
