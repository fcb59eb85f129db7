"""A link for a new password, by mail where the server sends any."""

import re
from unittest import mock

import pytest
from django.core import mail
from django.core.mail import EmailMessage
from django.test import Client as Browser
from django.urls import reverse

from boardshop.crew.accounts.mail import OUTGOING
from boardshop.crew.models import AuditEntry, Person
from tests.crew.accounts import sign_in
from tests.factories import Cast

pytestmark = pytest.mark.django_db
URL = reverse("forgot-password")
NEW = "violet-cable-under-the-frame"


@pytest.fixture(autouse=True)
def sends_mail(settings, monkeypatch) -> None:
    """Mails leave before the answer here, so that a test finds them."""
    settings.MAIL_IS_SENT = True
    monkeypatch.setattr(OUTGOING, "submit", lambda send, *arguments: send(*arguments))


@pytest.fixture
def mailed(cast: Cast) -> Person:
    Person.objects.filter(pk=cast.editor.pk).update(email="mara@boards.example")
    return Person.objects.get(pk=cast.editor.pk)


def link_in(text: str) -> str:
    found = re.search(r"https?://[^/\s]+(/\S+)", text.rpartition("once:")[2])
    assert found
    return found[1]


def sheet_of(page: str) -> str:
    return page.partition("<main")[2].partition("</main>")[0]


def ask(who: str, address: str = "127.0.0.1"):
    return Browser().post(URL, {"who": who}, REMOTE_ADDR=address)


@pytest.mark.parametrize("by", ["username", "email"])
def test_the_link_goes_to_the_address_of_the_account(mailed: Person, by: str) -> None:
    assert "is on its way" in ask(getattr(mailed, by).upper()).text
    (sent,) = mail.outbox
    assert sent.to == ["mara@boards.example"]
    assert sent.subject == "A new password for Boardshop"
    browser = Browser()
    typed = {"new_password1": NEW, "new_password2": NEW}
    assert browser.post(link_in(str(sent.body)), typed).status_code == 302
    assert sign_in(Browser(), mailed, password=NEW).status_code == 302


def test_it_stands_in_the_audit(mailed: Person) -> None:
    ask(mailed.username)
    assert AuditEntry.objects.get().about == f"{mailed}: a link for a new password was mailed"


@pytest.mark.parametrize("who", ["nobody-here", "nobody@boards.example"])
def test_the_answer_tells_nothing_of_who_has_an_account(mailed: Person, who: str) -> None:
    known, unknown = (sheet_of(ask(name).text) for name in (mailed.username, who))
    assert known.replace(mailed.username, who) == unknown
    assert len(mail.outbox) == 1


def test_a_closed_account_and_one_without_an_address_get_none(mailed: Person, cast: Cast) -> None:
    Person.objects.filter(pk=mailed.pk).update(is_active=False)
    for who in (mailed.username, cast.viewer.username, ""):
        ask(who)
    assert mail.outbox == []


def test_three_links_an_hour_and_the_fourth_waits(mailed: Person) -> None:
    answers = [ask(mailed.username) for _ in range(4)]
    assert [answer.status_code for answer in answers] == [200] * 3 + [429]
    assert answers[-1]["Retry-After"] == "3600"
    assert ask(mailed.username, "192.0.2.9").status_code == 200


def test_name_and_address_of_one_account_count_together(mailed: Person) -> None:
    written = [mailed.username, mailed.email, mailed.username.upper(), mailed.email]
    assert [ask(who).status_code for who in written] == [200] * 3 + [429]


def test_a_mail_server_that_fails_tells_nothing_and_stands_in_the_log(
    mailed: Person, monkeypatch, caplog
) -> None:
    monkeypatch.setattr(EmailMessage, "send", mock.Mock(side_effect=ConnectionRefusedError))
    answer = ask(mailed.username)
    assert (answer.status_code, "is on its way" in answer.text) == (200, True)
    assert "The mail server refused a mail" in caplog.text


def test_the_answer_does_not_wait_for_the_mail_server(mailed: Person, monkeypatch) -> None:
    waiting = []
    monkeypatch.setattr(OUTGOING, "submit", lambda send, *arguments: waiting.append((send, arguments)))
    assert "is on its way" in ask(mailed.username).text
    assert mail.outbox == []
    assert len(waiting) == 1


def test_without_a_mail_server_the_page_tells_the_other_way(cast: Cast, client: Browser, settings) -> None:
    settings.MAIL_IS_SENT = False
    for answer in (client.get(URL), ask(cast.editor.username)):
        assert "manage.py let_in" in answer.text
        assert "<form" not in sheet_of(answer.text)
    assert reverse("forgot-password") not in client.get(reverse("sign-in")).text


def test_the_sign_in_page_leads_there(client: Browser, cast: Cast) -> None:
    assert f'href="{URL}"' in client.get(reverse("sign-in")).text
