"""Who may see and change what: the only way from a person to a shop's data.

A stranger gets 404, so that nothing tells what exists; a viewer who tries to change something gets 403.
"""

from typing import TYPE_CHECKING

from django.contrib.auth.models import AnonymousUser
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest
from django.utils.translation import gettext as _

from boardshop.crew.models import Client, Membership, Person, Shop

if TYPE_CHECKING:
    from django.db.models import QuerySet

type Visitor = Person | AnonymousUser


def person_of(request: HttpRequest) -> Person | None:
    """Who asks; None where nobody is signed in."""
    return request.user if isinstance(request.user, Person) else None


def get_membership_for(person: Visitor, shop_id: int) -> Membership:
    """The person's membership of that shop; 404 for a stranger."""
    if not isinstance(person, Person):
        raise Http404
    membership = Membership.objects.select_related("shop").filter(person=person, shop_id=shop_id).first()
    if membership is None:
        raise Http404
    return membership


def get_shop_for(person: Visitor, *, editing: bool = False) -> Shop:
    """The shop that the person works in; 404 without one, 403 for a viewer when `editing`."""
    if not isinstance(person, Person):
        raise Http404
    membership = Membership.objects.select_related("shop").filter(person=person).order_by("pk").first()
    if membership is None:
        raise Http404
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
    """The shop whose settings the person may change; 403 for anyone but an owner."""
    shop = get_shop_for(person)
    check_role(get_membership_for(person, shop.pk), owning=True)
    return shop


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


def get_client_for(person: Visitor, pk: int, *, editing: bool = False) -> Client:
    """One artist or customer; 404 for a stranger, 403 for a viewer when `editing`."""
    shop = get_shop_for(person, editing=editing)
    client = Client.objects.filter(shop=shop, pk=pk).first()
    if client is None:
        raise Http404
    return client
