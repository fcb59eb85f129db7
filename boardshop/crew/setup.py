"""The first start: one token, printed in the log, opens one page that makes the first owner."""

from django.db import transaction
from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _

from boardshop.crew.models import Membership, Person, SetupToken, Shop
from boardshop.crew.newcomers import make_person
from boardshop.crew.tokens import digest_of, new_token


class SetupClosed(Exception):
    """This set-up link is used up or was never valid; the log shows a new one."""


def needs_setup() -> bool:
    """Whether nobody has an account yet."""
    return not Person.objects.exists()


def issue_setup_token() -> str | None:
    """A new one-time token, replacing earlier ones; None when somebody already has an account."""
    if not needs_setup():
        return None
    token = new_token()
    with transaction.atomic():
        SetupToken.objects.all().delete()
        SetupToken.objects.create(digest=digest_of(token))
    return token


def token_is_valid(token: str) -> bool:
    return needs_setup() and _rows_for(token).exists()


@transaction.atomic
def set_up_shop(token: str, *, shop_name: str, username: str, password: str) -> Person:
    """Make the first person, the owner of a new shop.

    Raises SetupClosed when the token was used, replaced or never issued, UsernameTaken.
    """
    row = _rows_for(token).select_for_update().first()
    if row is None or not needs_setup():
        raise SetupClosed(_("This set-up link is used up or was never valid."))
    SetupToken.objects.all().delete()
    return make_owner(shop_name=shop_name, username=username, password=password)


def make_owner(*, shop_name: str, username: str, password: str) -> Person:
    """A person with a shop of their own; raises UsernameTaken."""
    person = make_person(username, password=password)
    start_shop(person, shop_name)
    return person


@transaction.atomic
def start_shop(person: Person, name: str) -> Shop:
    """A new shop, owned by that person."""
    shop = Shop.objects.create(name=name)
    Membership.objects.create(shop=shop, person=person, role=Membership.Role.OWNER)
    return shop


def _rows_for(token: str) -> QuerySet[SetupToken]:
    return SetupToken.objects.filter(digest=digest_of(token))
