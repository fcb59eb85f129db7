from decimal import Decimal

import pytest
from django.urls import reverse

from boardshop.core import plan as core
from boardshop.crew.models import Shop
from boardshop.gear import services
from boardshop.gear.kinds import KINDS
from boardshop.gear.records import (
    CableRecord,
    Draw,
    DrawerRecord,
    FrameRecord,
    PedalRecord,
    PlugRecord,
    ReadyMadeRecord,
    StockRecord,
    SupplyRecord,
    UnitRecord,
)
from tests.factories import Cast, make_client, make_pedal_model
from tests.gear.forms import apply, dry_run, verdicts

pytestmark = pytest.mark.django_db
IN_ORDER = ("pedals", "supplies", "frames", "cables", "plugs", "stock", "ready-made", "drawer", "units")
"""Stock names cables, and units name models, so those come first."""

FULL_PEDAL = PedalRecord(
    maker="=Kestrel", name="Ember, “the” \"hot\"", kind="boost", role="level", width=73, depth=129, height=55,
    weight=310, treadle=False, toe_height=91, screw_length=8, bypass="always-on", input_ohm=1_000_000,
    input_pf=12, output_ohm=1000, circuit="clocked", level="line", tracker="none", inverts=True,
    kills_dry=False, latency_ms=Decimal("1.5"), tails=True, battery=False, turns=(0, 180),
    note="-9 is no sum\n@ the end; 'quoted'",
    jacks=(core.Jack("IN", "in", "right", 60, 25, "6.35 TS", "mono"), core.Jack("A;B", "out")),
    switches=(core.Point(36, 20), core.Point(0, 0)),
    power=(core.PowerJack("DC", "dc", 9000, 8500, 9600, "centre-negative", "positive", "barrel 5.5/2.1", 12,
                          None, 15, True, "poor"),),
)  # fmt: skip
FULL_SUPPLY = SupplyRecord(
    maker="Norr", name="Eight", width=160, limit_mw=36_500, protection_class="II", earthed=False,
    mains_min_mv=100_000, mains_max_mv=240_000, mains_hz=(50, 60), inlet="C8",
    outlet_side="front", inlet_side="rear", conversion="switch-mode",
    outlets=(
        core.Outlet("1", "dc", (core.OutletSetting(9000, 9000, 500), core.OutletSetting(9600, 18_000, None)),
                    "centre-negative", "barrel 5.5/2.1", True, False, "A B", 1000, True, False),
        core.Outlet("2"),
    ),
    price=Decimal("139.5"),
    leads=(core.SupplyLead(450, 22, 0.34, "barrel 5.5/2.1", 4), core.SupplyLead(mm2=0.5),
           core.SupplyLead(20)),
)  # fmt: skip


def fill(shop: Shop) -> None:
    """Everything there is to record, once full, once bare."""
    services.add_pedal_model(shop, FULL_PEDAL)
    make_pedal_model(shop, name="Bare")
    two = (core.PowerJack("DC1", nominal=9000), core.PowerJack("DC2", min=9000))
    services.add_pedal_model(shop, PedalRecord(name="Two", kind="preamp", width=1, depth=1, power=two))
    services.add_supply_model(shop, FULL_SUPPLY)
    services.add_supply_model(shop, SupplyRecord(name="Bare"))
    boxes = (core.Keepout(1, 2, 3, 4, "handle; left"), core.Keepout(0, 0, 1, 1))
    frame = FrameRecord(
        name="600",
        width=600,
        depth=320,
        surface="flat",
        rails=(core.Rail(20, 90),),
        tiers=(core.Tier(0, 150, 0), core.Tier(150, 320, 40)),
        keepouts=boxes,
        members=(core.Member(0, 150, 600, 20, "crossbar; thin"), core.Member(0, 0, 1, 1)),
        under_front=Decimal("18.25"),
        under_rear=Decimal(60),
        exit_x=0,
        exit_y=320,
        plate_thickness=2,
    )
    services.add_frame_model(shop, frame)
    services.add_cable_type(
        shop, CableRecord(name="Low", pf_per_m=60, diameter=Decimal("6.2"), price=Decimal("2.4"))
    )
    price = Decimal("0.0001")
    services.add_plug_type(
        shop, PlugRecord(name="Pancake", connector="6.35 TS", inside=0, price=price, fixing="screw")
    )
    full = ReadyMadeRecord(
        name="Patch 15", length=150, connector="6.35 TS", far_connector="6.35 TRS", pf_per_m=98,
        price=Decimal("9.8"), count=3,
    )  # fmt: skip
    services.add_ready_made(shop, full)
    services.add_ready_made(shop, ReadyMadeRecord(name="Bare", length=1))
    for tag in ("R1", "", ""):
        services.add_stock(shop, StockRecord(cable="Low", length=1200, kind="offcut", count=3, tag=tag))
    lead = DrawerRecord(kind="lead", length=600, awg=20, mm2=Decimal("0.5"), connector="snap", count=3)
    for record in (lead, DrawerRecord(kind="reverser"), DrawerRecord(kind="reverser", note="-1 = odd")):
        services.add_drawer_item(shop, record)
    make_client(shop, name="Zora")
    draws = (Draw(measured=11, by="Jo; B"),)
    unit = UnitRecord(
        maker=FULL_PEDAL.maker, model=FULL_PEDAL.name, serial="+1", owner="Zora", draws=draws, settings="a\nb"
    )
    services.add_unit(shop, unit)
    for _ in range(2):
        services.add_unit(shop, UnitRecord(what="supply", model="Bare"))


def export(cast: Cast, kind: str, role: str = "editor") -> bytes:
    return bytes(cast.browser(role).get(reverse("export-gear", args=[kind])).content)


@pytest.mark.parametrize("kind", [kind.slug for kind in KINDS])
@pytest.mark.parametrize("unit", ["mm", "in"])
def test_an_export_imports_back_identical(cast: Cast, kind: str, unit: str) -> None:
    cast.shop.length_unit = unit
    cast.shop.save()
    fill(cast.shop)
    found = verdicts(dry_run(cast.browser("editor"), kind, export(cast, kind)))
    assert found
    assert set(found) == {"unchanged"}


def test_a_fresh_shop_filled_from_exports_exports_the_same_bytes(cast: Cast) -> None:
    fill(cast.shop)
    stranger = cast.browser("stranger")
    Shop.objects.exclude(pk=cast.shop.pk).update(length_unit="in")
    for kind in IN_ORDER:
        exported = export(cast, kind)
        answer = dry_run(stranger, kind, exported)
        assert set(verdicts(answer)) == {"new"}
        apply(stranger, kind, answer)
        assert export(cast, kind, "stranger") == exported


def test_no_cell_of_an_export_is_a_formula(cast: Cast) -> None:
    fill(cast.shop)
    assert b"\r\n'=Kestrel," in export(cast, "pedals")


def test_an_export_is_a_file_for_a_spreadsheet(cast: Cast) -> None:
    answer = cast.browser("viewer").get(reverse("export-gear", args=["pedals"]))
    assert answer["Content-Type"] == "text/csv; charset=utf-8"
    assert "boardshop-pedals.csv" in answer["Content-Disposition"]
    assert answer.content.startswith(b"\xef\xbb\xbfmaker,name,kind,")


def test_a_stranger_gets_only_their_own(cast: Cast) -> None:
    make_pedal_model(cast.shop, name="Secret")
    assert b"Secret" not in export(cast, "pedals", "stranger")


def test_a_kind_that_is_none_is_not_found(cast: Cast) -> None:
    assert cast.browser("viewer").get(reverse("export-gear", args=["toasters"])).status_code == 404


def test_export_gear_refuses_post(cast: Cast) -> None:
    assert cast.browser("owner").post(reverse("export-gear", args=["pedals"])).status_code == 405
