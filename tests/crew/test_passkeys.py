"""Passkeys, as far as no browser is needed; tests/browser makes and uses real ones."""

import json

import pytest
from allauth.mfa.models import Authenticator
from django.test import Client as Browser
from django.urls import reverse

from boardshop.environment import PublicUrl
from tests.crew.accounts import confirmed, signed_in
from tests.factories import Cast

pytestmark = pytest.mark.django_db
SIGN_IN, ADD = reverse("sign-in-by-passkey"), reverse("add-passkey")
MALFORMED = [
    "",
    "{",
    "[]",
    "[" * 100_000,
    "1",
    "{}",
    '{"response": {}}',
    '{"id": "x", "rawId": "x", "type": "public-key", "response": {"userHandle": "x"}}',
    json.dumps(
        {
            "id": "eA",
            "rawId": "eA",
            "type": "public-key",
            "response": {
                "userHandle": "MQ",
                "clientDataJSON": "e30",
                "authenticatorData": "eA",
                "signature": "eA",
            },
        }
    ),
]


@pytest.fixture(autouse=True)
def is_reached_by_name(settings) -> None:
    settings.PUBLIC_URL = PublicUrl("https", "testserver", "https://testserver")


def test_what_the_browser_asks_is_tied_to_the_public_address(client: Browser) -> None:
    """Web Authentication, section 5.5: challenge, rpId and userVerification of the request."""
    asked = client.get(SIGN_IN, headers={"Accept": "application/json"}).json()["request_options"]
    assert asked["publicKey"]["rpId"] == "testserver"
    assert asked["publicKey"]["userVerification"] == "required"
    assert len(asked["publicKey"]["challenge"]) >= 22  # 16 bytes or more, as section 13.4.3 asks


@pytest.mark.parametrize("credential", MALFORMED)
def test_what_no_browser_sends_is_refused(client: Browser, credential: str) -> None:
    client.get(SIGN_IN, headers={"Accept": "application/json"})
    answer = client.post(SIGN_IN, {"credential": credential, "next": "/clients", "login": "mara"})
    assert answer.status_code == 422
    assert 'class="form-errors"' in answer.text
    assert 'name="next" value="/clients"' in answer.text
    assert 'value="mara"' in answer.text
    assert "_auth_user_id" not in client.session


@pytest.mark.parametrize("credential", MALFORMED)
def test_what_no_browser_sends_is_not_added(cast: Cast, credential: str) -> None:
    browser = confirmed(signed_in(cast.editor))
    page = browser.get(ADD).text
    assert '"rp": {"name": "Boardshop", "id": "testserver"}' in page
    assert '"residentKey": "required"' in page
    assert '"userVerification": "required"' in page
    answer = browser.post(ADD, {"name": "work phone", "credential": credential})
    assert answer.status_code == 422
    assert 'value="work phone"' in answer.text
    assert 'class="form-errors"' in answer.text
    assert not Authenticator.objects.exists()


def test_adding_asks_for_the_password_first(cast: Cast) -> None:
    assert signed_in(cast.editor).get(ADD).url.startswith(reverse("confirm-password"))


def test_where_passkeys_cannot_work_the_account_page_says_why(cast: Cast, settings) -> None:
    settings.PUBLIC_URL = PublicUrl("http", "boards.example", "http://boards.example")
    answer = signed_in(cast.editor).get(ADD, follow=True)
    assert answer.redirect_chain[-1][0] == reverse("account")
    assert "Passkeys need https" in answer.text


def passkey_of(person) -> Authenticator:
    return Authenticator.objects.create(
        user=person, type="webauthn", data={"name": "old phone", "credential": {}}
    )


def test_a_passkey_is_renamed(cast: Cast) -> None:
    browser, passkey = confirmed(signed_in(cast.editor)), passkey_of(cast.editor)
    address = reverse("rename-passkey", args=[passkey.pk])
    assert 'value="old phone"' in browser.get(address).text
    assert browser.post(address, {"name": ""}).status_code == 422
    assert browser.post(address, {"name": "x" * 61}).status_code == 422
    assert browser.post(address, {"name": "spare phone"}).url == reverse("account")
    assert "spare phone" in browser.get(reverse("account")).text


def test_a_passkey_is_removed_after_a_question(cast: Cast) -> None:
    browser, passkey = confirmed(signed_in(cast.editor)), passkey_of(cast.editor)
    address = reverse("remove-passkey", args=[passkey.pk])
    assert "old phone" in browser.get(address).text
    assert Authenticator.objects.exists()
    assert browser.post(address).url == reverse("account")
    assert not Authenticator.objects.exists()


@pytest.mark.parametrize("name", ["rename-passkey", "remove-passkey"])
def test_nobody_touches_anothers(cast: Cast, name: str) -> None:
    address = reverse(name, args=[passkey_of(cast.viewer).pk])
    browser = confirmed(signed_in(cast.editor))
    assert browser.get(address).status_code == browser.post(address, {"name": "mine"}).status_code == 404
    assert Authenticator.objects.get().data["name"] == "old phone"


def test_a_passkey_alone_makes_no_second_step_of_the_password(cast: Cast) -> None:
    passkey_of(cast.editor)
    assert signed_in(cast.editor).get(reverse("account")).status_code == 200
