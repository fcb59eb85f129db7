"""The smallest valid things for tests; a test names only what it is about."""

from dataclasses import dataclass
from itertools import count
from typing import Any

from django.test import Client as Browser

from boardshop.crew.models import Client, Membership, Person, Shop
from boardshop.gear.models import (
    CableStock,
    CableType,
    FrameModel,
    PedalJack,
    PedalModel,
    PlugType,
    PowerJack,
    SupplyModel,
    Unit,
)

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


def make_pedal_model(shop: Shop, *, jacks: str = "", power: str = "", **values: Any) -> PedalModel:
    """A pedal's data sheet; `jacks="IN:in OUT:out"` and `power="DC"` add jacks that know no more."""
    values = {
        "shop": shop,
        "name": f"Pedal {number()}",
        "kind": "overdrive",
        "width": 73,
        "depth": 129,
    } | values
    model = PedalModel.objects.create(**values)
    for position, jack in enumerate(jacks.split()):
        name, role = jack.split(":")
        PedalJack.objects.create(model=model, position=position, name=name, role=role)
    for position, name in enumerate(power.split()):
        PowerJack.objects.create(model=model, position=position, name=name)
    return model


def make_supply_model(shop: Shop, *, outlets: str = "", **values: Any) -> SupplyModel:
    """A supply's data sheet; `outlets="1 2"` adds outlets that know no more."""
    model = SupplyModel.objects.create(**({"shop": shop, "name": f"Supply {number()}"} | values))
    for position, name in enumerate(outlets.split()):
        model.outlets.create(position=position, name=name)
    return model


def make_cable_type(shop: Shop, **values: Any) -> CableType:
    return CableType.objects.create(**({"shop": shop, "name": f"Cable {number()}"} | values))


def make_plug_type(shop: Shop, **values: Any) -> PlugType:
    return PlugType.objects.create(**({"shop": shop, "name": f"Plug {number()}"} | values))


def make_frame_model(shop: Shop, **values: Any) -> FrameModel:
    values = {"shop": shop, "name": f"Frame {number()}", "width": 600, "depth": 320} | values
    return FrameModel.objects.create(**values)


def make_stock(shop: Shop, **values: Any) -> CableStock:
    cable = values.pop("cable", None) or make_cable_type(shop)
    return CableStock.objects.create(**({"shop": shop, "cable": cable, "length": 10_000} | values))


def make_unit(shop: Shop, **values: Any) -> Unit:
    if not values.get("supply") and "pedal" not in values:
        values["pedal"] = make_pedal_model(shop)
    return Unit.objects.create(**({"shop": shop} | values))


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
