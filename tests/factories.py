"""The smallest valid things for tests; a test names only what it is about."""

from dataclasses import dataclass
from itertools import count
from typing import Any

from django.test import Client as Browser

from boardshop.crew.models import Client, Membership, Person, Shop

_numbers = count(1)
PASSWORD = "a-long-enough-secret"


def number() -> int:
    """A number no other thing of this run has."""
    return next(_numbers)


def make_shop(**values: Any) -> Shop:
    return Shop.objects.create(**({"name": f"Shop {number()}"} | values))


def make_person(shop: Shop | None = None, role: str = "editor", **values: Any) -> Person:
    """A person with the password PASSWORD, a member of `shop` if one is given."""
    person = Person.objects.create_user(**({"username": f"person{number()}", "password": PASSWORD} | values))
    if shop is not None:
        Membership.objects.create(shop=shop, person=person, role=role)
    return person


def make_client(shop: Shop, **values: Any) -> Client:
    return Client.objects.create(**({"shop": shop, "name": f"Artist {number()}"} | values))


@dataclass(frozen=True)
class Cast:
    """Who stands in every page's tests; the stranger owns a shop of their own."""

    shop: Shop
    owner: Person
    editor: Person
    viewer: Person
    stranger: Person

    def browser(self, role: str) -> Browser:
        """A signed-in browser of that member of the cast."""
        browser = Browser()
        browser.force_login(getattr(self, role))
        return browser


def make_cast() -> Cast:
    shop = make_shop()
    return Cast(
        shop=shop,
        owner=make_person(shop, "owner"),
        editor=make_person(shop, "editor"),
        viewer=make_person(shop, "viewer"),
        stranger=make_person(make_shop(), "owner"),
    )
