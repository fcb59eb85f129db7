"""The mail address of an account counts once a link that went to it was opened."""

import re
from datetime import timedelta
from unittest import mock

import pytest
from django.core import mail, signing
from django.core.mail import EmailMessage
from django.urls import reverse

from boardshop.crew.models import AuditEntry, Person
from tests.crew.accounts import confirmed, signed_in
from tests.factories import Cast

pytestmark = pytest.mark.django_db
URL = reverse("change-mail")
ADDRESS = "mara@boards.example"


@pytest.fixture(autouse=True)
def sends_mail(settings) -> None:
    settings.MAIL_IS_SENT = True


def kept(person: Person) -> str:
    return Person.objects.get(pk=person.pk).email


def asked(person: Person, address: str = ADDRESS) -> str:
    """The path of the link that went out."""
    answer = confirmed(signed_in(person)).post(URL, {"address": address})
    assert answer.url == reverse("account")
    found = re.search(r"https?://[^/\s]+(/\S+)", str(mail.outbox[-1].body).partition("confirm it:")[2])
    assert found
    return found[1]


def test_nothing_changes_before_the_link_is_opened(cast: Cast) -> None:
    link = asked(cast.editor)
    assert mail.outbox[0].to == [ADDRESS]
    assert kept(cast.editor) == ""
    browser = signed_in(cast.editor)
    assert ADDRESS in browser.get(link).text
    assert kept(cast.editor) == ""
    assert browser.post(link).url == reverse("account")
    assert kept(cast.editor) == ADDRESS
    assert AuditEntry.objects.filter(about="mail address changed").exists()


def test_the_link_opens_once_for_one_person(cast: Cast) -> None:
    link = asked(cast.editor)
    assert signed_in(cast.viewer).post(link).status_code == 404
    browser = signed_in(cast.editor)
    browser.post(link)
    assert browser.post(link).status_code == 404
    assert kept(cast.viewer) == ""


def test_the_link_closes_after_a_day(cast: Cast) -> None:
    link = asked(cast.editor)
    later = signing.time.time() + timedelta(hours=25).total_seconds()
    browser = signed_in(cast.editor)
    with mock.patch.object(signing.time, "time", return_value=later):
        assert browser.get(link).status_code == 404
    assert kept(cast.editor) == ""


@pytest.mark.parametrize("token", ["x", "a:b:c", "%00", "ü"])
def test_a_forged_link_does_not_open(cast: Cast, token: str) -> None:
    answer = signed_in(cast.editor).get(reverse("confirm-mail", args=["x"]).replace("/x", f"/{token}"))
    assert answer.status_code in (400, 404)


@pytest.mark.parametrize("address", ["no address", "a@b@c.example", "a\nb@c.example"])
def test_what_is_no_address_is_refused_beside_its_field(cast: Cast, address: str) -> None:
    answer = confirmed(signed_in(cast.editor)).post(URL, {"address": address})
    assert (answer.status_code, "errorlist" in answer.text) == (422, True)
    assert mail.outbox == []


def test_a_blank_one_is_taken_away(cast: Cast) -> None:
    Person.objects.filter(pk=cast.editor.pk).update(email=ADDRESS)
    confirmed(signed_in(cast.editor)).post(URL, {"address": ""})
    assert kept(cast.editor) == ""


def test_the_password_is_asked_for_first(cast: Cast) -> None:
    assert signed_in(cast.editor).get(URL).url.startswith(reverse("confirm-password"))


def test_a_mail_server_that_fails_is_told(cast: Cast, monkeypatch) -> None:
    monkeypatch.setattr(EmailMessage, "send", mock.Mock(side_effect=TimeoutError))
    answer = confirmed(signed_in(cast.editor)).post(URL, {"address": ADDRESS})
    assert (answer.status_code, "did not take it" in answer.text) == (422, True)


def test_the_account_page_shows_it_only_where_mail_is_sent(cast: Cast, settings) -> None:
    browser = signed_in(cast.editor)
    assert f'href="{URL}"' in browser.get(reverse("account")).text
    settings.MAIL_IS_SENT = False
    assert f'href="{URL}"' not in browser.get(reverse("account")).text
