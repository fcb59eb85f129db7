"""Puts the demo into the database: one shop with its people, artists, gear, boards and revisions."""

import secrets
from dataclasses import dataclass

from django.db import transaction

from boardshop.boards.plan.frames import frame_columns
from boardshop.boards.plan.write import store_plan
from boardshop.core.defaults import fill_defaults
from boardshop.core.plan import BoardPlan
from boardshop.crew.models import Client, Membership, Shop
from boardshop.crew.setup import make_owner
from boardshop.gear.models import CableStock, FrameModel, Unit
from boardshop.gear.services import add_drawer_item, add_ready_made
from boardshop.ops.demo.boards import ARTISTS, CUSTOMER, demo_boards
from boardshop.ops.demo.build import big_frame, small_frame
from boardshop.ops.demo.cables import READY_MADE
from boardshop.ops.demo.drawer import DRAWER
from boardshop.ops.demo.made_cables import add_made_cables
from boardshop.ops.demo.pictures import add_pictures
from boardshop.ops.demo.releases import as_released, release

USERNAME = "demo"

FRAMES = (
    ("Hollow plank 52", small_frame(520)),
    ("Hollow plank 56", small_frame(560)),
    ("Four rail 64", big_frame(640)),
    ("Four rail 78", big_frame(780)),
    ("Four rail 110", big_frame(1100)),
)


@dataclass(frozen=True)
class DemoAccount:
    """How to sign in; the password is random and stored nowhere else."""

    shop: Shop
    username: str
    password: str


@transaction.atomic
def load_demo() -> DemoAccount:
    """The demo shop with an owner of its own; nothing that is there already is touched."""
    password = secrets.token_urlsafe(9)
    owner = make_owner(shop_name="Demo bench", username=USERNAME, password=password)
    shop = Membership.objects.get(person=owner).shop
    clients = {name: _add_client(shop, name) for name in (*ARTISTS, CUSTOMER)}
    for record in DRAWER:
        add_drawer_item(shop, record)
    for cable in READY_MADE:
        add_ready_made(shop, cable)
    for client, plan in demo_boards():
        before, stock = as_released(plan), bool(plan.stock)
        board = store_plan(shop, before, name=plan.name, client=clients[client], with_stock=stock)
        release(board, plan, owner)
    for name, frame in FRAMES:
        columns = frame_columns(fill_defaults(BoardPlan(frame=frame)).frame)
        FrameModel.objects.create(shop=shop, maker="Undershaw", name=name, **columns)
    Unit.objects.filter(shop=shop, serial="").update(condition="played in", location="on its board")
    Unit.objects.filter(shop=shop).exclude(serial="").update(condition="good", location="on its board")
    _tag_stock(shop)
    add_pictures(shop, owner)
    add_made_cables(shop, owner)
    return DemoAccount(shop, USERNAME, password)


def _tag_stock(shop: Shop) -> None:
    """What is written on the reels and off-cuts."""
    for number, row in enumerate(CableStock.objects.filter(shop=shop, kind="reel"), start=1):
        CableStock.objects.filter(pk=row.pk).update(tag=f"R{number}")
    for row in CableStock.objects.filter(shop=shop, kind="offcut"):
        CableStock.objects.filter(pk=row.pk).update(tag=f"R0/{row.length}")


def _add_client(shop: Shop, name: str) -> Client:
    kind = Client.Kind.ARTIST if name in ARTISTS else Client.Kind.CUSTOMER
    return Client.objects.create(shop=shop, kind=kind, name=name)
