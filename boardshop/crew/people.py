"""Who belongs to a shop and as what.

Every change locks the shop's row first and looks at the roles afresh, so that two owners who make each
other less at the same moment leave one of them.
"""

from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.db.models import QuerySet
from django.utils import timezone
from django.utils.translation import gettext

from boardshop.crew.access import check_role
from boardshop.crew.audit import record_event
from boardshop.crew.errors import Refusal
from boardshop.crew.models import AuditEntry, Invitation, Membership, Person, Shop

OWNER = Membership.Role.OWNER


class LastOwner(Refusal):
    """%(person)s is the only owner of %(shop)s, and a shop needs one: hand it over to another member, or make
    one an owner, first.
    """


class MemberGone(Refusal):
    """This person is no longer a member of %(shop)s; nothing was changed."""


class AccountClosed(Refusal):
    """The account of %(person)s is closed, so nobody could run the shop; hand it over to another member."""


def members_of(shop: Shop) -> QuerySet[Membership]:
    """With their people, owners first; one query."""
    return shop.memberships.select_related("person").order_by("pk")


@transaction.atomic
def change_role(shop: Shop, owner: Person, member: Membership, role: str) -> None:
    """Raises LastOwner where nobody would own the shop, PermissionDenied when `owner` is none any more."""
    lock_people(shop)
    check_owner(shop, owner)
    found = _fresh(shop, member)
    if found.role == role:
        return
    if found.role == OWNER:
        _check_not_last(shop, found)
        _revoke_links_of(shop, found.person, owner)
    former, found.role = found.get_role_display(), role
    found.save(update_fields=["role"])
    words = gettext("%(person)s: from %(former)s to %(now)s")
    said = words % {"person": found.person, "former": former, "now": found.get_role_display()}
    record_event(shop, owner, AuditEntry.Kind.ROLE_CHANGED, said)


@transaction.atomic
def remove_member(shop: Shop, owner: Person, member: Membership) -> None:
    """Access ends with it, at once.  Raises as `change_role`."""
    lock_people(shop)
    check_owner(shop, owner)
    found = _fresh(shop, member)
    _check_not_last(shop, found)
    _revoke_links_of(shop, found.person, owner)
    found.delete()
    said = f"{found.person}, {found.get_role_display()}"
    record_event(shop, owner, AuditEntry.Kind.MEMBER_REMOVED, said)


@transaction.atomic
def leave_shop(shop: Shop, person: Person) -> None:
    """Raises LastOwner for the only owner, MemberGone for somebody who has left already."""
    lock_people(shop)
    found = Membership.objects.select_related("person").filter(shop=shop, person=person).first()
    if found is None:
        raise MemberGone(shop=shop)
    _check_not_last(shop, found)
    _revoke_links_of(shop, person, person)
    found.delete()
    record_event(shop, person, AuditEntry.Kind.MEMBER_LEFT, found.get_role_display())


@transaction.atomic
def hand_over_shop(shop: Shop, owner: Person, member: Membership) -> None:
    """The member becomes an owner, and who hands over an editor."""
    lock_people(shop)
    mine = check_owner(shop, owner)
    found = _fresh(shop, member)
    if found.pk == mine.pk:
        raise MemberGone(shop=shop)
    if not found.person.is_active:
        raise AccountClosed(person=found.person)
    Membership.objects.filter(pk=found.pk).update(role=OWNER)
    Membership.objects.filter(pk=mine.pk).update(role=Membership.Role.EDITOR)
    _revoke_links_of(shop, owner, owner)
    words = gettext("to %(person)s, who was %(role)s")
    said = words % {"person": found.person, "role": found.get_role_display()}
    record_event(shop, owner, AuditEntry.Kind.OWNERSHIP_HANDED_OVER, said)


def lock_people(shop: Shop) -> None:
    """One change of people at a time; rows that only point to the shop are not held up."""
    Shop.objects.select_for_update(no_key=True).get(pk=shop.pk)


def check_owner(shop: Shop, person: Person) -> Membership:
    """As things stand inside the lock; raises PermissionDenied."""
    mine = Membership.objects.select_related("shop").filter(shop=shop, person=person).first()
    if mine is None:
        raise PermissionDenied
    check_role(mine, owning=True)
    return mine


def _fresh(shop: Shop, member: Membership) -> Membership:
    found = Membership.objects.select_related("person").filter(shop=shop, pk=member.pk).first()
    if found is None:
        raise MemberGone(shop=shop)
    return found


def is_last_owner(member: Membership) -> bool:
    """Whether nobody else owns the shop; an owner whose account is closed can let nobody in."""
    others = Membership.objects.filter(shop=member.shop_id, role=OWNER, person__is_active=True)
    return member.role == OWNER and not others.exclude(pk=member.pk).exists()


def _check_not_last(shop: Shop, leaving: Membership) -> None:
    if is_last_owner(leaving):
        raise LastOwner(person=leaving.person, shop=shop)


def _revoke_links_of(shop: Shop, maker: Person, revoker: Person) -> None:
    """Who is no owner any more must not come back as one by a link that they made themselves."""
    now = timezone.now()
    left = Invitation.objects.filter(shop=shop, made_by=maker, used_at=None, revoked_at=None)
    for invitation in left.filter(expires_at__gt=now).select_for_update():
        invitation.revoked_at = now
        invitation.save(update_fields=["revoked_at"])
        record_event(shop, revoker, AuditEntry.Kind.INVITATION_REVOKED, str(invitation))
