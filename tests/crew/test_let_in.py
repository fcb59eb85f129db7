"""A way back in, made on the server."""

from concurrent.futures import ThreadPoolExecutor
from io import StringIO
from threading import Barrier
from urllib.parse import urlsplit

import pytest
from allauth.mfa.models import Authenticator
from django.core.management import CommandError, call_command
from django.db import connection
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from boardshop.crew.letting_in import make_way_in
from boardshop.crew.models import AuditEntry, Person
from tests.crew.accounts import signed_in, with_app
from tests.factories import PASSWORD, Cast

pytestmark = pytest.mark.django_db
NEW = "violet-cable-under-the-frame"
TYPED = {"new_password1": NEW, "new_password2": NEW}


def said(*arguments: str) -> str:
    out = StringIO()
    call_command("let_in", *arguments, stdout=out)
    return out.getvalue()


def path_of(text: str) -> str:
    return urlsplit(text.split()[-1]).path


def test_the_link_sets_a_new_password_and_signs_in(cast: Cast, client: Browser) -> None:
    address = path_of(said(cast.owner.username))
    assert cast.owner.username in client.get(address).text
    answer = client.post(address, TYPED)
    assert (answer.status_code, answer.url) == (302, "/")
    assert client.get("/people").status_code == 200
    assert Person.objects.get(pk=cast.owner.pk).check_password(NEW)


def test_it_opens_once(cast: Cast, client: Browser) -> None:
    address = path_of(said(cast.owner.username))
    client.post(address, TYPED)
    answer = Browser().post(address, {"new_password1": PASSWORD, "new_password2": PASSWORD})
    assert (answer.status_code, "does not open" in answer.text) == (404, True)
    assert Person.objects.get(pk=cast.owner.pk).check_password(NEW)


def test_looking_at_it_does_not_use_it_up(cast: Cast, client: Browser) -> None:
    address = path_of(said(cast.owner.username))
    client.get(address)
    assert client.post(address, TYPED).status_code == 302


def test_it_closes_with_a_sign_in_and_with_time(cast: Cast, client: Browser, settings) -> None:
    used = make_way_in(cast.owner)
    Person.objects.filter(pk=cast.owner.pk).update(last_login=timezone.now())
    assert client.get(used).status_code == 404
    old = make_way_in(Person.objects.get(pk=cast.owner.pk))
    settings.PASSWORD_RESET_TIMEOUT = -1
    assert client.get(old).status_code == 404


@pytest.mark.parametrize("token", ["x", "abc-def", "%00"])
def test_another_link_is_nobodys(cast: Cast, client: Browser, token: str) -> None:
    assert client.get(f"/let-in/{cast.owner.pk}/{token}").status_code in (400, 404)


def test_the_link_of_one_does_not_let_in_another(cast: Cast, client: Browser) -> None:
    token = make_way_in(cast.editor).rpartition("/")[2]
    assert client.get(reverse("let-in", args=[cast.owner.pk, token])).status_code == 404


def test_a_weak_password_is_refused_and_the_link_stays(cast: Cast, client: Browser) -> None:
    address = make_way_in(cast.owner)
    assert client.post(address, {"new_password1": "12345", "new_password2": "12345"}).status_code == 422
    assert client.post(address, TYPED).status_code == 302


def test_a_closed_account_is_opened_on_demand_only(cast: Cast, client: Browser) -> None:
    Person.objects.filter(pk=cast.owner.pk).update(is_active=False)
    with pytest.raises(CommandError, match="--reopen"):
        said(cast.owner.username)
    address = path_of(said(cast.owner.username, "--reopen"))
    assert client.post(address, TYPED).status_code == 302


def test_a_name_of_nobody_is_told_with_the_names_there_are(cast: Cast) -> None:
    with pytest.raises(CommandError, match=cast.editor.username):
        said("nobody-of-that-name")


def test_all_of_it_stands_in_the_audit(cast: Cast, client: Browser) -> None:
    client.post(path_of(said(cast.owner.username)), TYPED)
    entries = AuditEntry.objects.filter(shop=cast.shop).order_by("pk")
    assert [(entry.kind, entry.about) for entry in entries] == [
        ("security-changed", f"{cast.owner}: a way in was made"),
        ("security-changed", "password set by a link"),
        ("sign-in", "from 127.0.0.1"),
    ]


def test_let_in_refuses_other_methods(cast: Cast, client: Browser) -> None:
    assert client.put(make_way_in(cast.owner)).status_code == 405


def test_the_second_factor_is_still_asked_for(cast: Cast, client: Browser) -> None:
    address = path_of(said(with_app(cast.owner).username))
    assert client.post(address, TYPED).url == reverse("type-code")
    assert client.get("/people").status_code == 302


def test_a_lost_second_factor_is_taken_away_on_the_server(cast: Cast, client: Browser) -> None:
    with_app(cast.viewer)
    address = path_of(said(with_app(cast.owner).username, "--without-second-factor"))
    assert client.post(address, TYPED).url == "/"
    assert {kept.user for kept in Authenticator.objects.all()} == {cast.viewer}
    written = {(entry.who, entry.about) for entry in AuditEntry.objects.filter(kind="security-changed")}
    assert ("(on the server)", f"{cast.owner}: the second factor was removed") in written


def test_a_new_password_ends_every_device(cast: Cast, client: Browser) -> None:
    lost = signed_in(cast.owner)
    client.post(path_of(said(cast.owner.username)), TYPED)
    assert lost.get("/people").status_code == 302
    assert [device.is_this for device in client.get(reverse("account")).context["devices"]] == [True]


def test_a_reopened_account_stands_in_the_audit(cast: Cast) -> None:
    Person.objects.filter(pk=cast.owner.pk).update(is_active=False)
    said(f" {cast.owner.username.upper()} ", "--reopen")
    about = set(AuditEntry.objects.values_list("about", flat=True))
    assert about == {
        f"{cast.owner}: the closed account was opened again",
        f"{cast.owner}: a way in was made",
    }


def test_who_is_signed_in_as_somebody_else_is_told(cast: Cast) -> None:
    page = cast.browser("viewer").get(path_of(said(cast.owner.username))).text
    assert f"You are signed in as {cast.viewer.username} on this device" in page


def test_a_messenger_that_looks_at_the_link_uses_nothing_up(cast: Cast, client: Browser) -> None:
    address = path_of(said(cast.owner.username))
    assert client.head(address).status_code == 200
    assert client.post(address, TYPED).status_code == 302


@pytest.mark.django_db(transaction=True)
def test_of_two_who_use_the_link_at_once_one_finds_it_used(cast: Cast) -> None:
    address, ready = path_of(said(cast.owner.username)), Barrier(2)

    def use(password: str) -> int:
        ready.wait(10)
        try:
            typed = {"new_password1": password, "new_password2": password}
            return Browser().post(address, typed).status_code
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as threads:
        assert sorted(threads.map(use, (NEW, f"{NEW}-too"))) == [302, 404]
