import pytest
from django.core.exceptions import PermissionDenied
from django.urls import reverse

from boardshop.crew.invitations import revoke_invitation
from boardshop.crew.models import Invitation
from tests.crew.shops import audit_of, invite
from tests.factories import Cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def link(cast: Cast) -> str:
    return invite(cast, "viewer", "Nils")


@pytest.fixture
def url(link: str) -> str:
    return reverse("revoke-invitation", args=[Invitation.objects.get().pk])


def test_the_link_opens_no_more_and_leaves_the_list(cast: Cast, link: str, url: str) -> None:
    browser = cast.browser("owner")
    assert url in browser.get(reverse("people")).text
    assert browser.post(url).url == reverse("people")
    assert url not in browser.get(reverse("people")).text
    assert cast.browser("stranger").get(link).status_code == 410
    assert audit_of(cast.shop)[1:] == [("invitation-revoked", "viewer, Nils")]


def test_a_used_one_cannot_be_revoked(cast: Cast, link: str, url: str) -> None:
    cast.browser("stranger").post(link)
    assert cast.browser("owner").post(url).status_code == 409
    assert Invitation.objects.get().revoked_at is None


@pytest.mark.parametrize("left_as", ["editor", None])
def test_who_is_no_owner_any_more_inside_the_lock_revokes_nothing(
    cast: Cast, link: str, left_as: str | None
) -> None:
    # As in a race: the view saw an owner, and another owner was quicker.
    former = cast.shop.memberships.filter(person=cast.owner)
    if left_as:
        former.update(role=left_as)
    else:
        former.delete()
    with pytest.raises(PermissionDenied):
        revoke_invitation(Invitation.objects.get(), cast.owner)
    assert Invitation.objects.get().revoked_at is None


@pytest.mark.parametrize("role", ["editor", "viewer"])
def test_nobody_else_may(cast: Cast, url: str, role: str) -> None:
    assert cast.browser(role).post(url).status_code == 403


def test_a_stranger_gets_404(cast: Cast, url: str) -> None:
    assert cast.browser("stranger").post(url).status_code == 404


def test_revoke_invitation_refuses_other_methods(cast: Cast, url: str) -> None:
    assert cast.browser("owner").get(url).status_code == 405
