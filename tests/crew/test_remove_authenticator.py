"""Turning the authenticator app off."""

import pytest
from allauth.mfa.models import Authenticator
from django.urls import reverse

from tests.crew.accounts import confirmed, signed_in, with_app
from tests.factories import Cast

pytestmark = pytest.mark.django_db
URL = reverse("remove-authenticator")


def test_app_and_recovery_codes_go_together(cast: Cast) -> None:
    browser = confirmed(signed_in(cast.editor))
    with_app(cast.editor)
    with_app(cast.viewer)
    assert "Turn it off" in browser.get(URL).text
    assert browser.post(URL).url == reverse("account")
    assert {kept.user for kept in Authenticator.objects.all()} == {cast.viewer}
    assert "The authenticator app is off" in browser.get(reverse("account")).text


def test_the_password_is_asked_for_first(cast: Cast) -> None:
    browser = signed_in(cast.editor)
    with_app(cast.editor)
    assert browser.post(URL).url.startswith(reverse("confirm-password"))
    assert Authenticator.objects.count() == 2


def test_without_one_there_is_nothing_to_turn_off(cast: Cast) -> None:
    assert confirmed(signed_in(cast.editor)).get(URL).status_code == 404
    assert reverse("mfa_deactivate_totp") == URL
