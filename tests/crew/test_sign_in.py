from datetime import timedelta

import pytest
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from boardshop.crew.accounts.devices import RENEWED_ON
from boardshop.crew.models import AuditEntry, Membership, Person
from tests.factories import PASSWORD, Cast, make_shop

pytestmark = pytest.mark.django_db
URL = reverse("sign-in")
SESSION_COOKIE = "sessionid"


def _type(browser: Browser, cast: Cast, **values: str):
    return browser.post(URL, {"login": cast.editor.username, "password": PASSWORD, "remember": "on"} | values)


def test_sign_in_leads_to_the_boards(client: Browser, cast: Cast) -> None:
    answer = _type(client, cast)
    assert (answer.status_code, answer.url) == (302, "/")
    assert client.session["_auth_user_id"] == str(cast.editor.pk)


def test_sign_in_leads_to_where_one_was_going(client: Browser, cast: Cast) -> None:
    assert _type(client, cast, next="/clients").url == "/clients"


def test_the_name_opens_whatever_its_case(client: Browser, cast: Cast) -> None:
    assert _type(client, cast, login=cast.editor.username.upper()).status_code == 302
    assert client.session["_auth_user_id"] == str(cast.editor.pk)


@pytest.mark.parametrize(
    "target", ["https://elsewhere.example/", "//elsewhere.example", "javascript:alert(1)"]
)
def test_sign_in_never_leads_to_another_server(client: Browser, cast: Cast, target: str) -> None:
    assert _type(client, cast, next=target).url == "/"


def test_a_wrong_password_says_so_and_keeps_the_name(client: Browser, cast: Cast) -> None:
    answer = _type(client, cast, password="wrong")
    assert answer.status_code == 422
    assert "do not go together" in answer.text
    assert f'value="{cast.editor.username}"' in answer.text
    assert "wrong" not in answer.text


def test_an_unknown_name_and_a_wrong_password_read_the_same(client: Browser, cast: Cast) -> None:
    known, unknown = _type(client, cast, password="wrong"), _type(client, cast, login="nobody-here")
    assert known.context["form"].non_field_errors() == unknown.context["form"].non_field_errors()


def test_a_closed_account_stays_out(client: Browser, cast: Cast) -> None:
    Person.objects.filter(pk=cast.editor.pk).update(is_active=False)
    assert _type(client, cast).status_code == 422


def test_a_nul_byte_is_refused_not_a_crash(client: Browser, cast: Cast) -> None:
    assert _type(client, cast, login="a\0b").status_code == 422


def test_the_page_tells_of_the_set_up_link_while_nobody_has_an_account(client: Browser) -> None:
    assert "announce_setup" in client.get(URL).text


def test_the_page_offers_no_set_up_once_somebody_has_an_account(client: Browser, cast: Cast) -> None:
    assert "announce_setup" not in client.get(URL).text


def test_who_is_signed_in_already_goes_on(cast: Cast) -> None:
    assert cast.browser("viewer").get(URL, {"next": "/clients"}).url == "/clients"


def test_sign_in_refuses_other_methods(client: Browser) -> None:
    assert client.put(URL).status_code == 405


def test_the_page_tells_truly_who_sets_a_forgotten_password(client: Browser, cast: Cast) -> None:
    text = client.get(URL).text
    assert "<code>python manage.py let_in</code>" in text
    assert "whoever runs the server makes it" in text
    assert (
        "owner"
        not in _type(client, cast, password="wrong").text.partition("<main")[2].partition("</form>")[0]
    )


def test_the_page_tells_how_further_accounts_are_made(client: Browser, cast: Cast) -> None:
    assert "ask an owner of your shop for an invitation link" in client.get(URL).text


@pytest.mark.parametrize(("days", "is_renewed"), [(0, False), (1, True), (30, True)])
def test_a_device_that_is_used_stays_signed_in(
    client: Browser, cast: Cast, days: int, is_renewed: bool
) -> None:
    _type(client, cast)
    client.get("/clients")  # The first page of a device keeps the shop in use.
    session = client.session
    session[RENEWED_ON] = (timezone.localdate() - timedelta(days=days)).isoformat()
    session.save()
    answer = client.get("/clients")
    assert (SESSION_COOKIE in answer.cookies) == is_renewed
    if is_renewed:
        assert answer.cookies[SESSION_COOKIE]["max-age"] == 90 * 24 * 3600


def test_a_sign_in_stands_in_the_audit_of_each_of_ones_shops(client: Browser, cast: Cast) -> None:
    second = make_shop()
    Membership.objects.create(shop=second, person=cast.editor, role="viewer")
    _type(client, cast)
    entries = AuditEntry.objects.filter(kind="sign-in", person=cast.editor)
    assert {(entry.shop, entry.about) for entry in entries} == {
        (cast.shop, "from 127.0.0.1"),
        (second, "from 127.0.0.1"),
    }


def test_a_refused_sign_in_stands_in_the_audit_of_that_accounts_shops(client: Browser, cast: Cast) -> None:
    _type(client, cast, password="wrong")
    entry = AuditEntry.objects.get(kind="sign-in-refused")
    assert (entry.shop, entry.who) == (cast.shop, str(cast.editor))


def test_a_name_of_nobody_leaves_no_line(client: Browser, cast: Cast) -> None:
    _type(client, cast, login="somebody-else")
    assert not AuditEntry.objects.exists()
