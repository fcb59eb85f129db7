"""One's own account at a glance."""

from datetime import timedelta

import pytest
from allauth.usersessions.models import UserSession
from django.contrib.sessions.models import Session
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from boardshop.crew.accounts.devices import RENEWED_ON, name_of
from boardshop.crew.models import Person
from boardshop.environment import PublicUrl
from tests.crew.accounts import sign_in, signed_in
from tests.factories import PASSWORD, Cast

pytestmark = pytest.mark.django_db
URL = reverse("account")
PHONE = (
    "Mozilla/5.0 (Linux; Android 15; Pixel 9) AppleWebKit/537.36 (KHTML, like Gecko) "
    "Chrome/140.0.0.0 Mobile Safari/537.36"
)
TABLET = (
    "Mozilla/5.0 (iPad; CPU OS 18_1 like Mac OS X) AppleWebKit/605.1.15 (KHTML, like Gecko) "
    "Version/18.1 Mobile/15E148 Safari/604.1"
)
LAPTOP = "Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0"


@pytest.mark.parametrize(
    ("agent", "name"),
    [
        (PHONE, "Chrome on Android"),
        (TABLET, "Safari on iPad"),
        (LAPTOP, "Firefox on Linux"),
        ("curl/8.14", "unknown device"),
        ("", "unknown device"),
    ],
)
def test_a_device_is_called_what_its_browser_says(agent: str, name: str) -> None:
    assert name_of(agent) == name


def test_every_device_of_ones_own_is_listed_this_one_first(cast: Cast) -> None:
    signed_in(cast.viewer, user_agent=TABLET)
    signed_in(cast.editor, user_agent=PHONE)
    page = signed_in(cast.editor, user_agent=LAPTOP).get(URL)
    assert [(device.name, device.is_this) for device in page.context["devices"]] == [
        ("Firefox on Linux", True),
        ("Chrome on Android", False),
    ]
    assert "Safari on iPad" not in page.text


@pytest.mark.parametrize("devices", [1, 12])
def test_the_queries_do_not_grow(cast: Cast, devices: int, django_assert_num_queries) -> None:
    for _ in range(devices - 1):
        signed_in(cast.editor)
    browser = signed_in(cast.editor)
    browser.get(URL)
    with django_assert_num_queries(6):
        browser.get(URL)


def test_a_session_that_ran_out_is_no_device(cast: Cast) -> None:
    other = signed_in(cast.editor, user_agent=PHONE)
    Session.objects.filter(session_key=other.session.session_key).update(expire_date=timezone.now())
    assert "Chrome on Android" not in signed_in(cast.editor).get(URL).text


def test_a_device_that_is_used_has_todays_date(cast: Cast) -> None:
    phone = signed_in(cast.editor, user_agent=PHONE)
    session = phone.session
    session[RENEWED_ON] = (timezone.localdate() - timedelta(days=3)).isoformat()
    session.save()
    UserSession.objects.update(last_seen_at=timezone.now() - timedelta(days=3))
    phone.get("/clients")
    assert UserSession.objects.get().last_seen_at.date() == timezone.now().date()


def test_keeping_signed_in_is_a_choice(cast: Cast) -> None:
    for typed, seconds in [({"remember": "on"}, 90 * 24 * 3600), ({"remember": ""}, "")]:
        browser = Browser()
        answer = sign_in(browser, cast.editor, **typed)
        assert answer.cookies["sessionid"]["max-age"] == seconds


def test_a_changed_password_ends_the_other_devices(cast: Cast) -> None:
    other, this = signed_in(cast.editor), signed_in(cast.editor)
    new = "violet-cable-under-the-frame"
    this.post(
        reverse("change-password"), {"old_password": PASSWORD, "new_password1": new, "new_password2": new}
    )
    assert other.get(URL).status_code == 302
    assert [device.is_this for device in this.get(URL).context["devices"]] == [True]


def test_the_menu_leads_there(cast: Cast) -> None:
    assert f'href="{URL}"' in cast.browser("viewer").get("/clients").text


def test_passkeys_tell_what_hinders_them(cast: Cast, settings) -> None:
    browser = signed_in(cast.editor)
    for url, said in [
        (PublicUrl("http", "boards.example", "http://boards.example"), "need https"),
        (PublicUrl("https", "192.0.2.7", "https://192.0.2.7"), "a server with a name"),
        (PublicUrl("https", "boards.example", "https://boards.example"), "opened as https://boards.example"),
    ]:
        settings.PUBLIC_URL = url
        page = browser.get(URL).text
        assert said in page
        assert reverse("add-passkey") not in page


def test_the_account_of_a_person_without_a_shop_opens(cast: Cast) -> None:
    person = Person.objects.create_user("alone", password=PASSWORD)
    assert signed_in(person).get(URL).status_code == 200
