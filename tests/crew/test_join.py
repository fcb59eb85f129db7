from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from threading import Barrier

import pytest
from django.db import connection
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from boardshop.crew.models import Invitation, Membership, Person
from tests.crew.shops import audit_of, invite, mark_in, role_of, wary
from tests.factories import PASSWORD, Cast, make_cast, make_person

pytestmark = pytest.mark.django_db
NEW = {"username": "nils", "password": "seven-long-patch-leads", "again": "seven-long-patch-leads"}


@pytest.fixture
def link(cast: Cast) -> str:
    return invite(cast, "viewer")


def test_who_is_signed_in_joins_by_the_button_and_works_there(cast: Cast, link: str) -> None:
    browser = cast.browser("stranger")
    assert f"Join {cast.shop} as viewer" in browser.get(link).text
    assert role_of(cast, "stranger") is None
    assert browser.post(link).url == "/"
    assert role_of(cast, "stranger") == "viewer"
    assert browser.get(reverse("people")).context["shop"] == cast.shop
    assert audit_of(cast.shop)[1:] == [("invitation-used", "viewer")]


def test_looking_at_the_link_never_uses_it_up(client: Browser, cast: Cast, link: str) -> None:
    for _ in range(3):
        assert client.get(link).status_code == 200
        client.head(link)
    assert Invitation.objects.get().state == "open"


def test_who_is_signed_out_may_sign_in_and_comes_back(client: Browser, cast: Cast, link: str) -> None:
    to_sign_in = f"{reverse('sign-in')}?next={link}"
    assert to_sign_in in client.get(link).text
    typed = {"login": cast.stranger.username, "password": PASSWORD, "next": link}
    assert client.post(reverse("sign-in"), typed).url == link


def test_who_has_no_account_makes_one_and_is_a_member(client: Browser, cast: Cast, link: str) -> None:
    assert client.post(link, NEW).url == "/"
    membership = Membership.objects.get(person__username="nils")
    assert (membership.shop, membership.role) == (cast.shop, "viewer")
    assert client.session["_auth_user_id"] == str(membership.person.pk)
    assert client.login(username="nils", password=NEW["password"])


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"password": "short", "again": "short"}, "password"),
        ({"again": "something-else-long"}, "again"),
        ({"username": "two words"}, "username"),
        ({"username": "a\0b"}, "username"),
        ({"username": "TAKEN"}, "username"),
    ],
)
def test_a_wrong_account_is_not_made(
    client: Browser, cast: Cast, link: str, wrong: dict[str, str], field: str
) -> None:
    make_person(username="taken")
    before = Person.objects.count()
    answer = client.post(link, NEW | wrong)
    assert answer.status_code == 422
    assert list(answer.context["form"].errors) == [field]
    assert NEW["password"] not in answer.text
    assert Person.objects.count() == before
    assert Invitation.objects.get().state == "open"


@pytest.mark.parametrize("role", ["owner", "editor", "viewer"])
@pytest.mark.parametrize("offered", ["owner", "editor", "viewer"])
def test_a_member_keeps_the_role_and_the_link(cast: Cast, role: str, offered: str) -> None:
    link = invite(cast, offered)
    browser = cast.browser(role)
    for answer, status in ((browser.get(link), 200), (browser.post(link), 409)):
        assert answer.status_code == status
        assert "already" in answer.text
    assert role_of(cast, role) == role
    assert Invitation.objects.get().state == "open"


def test_unknown_is_404_and_names_no_shop(client: Browser, cast: Cast) -> None:
    for answer in (client.get("/join/never-made"), client.post("/join/never-made", NEW)):
        assert answer.status_code == 404
        assert "There is no such invitation" in answer.text
    assert not Person.objects.filter(username="nils").exists()


@pytest.mark.parametrize("state", ["used", "revoked", "expired"])
def test_each_closed_state_says_so_and_changes_nothing(
    client: Browser, cast: Cast, link: str, state: str
) -> None:
    now = timezone.now()
    columns = {
        "used": {"used_at": now},
        "revoked": {"revoked_at": now},
        "expired": {"expires_at": now - timedelta(seconds=1)},
    }
    Invitation.objects.update(**columns[state])
    said = {"used": "was used", "revoked": "was taken back", "expired": "has run out"}[state]
    for browser in (client, cast.browser("stranger")):
        for answer in (browser.get(link), browser.post(link, NEW)):
            assert answer.status_code == 410
            assert said in answer.text
            assert cast.shop.name not in answer.text.partition("<main")[2]
    assert Membership.objects.filter(shop=cast.shop).count() == 3


def test_the_moment_of_expiry_is_closed(cast: Cast, link: str, monkeypatch: pytest.MonkeyPatch) -> None:
    invitation = Invitation.objects.get()
    monkeypatch.setattr("boardshop.crew.models.timezone.now", lambda: invitation.expires_at)
    assert invitation.state == "expired"


def test_the_link_leaves_by_no_referrer_and_no_cache(client: Browser, link: str) -> None:
    answer = client.get(link)
    assert answer["Referrer-Policy"] == "same-origin"
    assert "no-store" in answer["Cache-Control"]
    assert 'href="http' not in answer.text


def test_a_forged_join_is_refused(cast: Cast, link: str) -> None:
    browser = wary(cast.browser("stranger"))
    assert browser.post(link).status_code == 403
    mark = mark_in(browser.get(link).text)
    assert browser.post(link, {"csrfmiddlewaretoken": mark}).status_code == 302


def test_join_refuses_other_methods(client: Browser, link: str) -> None:
    assert client.put(link).status_code == 405


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("are_new", [False, True])
def test_of_two_at_the_same_moment_one_joins(are_new: bool) -> None:
    cast = make_cast()
    link = invite(cast)
    barrier = Barrier(2)
    browsers = [Browser(), Browser()]
    if not are_new:
        for browser in browsers:
            browser.force_login(make_person())

    def join(browser: Browser, name: str) -> int:
        barrier.wait(10)
        try:
            return browser.post(link, NEW | {"username": name}).status_code
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as pool:
        codes = sorted(pool.map(join, browsers, ("nils", "mara")))
    assert codes == [302, 410]
    assert Membership.objects.filter(shop=cast.shop).count() == 4
    # Who came second has no account without a shop either.
    assert Person.objects.filter(username__in=("nils", "mara")).count() == (1 if are_new else 0)
