import pytest
from django.test import Client as Browser
from django.urls import reverse

from tests.factories import Cast

pytestmark = pytest.mark.django_db
URL = reverse("sign-out")


def test_sign_out_ends_the_session(cast: Cast) -> None:
    browser = cast.browser("viewer")
    assert browser.post(URL).url == reverse("sign-in")
    assert "_auth_user_id" not in browser.session


def test_a_link_cannot_sign_anybody_out(cast: Cast) -> None:
    browser = cast.browser("viewer")
    assert browser.get(URL).status_code == 405
    assert "_auth_user_id" in browser.session


def test_signed_out_already_leads_to_sign_in(client: Browser) -> None:
    assert client.post(URL).url.startswith(reverse("sign-in"))
