"""Who guesses waits; nobody else does."""

import pytest
from allauth.usersessions.models import UserSession
from django.core.cache import caches
from django.core.cache.backends.db import DatabaseCache
from django.db import connection
from django.test import Client as Browser
from django.urls import reverse

from boardshop.crew.accounts.limits import pair_of
from boardshop.crew.models import AuditEntry
from tests.crew.accounts import sign_in, signed_in
from tests.factories import Cast, make_person

pytestmark = pytest.mark.django_db
VAN, HOTEL = "192.0.2.10", "198.51.100.4"
"""Addresses for documents, RFC 5737."""


def tries(person, count: int, address: str = VAN, password: str = "wrong") -> list[int]:
    return [sign_in(Browser(), person, password=password, address=address).status_code for _ in range(count)]


def test_six_wrong_tries_and_the_seventh_waits(cast: Cast) -> None:
    assert tries(cast.editor, 7) == [422] * 6 + [429]


def test_the_page_says_when_and_keeps_the_name(cast: Cast) -> None:
    tries(cast.editor, 6)
    answer = sign_in(Browser(), cast.editor, address=VAN)
    assert answer.status_code == 429
    assert answer["Retry-After"] == "600"
    assert "Wait ten minutes" in answer.text
    assert f'value="{cast.editor.username}"' in answer.text


def test_others_behind_the_same_address_go_on(cast: Cast) -> None:
    tries(cast.editor, 8)
    assert sign_in(Browser(), cast.viewer, address=VAN).status_code == 302


def test_a_whole_crew_behind_one_address_goes_on(cast: Cast) -> None:
    """Forty people who each mistype once: more than any limit by address alone would bear."""
    people = [make_person(cast.shop, "viewer") for _ in range(40)]
    assert {code for person in people for code in tries(person, 1)} == {422}
    assert {sign_in(Browser(), person, address=VAN).status_code for person in people} == {302}


def test_the_person_goes_on_elsewhere(cast: Cast) -> None:
    tries(cast.editor, 8)
    assert sign_in(Browser(), cast.editor, address=HOTEL).status_code == 302


def test_a_right_password_takes_nothing_off_the_limit(cast: Cast) -> None:
    tries(cast.editor, 5)
    assert sign_in(Browser(), cast.editor, address=VAN).status_code == 302
    assert tries(cast.editor, 2) == [422, 429]


@pytest.mark.parametrize("written", ["VIO", "Vio", "vıo", "vIo"])
def test_another_way_of_writing_it_makes_no_other_name(cast: Cast, written: str) -> None:
    """The dotless i is an I in capitals, by which names are compared."""
    cast.editor.username = "vio"
    cast.editor.save()
    tries(cast.editor, 6)
    assert sign_in(Browser(), cast.editor, login=written, address=VAN).status_code == 429


def test_guessing_from_many_addresses_is_held_up_but_not_where_the_person_is_known(cast: Cast) -> None:
    sign_in(Browser(), cast.editor, address=HOTEL)
    addresses = [f"203.0.113.{number}" for number in range(61)]
    codes = [code for address in addresses for code in tries(cast.editor, 1, address)]
    assert codes == [422] * 60 + [429]
    assert sign_in(Browser(), cast.editor, address="192.0.2.99").status_code == 429
    assert UserSession.objects.filter(user=cast.editor, ip=HOTEL).exists()
    assert sign_in(Browser(), cast.editor, address=HOTEL).status_code == 302


def test_a_name_of_nobody_is_held_up_all_the_same(cast: Cast) -> None:
    codes = [sign_in(Browser(), cast.editor, login="nobody-here", address=VAN).status_code for _ in range(7)]
    assert codes == [422] * 6 + [429]


def test_the_counters_are_shared_by_all_processes() -> None:
    """They lie in the database, so that a second server process knows of the first one's tries."""
    assert isinstance(caches["default"], DatabaseCache)
    assert "crew_counter" in connection.introspection.table_names()


def test_an_ipv6_network_is_one_place(rf) -> None:
    """RFC 4291: the last 64 bits name the interface, of which one subscriber has as many as they like."""
    ask = lambda address: pair_of(rf.get("/", REMOTE_ADDR=address), "Mara")  # noqa: E731
    assert ask("2001:db8:1:2::5") == ask("2001:db8:1:2:9:8:7:6") != ask("2001:db8:1:3::5")
    assert ask("192.0.2.1") == "nobody MARA | 192.0.2.1"


@pytest.mark.parametrize(
    ("proxies", "forwarded", "place"),
    [
        (0, "198.51.100.4", "192.0.2.10"),
        (1, "203.0.113.9, 198.51.100.4", "198.51.100.4"),
        (2, "203.0.113.9, 198.51.100.4", "203.0.113.9"),
        (2, "198.51.100.4", "192.0.2.10"),
        (1, "", "192.0.2.10"),
    ],
)
def test_only_the_servers_in_front_are_believed(
    rf, settings, proxies: int, forwarded: str, place: str
) -> None:
    """Each server appends the address it was asked from, so what stands further left is anybody's word."""
    settings.ALLAUTH_TRUSTED_PROXY_COUNT = proxies
    headers = {"x-forwarded-for": forwarded} if forwarded else {}
    assert pair_of(rf.get("/", headers=headers, REMOTE_ADDR=VAN), "mara") == f"nobody MARA | {place}"


def test_guessing_by_way_of_changing_the_password_counts_as_well(cast: Cast) -> None:
    browser = signed_in(cast.editor)
    typed = {"new_password1": "violet-cable-under-the-frame", "new_password2": "violet-cable-under-the-frame"}
    answers = [
        browser.post(reverse("change-password"), typed | {"old_password": f"guess {number}"})
        for number in range(7)
    ]
    assert [answer.status_code for answer in answers] == [422] * 6 + [429]
    assert answers[-1]["Retry-After"] == "600"
    assert AuditEntry.objects.filter(kind="sign-in-refused").count() == 6
    assert sign_in(Browser(), cast.editor).status_code == 429
