"""Every address, walked by all: the signed out, a stranger, a viewer, and an owner with nothing to say.

The demo supplies one of each thing that an address can name; a new kind of address needs a line in `Walk`.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import pytest
from django.db.models import Model
from django.http import HttpResponse
from django.test import Client as Browser
from django.urls import get_resolver

from boardshop.bench.cut_work import Asked as AskedCuts
from boardshop.bench.cut_work import gather_cuts
from boardshop.bench.models import CutJob
from boardshop.bench.services.cut_jobs import book_cuts
from boardshop.boards.models import Board, FeedJack, Link, Placement, Source, SupplyPlacement
from boardshop.boards.plan.read import load_plan
from boardshop.boards.services.readings import record_plug
from boardshop.boards.services.searches import Asked, start_search
from boardshop.boards.services.variants import add_variant
from boardshop.crew.invitations import make_invitation
from boardshop.crew.models import Client, Invitation, Membership, Person, Shop
from boardshop.files.models import Attachment
from boardshop.gear.kinds import KINDS
from boardshop.gear.models import (
    CableStock,
    CableType,
    DrawerItem,
    FrameModel,
    MadeCable,
    PedalModel,
    PlugType,
    ReadyMade,
    SupplyModel,
    Unit,
)
from boardshop.ops.demo.load import load_demo
from tests.factories import make_person, make_shop
from tests.house.test_urls_are_tested import patterns

pytestmark = pytest.mark.django_db

PUBLIC = {
    *{"healthz", "sign-in", "set-up", "set-theme", "join", "let-in"},
    *{"account_login", "type-code", "mfa_authenticate", "sign-in-by-passkey", "forgot-password"},
}
"""Open to somebody who is signed out."""
ACCOUNT = {
    *{"account", "confirm-password", "confirm-code", "confirm-passkey", "add-authenticator"},
    *{"remove-authenticator", "recovery-codes", "renew-recovery-codes", "add-passkey", "rename-passkey"},
    *{"remove-passkey", "end-device", "end-other-devices", "change-mail", "confirm-mail"},
    *{"account_reauthenticate", "mfa_reauthenticate", "mfa_reauthenticate_webauthn"},
    *{"mfa_activate_totp", "mfa_deactivate_totp"},
}
"""How one signs in; those with underscores are the library's names of the same pages."""
OWN = {
    *{"sign-out", "set-theme", "sign-in", "set-up", "change-password", "healthz"},
    *{"join", "let-in", "leave-shop", "add-shop", "use-shop"},
    *ACCOUNT,
    *PUBLIC,
}
"""Changes nothing but the visitor's own session, password or memberships, so a viewer may."""

GEAR: dict[str, type[Model]] = {
    "clients": Client,
    "people/invitations": Invitation,
    "people": Membership,
    "gear/pedals": PedalModel,
    "gear/supplies": SupplyModel,
    "gear/frames": FrameModel,
    "gear/cables": CableType,
    "gear/plugs": PlugType,
    "gear/stock": CableStock,
    "gear/ready-made": ReadyMade,
    "gear/drawer": DrawerItem,
    "gear/units": Unit,
}
REFS: dict[str, type[Model]] = {
    "pedals": Placement,
    "links": Link,
    "supplies": SupplyPlacement,
    "ends": Source,
}
ADDRESSES = [(name or "", "/" + route) for route, name in patterns(get_resolver().url_patterns)]


@dataclass(frozen=True)
class Walk:
    """The demo shop's addresses with real things in the places of their arguments."""

    shop: Shop

    def fill(self, route: str) -> str:
        for argument, value in self.values(route).items():
            if argument in route:
                route = route.replace(argument, str(value()))
        assert "<" not in route, f"{route}: an argument that this test cannot fill yet"
        return route

    def values(self, route: str) -> dict[str, Callable[[], object]]:
        return {
            "<str:token>": lambda: "no-such-token",
            "<slug:kind>": lambda: KINDS[0].slug,
            "<str:kind>": lambda: "fuzz",
            "<int:pk>": lambda: self.key_of(route),
            "<str:code>": lambda: self.code_of(route),
            "<str:key>": lambda: Attachment.with_trash.filter(shop=self.shop).order_by("pk")[0].key,
            "<int:number>": lambda: self.board.revisions.earliest("pk").number,
            "<str:ref>": lambda: self.ref_of(route),
            "<str:end>": lambda: self.fed_end,
        }

    @property
    def board(self) -> Board:
        return Board.objects.filter(shop=self.shop).order_by("pk")[0]

    @property
    def fed_end(self) -> str:
        jack = FeedJack.objects.filter(pedal__board=self.board).order_by("pk")[0]
        return f"{jack.pedal.ref}.{jack.jack.name}"

    def code_of(self, route: str) -> str:
        """A board's code, or the id of a made cable."""
        if route.startswith("/bench/cables/"):
            return MadeCable.objects.filter(shop=self.shop).order_by("pk")[0].code
        return self.board.code

    def key_of(self, route: str) -> int:
        if "/variants/" in route:
            return self.board.variants.latest("pk").pk
        if "/power/readings/" in route:
            return self.board.readings.latest("pk").pk
        if "/layout/searches/" in route:
            return self.board.searches.latest("pk").pk
        if route.startswith("/bench/cut-jobs/"):
            return CutJob.objects.filter(shop=self.shop).latest("pk").pk
        if "/scenes/" in route:
            return self.board.scenes.earliest("pk").pk
        model = next((model for start, model in GEAR.items() if route.startswith(f"/{start}/")), PedalModel)
        return model._default_manager.filter(shop=self.shop).order_by("pk")[0].pk

    def ref_of(self, route: str) -> str:
        model = next(model for word, model in REFS.items() if f"/{word}/<str:ref>" in route)
        return model._default_manager.filter(board=self.board).order_by("pk")[0].ref


@pytest.fixture
def walk(db: None) -> Walk:
    shop = load_demo().shop
    owner = Person.objects.get(memberships__shop=shop)
    make_invitation(shop, owner, role="viewer")
    walk = Walk(shop)
    add_variant(walk.board, walk.board.edit_number, "Second")
    record_plug(walk.board, walk.board.edit_number, walk.fed_end, 9000)
    start_search(walk.board, load_plan(walk.board), Asked("all", anyway=True))
    work = gather_cuts(shop, AskedCuts([walk.board]))
    book_cuts(work, work.seen, owner)
    return walk


def browser_of(person: Any = None) -> Browser:
    browser = Browser(raise_request_exception=False)
    if person:
        browser.force_login(person)
    return browser


def both(browser: Browser, address: str, **headers: str) -> tuple[HttpResponse, HttpResponse]:
    return browser.get(address, headers=headers), browser.post(address, headers=headers)


def test_who_is_signed_out_is_sent_to_the_sign_in_page(walk: Walk) -> None:
    browser = browser_of()
    for name, route in ADDRESSES:
        for answer in both(browser, walk.fill(route)):
            is_sent = answer.status_code == 302 and answer["Location"].startswith("/sign-in")
            assert (name in PUBLIC) or is_sent, f"{name}: {answer.status_code}"


def test_a_stranger_finds_nothing(walk: Walk) -> None:
    browser = browser_of(make_person(make_shop(), "owner"))
    arguments = ("<str:code>", "<str:key>", "<int:pk>")
    owned = [(name, route) for name, route in ADDRESSES if any(word in route for word in arguments)]
    assert len(owned) > 20
    for name, route in owned:
        codes = {answer.status_code for answer in both(browser, walk.fill(route))}
        assert 404 in codes, f"{name}: {codes}"
        assert codes <= {404, 405}, f"{name}: {codes}"


def test_a_viewer_changes_nothing(walk: Walk) -> None:
    browser = browser_of(make_person(walk.shop, "viewer"))
    for name, route in ADDRESSES:
        if name not in OWN:
            code = browser.post(walk.fill(route)).status_code
            assert code in (403, 405), f"{name}: {code}"


@pytest.mark.parametrize("headers", [{}, {"HX-Request": "true"}], ids=["page", "fragment"])
def test_an_owner_with_nothing_to_say_breaks_nothing(walk: Walk, headers: dict[str, str]) -> None:
    owner = make_person(walk.shop, "owner")
    for name, route in ADDRESSES:
        # What an earlier address removed is not there for a later one.
        for answer in both(browser_of(owner), walk.fill(route), **headers):
            # 503 is a paper's word that this machine has no Pango.
            assert answer.status_code < 500 or answer.status_code == 503, f"{name}: {answer.status_code}"


def test_names_of_nothing_are_not_found(walk: Walk) -> None:
    browser = browser_of(make_person(walk.shop, "owner"))
    for name, route in ADDRESSES:
        for argument in ("<str:code>", "<str:key>", "<str:ref>", "<str:end>"):
            if argument not in route:
                continue
            for word in ("ZZZZZ", "%00", "\u00d8", "a" * 300, "P1.DC.DC", "-1"):
                address = walk.fill(route.replace(argument, word))
                codes = {answer.status_code for answer in both(browser, address)}
                assert codes <= {400, 404, 405, 422}, f"{name}, {argument} as {word}: {codes}"


def test_a_key_beyond_the_database_is_not_found(walk: Walk) -> None:
    browser = browser_of(make_person(walk.shop, "owner"))
    for name, route in ADDRESSES:
        if "<int:pk>" in route:
            address = walk.fill(route.replace("<int:pk>", str(2**63)))
            codes = {answer.status_code for answer in both(browser, address)}
            assert codes <= {404, 405}, f"{name}: {codes}"
