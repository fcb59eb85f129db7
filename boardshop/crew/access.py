"""Who may see and change what: the only way from a person to a shop's data.

A stranger gets 404, so that nothing tells what exists; a viewer who tries to change something gets 403.
"""

from typing import TYPE_CHECKING

from django.contrib.auth.models import AnonymousUser
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest
from django.utils.translation import gettext as _

from boardshop.crew.errors import Refusal
from boardshop.crew.models import Client, Invitation, Membership, Person, Shop

if TYPE_CHECKING:
    from django.db.models import QuerySet

type Visitor = Person | AnonymousUser


def person_of(request: HttpRequest) -> Person | None:
    """Who asks; None where nobody is signed in."""
    return request.user if isinstance(request.user, Person) else None


def signed_in(request: HttpRequest) -> Person:
    """Who asks, in a view that nobody reaches signed out."""
    person = person_of(request)
    assert person is not None  # SignInRequiredMiddleware lets nobody else through
    return person


def get_membership_for(person: Visitor, shop_id: int) -> Membership:
    """The person's membership of that shop; 404 for a stranger."""
    if not isinstance(person, Person):
        raise Http404
    membership = Membership.objects.select_related("shop").filter(person=person, shop_id=shop_id).first()
    if membership is None:
        raise Http404
    return membership


class NoShop(Http404):
    """Somebody is signed in but belongs to no shop; ShopInUseMiddleware shows the ways out."""


class ShopGone(Refusal):
    """You are no longer a member of the shop that this page was of, so nothing was stored; open the page
    again to work in %(shop)s.
    """


def get_membership_in_use(person: Visitor) -> Membership:
    """The membership of the shop that the person works in on this device, the first one when that is gone.

    404 without one.  Raises ShopGone instead of falling back when a form is being sent: what was typed for
    one shop is never stored in another.
    """
    if not isinstance(person, Person):
        raise Http404
    mine = list(Membership.objects.select_related("shop").filter(person=person).order_by("pk"))
    if not mine:
        raise NoShop
    found = next((membership for membership in mine if membership.shop_id == person.shop_in_use), mine[0])
    if person.is_sending and person.shop_in_use not in (None, found.shop_id):
        raise ShopGone(shop=found.shop)
    person.shop_shown = found.shop_id
    return found


def get_shop_for(person: Visitor, *, editing: bool = False) -> Shop:
    """The shop that the person works in; 404 without one, 403 for a viewer when `editing`."""
    membership = get_membership_in_use(person)
    check_role(membership, editing=editing)
    return membership.shop


def check_role(membership: Membership, *, editing: bool = False, owning: bool = False) -> None:
    """403 with the way out when the role does not reach."""
    if owning and membership.role != Membership.Role.OWNER:
        raise PermissionDenied(_("Only an owner of %(shop)s may do this.") % {"shop": membership.shop})
    if editing and membership.role not in Membership.EDITING_ROLES:
        raise PermissionDenied(
            _("You may look at %(shop)s but not change it; ask an owner or an editor to do it.")
            % {"shop": membership.shop}
        )


def get_owned_shop_for(person: Visitor) -> Shop:
    """The shop whose settings and people the person may change; 403 for anyone but an owner."""
    membership = get_membership_in_use(person)
    check_role(membership, owning=True)
    return membership.shop


def owns(person: Visitor, shop: Shop) -> bool:
    """Whether the person may change the settings of this shop."""
    if not isinstance(person, Person):
        return False
    return Membership.objects.filter(person=person, shop=shop, role=Membership.Role.OWNER).exists()


def may_edit(person: Visitor, shop: Shop) -> bool:
    """Whether to show the person the forms that change things in this shop."""
    if not isinstance(person, Person):
        return False
    return Membership.objects.filter(person=person, shop=shop, role__in=Membership.EDITING_ROLES).exists()


def clients_for(person: Visitor) -> "QuerySet[Client]":
    """The artists and customers of the person's shop, by name."""
    return Client.objects.filter(shop=get_shop_for(person))


def get_client_for(person: Visitor, pk: int, *, editing: bool = False, with_trash: bool = False) -> Client:
    """One artist or customer; 404 for a stranger, 403 for a viewer when `editing`.

    One in the trash is found only `with_trash`.
    """
    shop = get_shop_for(person, editing=editing)
    found = Client.with_trash if with_trash else Client.objects
    client = found.filter(shop=shop, pk=pk).first()
    if client is None:
        raise Http404
    return client


def get_member_for(person: Visitor, pk: int) -> Membership:
    """A member of the shop that the person owns; 404 for one of another shop, 403 for anyone but an owner."""
    mine = get_membership_in_use(person)
    member = Membership.objects.select_related("shop", "person").filter(shop=mine.shop, pk=pk).first()
    if member is None:
        raise Http404
    check_role(mine, owning=True)
    return member


def get_invitation_for(person: Visitor, pk: int) -> Invitation:
    """An invitation to the shop that the person owns; 404 for another shop's, 403 for anyone but an owner."""
    mine = get_membership_in_use(person)
    invitation = Invitation.objects.select_related("shop").filter(shop=mine.shop, pk=pk).first()
    if invitation is None:
        raise Http404
    check_role(mine, owning=True)
    return invitation
