"""Coming into a shop by a link that an owner sends as they like; no mail is needed.

The link holds a token that is shown once; only its digest is kept.  It opens for KEPT_DAYS, and once.
"""

from datetime import timedelta

from django.db import transaction
from django.db.models import QuerySet
from django.utils import timezone

from boardshop.crew.audit import record_event
from boardshop.crew.constraints import refusals_by
from boardshop.crew.errors import Refusal
from boardshop.crew.models import AuditEntry, Invitation, Membership, Person, Shop
from boardshop.crew.newcomers import make_person
from boardshop.crew.people import check_owner, lock_people
from boardshop.crew.tokens import digest_of, new_token

KEPT_DAYS = 7
"""So long a link opens; long enough for somebody on the road, short for one that goes astray."""


class InvitationClosed(Refusal):
    """This invitation was used, revoked or has run out meanwhile; ask an owner of the shop for a new one."""


class AlreadyMember(Refusal):
    """You are already a member of %(shop)s; nothing was changed."""


@transaction.atomic
def make_invitation(shop: Shop, owner: Person, *, role: str, for_whom: str = "") -> str:
    """The token for the link; it cannot be read back later.

    Raises PermissionDenied when `owner` is none any more.
    """
    lock_people(shop)
    check_owner(shop, owner)
    token = new_token()
    expires_at = timezone.now() + timedelta(days=KEPT_DAYS)
    invitation = Invitation.objects.create(
        shop=shop,
        role=role,
        for_whom=for_whom,
        digest=digest_of(token),
        made_by=owner,
        expires_at=expires_at,
    )
    record_event(shop, owner, AuditEntry.Kind.INVITATION_MADE, str(invitation))
    return token


def open_invitations(shop: Shop) -> QuerySet[Invitation]:
    """Those that somebody could still use, newest first."""
    still = Invitation.objects.filter(shop=shop, used_at=None, revoked_at=None, expires_at__gt=timezone.now())
    return still.select_related("made_by")


@transaction.atomic
def revoke_invitation(invitation: Invitation, owner: Person) -> None:
    """Raises PermissionDenied when `owner` is none any more, InvitationClosed when there is nothing left."""
    lock_people(invitation.shop)
    check_owner(invitation.shop, owner)
    found = Invitation.objects.select_for_update().get(pk=invitation.pk)
    if found.state != Invitation.State.OPEN:
        raise InvitationClosed
    found.revoked_at = timezone.now()
    found.save(update_fields=["revoked_at"])
    record_event(invitation.shop, owner, AuditEntry.Kind.INVITATION_REVOKED, str(found))


def find_invitation(token: str) -> Invitation | None:
    """Whatever its state, with its shop; looking at it does not use it up."""
    return Invitation.objects.select_related("shop").filter(digest=digest_of(token)).first()


@transaction.atomic
def join_shop(invitation: Invitation, person: Person) -> Membership:
    """Of two people with the same link the first one joins.

    Raises InvitationClosed for the other, AlreadyMember for a member, whose role stays as it is.
    """
    found = Invitation.objects.select_for_update().get(pk=invitation.pk)
    if found.state != Invitation.State.OPEN:
        raise InvitationClosed
    with refusals_by({"membership_once_per_shop": AlreadyMember}, shop=invitation.shop):
        joined = Membership.objects.create(shop=invitation.shop, person=person, role=found.role)
    found.used_at, found.used_by = timezone.now(), person
    found.save(update_fields=["used_at", "used_by"])
    record_event(invitation.shop, person, AuditEntry.Kind.INVITATION_USED, str(found))
    return joined


@transaction.atomic
def join_with_new_account(invitation: Invitation, *, username: str, password: str) -> Person:
    """An account that is a member from its first moment; neither is made without the other.

    Raises InvitationClosed, UsernameTaken.
    """
    person = make_person(username, password=password)
    join_shop(invitation, person)
    return person
