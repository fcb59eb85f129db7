"""Before the ways of signing in are changed: is it you?"""

import pytest
from django.test import Client as Browser
from django.urls import reverse

from tests.crew.accounts import code_now, sign_in, signed_in, with_app
from tests.factories import PASSWORD, Cast

pytestmark = pytest.mark.django_db
URL = reverse("confirm-password")
GOING = reverse("add-authenticator")


def test_the_right_password_leads_on(cast: Cast) -> None:
    browser = signed_in(cast.editor)
    assert browser.post(f"{URL}?next={GOING}", {"password": PASSWORD}).url == GOING
    assert browser.get(GOING).status_code == 200
    assert reverse("account_reauthenticate") == URL


def test_a_wrong_one_leads_nowhere(cast: Cast) -> None:
    browser = signed_in(cast.editor)
    answer = browser.post(f"{URL}?next={GOING}", {"password": "wrong"})
    assert (answer.status_code, "That is not your password" in answer.text) == (422, True)
    assert browser.get(GOING).status_code == 302


def test_it_is_asked_again_after_five_minutes(cast: Cast, monkeypatch) -> None:
    browser = signed_in(cast.editor)
    browser.post(URL, {"password": PASSWORD})
    session = browser.session
    for record in session["account_authentication_methods"]:
        record["at"] -= 301
    session.save()
    assert browser.get(GOING).status_code == 302


def test_it_never_leads_to_another_server(cast: Cast) -> None:
    answer = signed_in(cast.editor).post(f"{URL}?next=//elsewhere.example", {"password": PASSWORD})
    assert answer.url == "/"


def test_guessing_on_a_device_that_lies_about_is_held_up(cast: Cast) -> None:
    browser = signed_in(cast.editor)
    statuses = [browser.post(URL, {"password": "wrong"}).status_code for _ in range(7)]
    assert statuses == [422] * 6 + [429]


def test_a_code_of_the_app_does_as_well(cast: Cast, client: Browser) -> None:
    sign_in(client, with_app(cast.editor))
    client.post(reverse("type-code"), {"code": code_now(steps=-1)})
    address = reverse("confirm-code")
    assert reverse("mfa_reauthenticate") == address
    assert address in client.get(URL).text
    assert client.post(f"{address}?next={GOING}", {"code": "000000"}).status_code == 422
    assert client.post(f"{address}?next={GOING}", {"code": code_now()}).url == GOING


def test_who_has_no_passkey_confirms_by_password(cast: Cast) -> None:
    address = reverse("confirm-passkey")
    assert reverse("mfa_reauthenticate_webauthn") == address
    assert signed_in(cast.editor).get(address).url == URL
