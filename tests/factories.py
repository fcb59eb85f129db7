"""The smallest valid things for tests; a test names only what it is about.

`make_...` are the ways in: they take the shop first, since every row belongs to one.
"""

from dataclasses import dataclass
from typing import Any

import factory
from django.test import Client as Browser
from factory.django import DjangoModelFactory

from boardshop.crew.models import Client, Membership, Person, Shop
from boardshop.crew.shop_in_use import KEY as SHOP_IN_USE
from boardshop.gear.models import (
    CableStock,
    CableType,
    DrawerItem,
    FrameModel,
    Outlet,
    PedalJack,
    PedalModel,
    PlugType,
    PowerJack,
    ReadyMade,
    SupplyModel,
    Unit,
)

PASSWORD = "a-long-enough-secret"


class ShopFactory(DjangoModelFactory[Shop]):
    class Meta:
        model = Shop

    name = factory.Sequence("Shop {}".format)


class PersonFactory(DjangoModelFactory[Person]):
    class Meta:
        model = Person
        skip_postgeneration_save = True

    username = factory.Sequence("person{}".format)
    password = factory.django.Password(PASSWORD)


class MembershipFactory(DjangoModelFactory[Membership]):
    class Meta:
        model = Membership

    role = "editor"


class ClientFactory(DjangoModelFactory[Client]):
    class Meta:
        model = Client

    name = factory.Sequence("Artist {}".format)


class PedalModelFactory(DjangoModelFactory[PedalModel]):
    class Meta:
        model = PedalModel

    name = factory.Sequence("Pedal type {}".format)
    kind = "overdrive"
    width = 73
    depth = 129


class SupplyModelFactory(DjangoModelFactory[SupplyModel]):
    class Meta:
        model = SupplyModel

    name = factory.Sequence("Supply type {}".format)


class CableTypeFactory(DjangoModelFactory[CableType]):
    class Meta:
        model = CableType

    name = factory.Sequence("Cable type {}".format)


class PlugTypeFactory(DjangoModelFactory[PlugType]):
    class Meta:
        model = PlugType

    name = factory.Sequence("Plug type {}".format)


class FrameModelFactory(DjangoModelFactory[FrameModel]):
    class Meta:
        model = FrameModel

    name = factory.Sequence("Frame type {}".format)
    width = 600
    depth = 320


class CableStockFactory(DjangoModelFactory[CableStock]):
    class Meta:
        model = CableStock

    cable = factory.SubFactory(CableTypeFactory, shop=factory.SelfAttribute("..shop"))
    length = 10_000


class ReadyMadeFactory(DjangoModelFactory[ReadyMade]):
    class Meta:
        model = ReadyMade

    name = factory.Sequence("Ready-made {}".format)
    length = 150


class DrawerItemFactory(DjangoModelFactory[DrawerItem]):
    class Meta:
        model = DrawerItem

    kind = "reverser"


class UnitFactory(DjangoModelFactory[Unit]):
    """One pedal, unless a supply is given."""

    class Meta:
        model = Unit

    supply = None
    pedal = factory.Maybe(
        "supply",
        yes_declaration=None,
        no_declaration=factory.SubFactory(PedalModelFactory, shop=factory.SelfAttribute("..shop")),
    )


def make_shop(**values: Any) -> Shop:
    return ShopFactory.create(**values)


def make_person(shop: Shop | None = None, role: str = "editor", **values: Any) -> Person:
    """A person with the password PASSWORD, a member of `shop` if one is given."""
    person = PersonFactory.create(**values)
    if shop is not None:
        MembershipFactory.create(shop=shop, person=person, role=role)
    return person


def make_client(shop: Shop, **values: Any) -> Client:
    return ClientFactory.create(shop=shop, **values)


def make_pedal_model(shop: Shop, *, jacks: str = "", power: str = "", **values: Any) -> PedalModel:
    """A pedal's data sheet; `jacks="IN:in OUT:out"` and `power="DC"` add jacks that know no more."""
    model = PedalModelFactory.create(shop=shop, **values)
    for position, jack in enumerate(jacks.split()):
        name, role = jack.split(":")
        PedalJack.objects.create(model=model, position=position, name=name, role=role)
    for position, name in enumerate(power.split()):
        PowerJack.objects.create(model=model, position=position, name=name)
    return model


def make_supply_model(shop: Shop, *, outlets: str = "", **values: Any) -> SupplyModel:
    """A supply's data sheet; `outlets="1 2"` adds outlets that know no more."""
    model = SupplyModelFactory.create(shop=shop, **values)
    for position, name in enumerate(outlets.split()):
        Outlet.objects.create(supply=model, position=position, name=name)
    return model


def make_cable_type(shop: Shop, **values: Any) -> CableType:
    return CableTypeFactory.create(shop=shop, **values)


def make_plug_type(shop: Shop, **values: Any) -> PlugType:
    return PlugTypeFactory.create(shop=shop, **values)


def make_frame_model(shop: Shop, **values: Any) -> FrameModel:
    return FrameModelFactory.create(shop=shop, **values)


def make_stock(shop: Shop, **values: Any) -> CableStock:
    return CableStockFactory.create(shop=shop, **values)


def make_ready_made(shop: Shop, **values: Any) -> ReadyMade:
    return ReadyMadeFactory.create(shop=shop, **values)


def make_drawer_item(shop: Shop, **values: Any) -> DrawerItem:
    return DrawerItemFactory.create(shop=shop, **values)


def make_unit(shop: Shop, **values: Any) -> Unit:
    return UnitFactory.create(shop=shop, **values)


@dataclass(frozen=True)
class Cast:
    """Who stands in every page's tests; the stranger owns a shop of their own."""

    shop: Shop
    owner: Person
    editor: Person
    viewer: Person
    stranger: Person

    def browser(self, role: str) -> Browser:
        """A signed-in browser of that member of the cast, which has shown a page of their shop before."""
        browser = Browser()
        person = getattr(self, role)
        browser.force_login(person)
        session = browser.session
        session[SHOP_IN_USE] = person.memberships.earliest("pk").shop_id
        session.save()
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
