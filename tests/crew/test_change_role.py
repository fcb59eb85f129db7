from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest
from django.core.exceptions import PermissionDenied
from django.db import connection
from django.urls import reverse

from boardshop.crew.invitations import open_invitations
from boardshop.crew.models import Membership, Person
from boardshop.crew.people import LastOwner, change_role
from tests.crew.shops import audit_of, invite, member, role_of
from tests.factories import Cast, make_cast, make_person

pytestmark = pytest.mark.django_db


def url(cast: Cast, role: str) -> str:
    return reverse("change-role", args=[member(cast, role).pk])


def test_an_owner_changes_a_role_and_it_is_recorded(cast: Cast) -> None:
    answer = cast.browser("owner").post(url(cast, "viewer"), {"role": "editor"})
    assert answer.url == reverse("people")
    assert role_of(cast, "viewer") == "editor"
    assert audit_of(cast.shop) == [("role-changed", f"{cast.viewer}: from viewer to editor")]


def test_the_same_role_again_is_no_event(cast: Cast) -> None:
    cast.browser("owner").post(url(cast, "viewer"), {"role": "viewer"})
    assert audit_of(cast.shop) == []


def test_a_lower_role_counts_at_once(cast: Cast) -> None:
    browser = cast.browser("editor")
    assert browser.get(reverse("add-client")).status_code == 200
    cast.browser("owner").post(url(cast, "editor"), {"role": "viewer"})
    assert browser.get(reverse("add-client")).status_code == 403


def test_the_last_owner_stays_and_reads_the_way_out(cast: Cast) -> None:
    answer = cast.browser("owner").post(url(cast, "owner"), {"role": "editor"})
    assert answer.status_code == 409
    assert "hand it over to another member" in answer.text
    assert role_of(cast, "owner") == "owner"


def test_with_a_second_owner_the_first_may_become_less(cast: Cast) -> None:
    make_person(cast.shop, "owner")
    cast.browser("owner").post(url(cast, "owner"), {"role": "viewer"})
    assert role_of(cast, "owner") == "viewer"


def test_links_that_a_former_owner_made_open_no_more(cast: Cast) -> None:
    link = invite(cast, "owner")
    make_person(cast.shop, "owner")
    cast.browser("owner").post(url(cast, "owner"), {"role": "viewer"})
    assert not open_invitations(cast.shop).exists()
    assert cast.browser("stranger").post(link).status_code == 410


@pytest.mark.parametrize("role", ["editor", "viewer"])
def test_nobody_else_may(cast: Cast, role: str) -> None:
    assert cast.browser(role).post(url(cast, role), {"role": "owner"}).status_code == 403
    assert role_of(cast, role) == role


def test_a_stranger_gets_404(cast: Cast) -> None:
    assert cast.browser("stranger").post(url(cast, "viewer"), {"role": "owner"}).status_code == 404


@pytest.mark.parametrize("wrong", [{}, {"role": "boss"}, {"role": ""}])
def test_an_unknown_role_is_refused(cast: Cast, wrong: dict[str, str]) -> None:
    assert cast.browser("owner").post(url(cast, "viewer"), wrong).status_code == 422
    assert role_of(cast, "viewer") == "viewer"


def test_change_role_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("owner").get(url(cast, "viewer")).status_code == 405


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("time", range(5))
def test_two_owners_who_make_each_other_less_leave_one(time: int) -> None:
    cast = make_cast()
    second = make_person(cast.shop, "owner")
    barrier = Barrier(2)

    def demote(by: Person, other: Person) -> str:
        target = Membership.objects.get(shop=cast.shop, person=other)
        barrier.wait(10)
        try:
            change_role(cast.shop, by, target, "editor")
        except (LastOwner, PermissionDenied):
            return "refused"
        else:
            return "done"
        finally:
            connection.close()

    with ThreadPoolExecutor(2) as pool:
        ends = list(pool.map(demote, (cast.owner, second), (second, cast.owner)))
    assert sorted(ends) == ["done", "refused"]
    assert Membership.objects.filter(shop=cast.shop, role="owner").count() == 1
