"""Which of their shops somebody works in on this device: kept in its session.

A form carries no word of the shop it is for, and another tab may still hold one of the former shop.
So every change of the shop renews the mark against forged requests: a form that was loaded before it is
refused (templates/403_csrf.html) instead of being stored in the wrong shop.
"""

from dataclasses import dataclass

from django.http import HttpRequest
from django.middleware.csrf import rotate_token
from django.utils.functional import SimpleLazyObject

from boardshop.crew.models import Membership, Person, Shop

KEY = "shop_in_use"


def read_shop(request: HttpRequest) -> int | None:
    """The key of the shop as the session has it; whether it is still one's own is for access to say."""
    kept = request.session.get(KEY)
    return kept if isinstance(kept, int) else None


def use_shop(request: HttpRequest, shop: Shop) -> None:
    """Work in that shop from now on; forms that were loaded in another one are refused."""
    request.session[KEY] = shop.pk
    rotate_token(request)
    if isinstance(request.user, Person):
        request.user.shop_in_use = request.user.shop_shown = shop.pk


def settle_shop(request: HttpRequest) -> bool:
    """After a page: remember the shop that it was shown of.

    True when that is not the one that the device worked in, since that one is gone: then the forms of
    either are refused, those of this very page too, so it has to be asked for again.
    """
    user = getattr(request, "_cached_user", None)
    if not isinstance(user, Person) or user.is_sending or user.shop_shown in (None, user.shop_in_use):
        return False
    request.session[KEY] = user.shop_shown
    if user.shop_in_use is None:
        return False
    rotate_token(request)
    return True


@dataclass(frozen=True)
class MyShops:
    """For the masthead: the shop in use, and all that one may switch to, by name."""

    memberships: tuple[Membership, ...]
    in_use: Membership | None

    @property
    def has_several(self) -> bool:
        return len(self.memberships) > 1


def find_shops(person: Person) -> MyShops:
    """One query."""
    mine = Membership.objects.select_related("shop").filter(person=person).order_by("pk")
    memberships = tuple(mine)
    first = memberships[0] if memberships else None
    in_use = next((one for one in memberships if one.shop_id == person.shop_in_use), first)
    return MyShops(tuple(sorted(memberships, key=lambda one: (one.shop.name.casefold(), one.pk))), in_use)


def my_shops(request: HttpRequest) -> dict[str, object]:
    """Context processor: `my_shops`, looked up only where a template asks for it."""

    def find() -> MyShops | None:
        user = getattr(request, "user", None)
        return find_shops(user) if isinstance(user, Person) else None

    return {"my_shops": SimpleLazyObject(find)}
