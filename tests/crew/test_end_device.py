"""Signing a device out from another one."""

import pytest
from allauth.usersessions.models import UserSession
from django.urls import reverse

from boardshop.crew.models import AuditEntry
from tests.crew.accounts import signed_in
from tests.factories import Cast

pytestmark = pytest.mark.django_db


def pk_of(browser) -> int:
    return UserSession.objects.get(session_key=browser.session.session_key).pk


def test_the_device_has_to_sign_in_again(cast: Cast) -> None:
    lost, this = signed_in(cast.editor), signed_in(cast.editor)
    assert this.post(reverse("end-device", args=[pk_of(lost)])).url == reverse("account")
    assert lost.get("/clients").status_code == 302
    assert this.get("/clients").status_code == 200
    assert AuditEntry.objects.filter(about="a device was signed out", person=cast.editor).exists()


def test_it_is_done_by_a_form_alone(cast: Cast) -> None:
    browser = signed_in(cast.editor)
    assert browser.get(reverse("end-device", args=[pk_of(browser)])).status_code == 405


def test_nobody_ends_anothers(cast: Cast) -> None:
    theirs = signed_in(cast.viewer)
    assert signed_in(cast.editor).post(reverse("end-device", args=[pk_of(theirs)])).status_code == 404
    assert theirs.get("/clients").status_code == 200


def test_all_others_end_at_once(cast: Cast) -> None:
    others, theirs = [signed_in(cast.editor) for _ in range(3)], signed_in(cast.viewer)
    this = signed_in(cast.editor)
    this.post(reverse("end-other-devices"))
    assert "3 other devices have to sign in again" in this.get(reverse("account")).text
    assert [other.get("/clients").status_code for other in others] == [302] * 3
    assert theirs.get("/clients").status_code == 200
