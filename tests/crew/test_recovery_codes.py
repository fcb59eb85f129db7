"""Codes for the day the phone is gone: shown to their owner, made anew."""

import pytest
from django.urls import reverse

from tests.crew.accounts import confirmed, recovery_codes, signed_in, with_app
from tests.factories import Cast

pytestmark = pytest.mark.django_db
URL, RENEW = reverse("recovery-codes"), reverse("renew-recovery-codes")


def test_they_are_shown_after_the_password_and_kept_by_no_browser(cast: Cast) -> None:
    browser = signed_in(cast.editor)
    with_app(cast.editor)
    assert browser.get(URL).url.startswith(reverse("confirm-password"))
    answer = confirmed(browser).get(URL)
    assert "10 of 10 left" in answer.text
    assert "no-store" in answer["Cache-Control"]


def test_nobody_sees_anothers(cast: Cast) -> None:
    with_app(cast.editor)
    assert confirmed(signed_in(cast.viewer)).get(URL).status_code == 404


def test_new_ones_make_the_old_ones_void(cast: Cast) -> None:
    browser = confirmed(signed_in(cast.editor))
    old = recovery_codes(with_app(cast.editor))
    assert "The 10 codes that are left open nothing any more" in browser.get(RENEW).text
    assert browser.post(RENEW).url == URL
    assert not set(old) & set(recovery_codes(cast.editor))


def test_without_an_app_none_are_made(cast: Cast) -> None:
    answer = confirmed(signed_in(cast.editor)).post(RENEW)
    assert answer.status_code == 422
