"""What is stored reads back as the same plan, whatever the board, in a constant number of queries."""

from dataclasses import replace

import pytest
from django.db import IntegrityError

from boardshop.boards.errors import UnitInFileElsewhere
from boardshop.boards.models import Board
from boardshop.boards.plan.read import load_plan
from boardshop.boards.plan.write import store_plan
from boardshop.core import plan as core
from boardshop.core.defaults import fill_defaults
from boardshop.gear.models import CableType, PedalModel, Unit
from tests.core import builders as b
from tests.factories import make_shop

pytestmark = pytest.mark.django_db


def rich_plan(pedals: int = 3) -> core.BoardPlan:
    """A board that uses every part of the plan at least once."""
    refs = [f"P{n}" for n in range(1, pedals + 1)]
    standing = [
        b.pedal(ref, at=(20 + 40 * n, 0, 90), name=f"Low Ember {n}", maker="Kestrel")
        for n, ref in enumerate(refs)
    ]
    standing[0] = replace(
        b.draws(standing[0], measured=19, peak=30),
        unit="KE-0042",
        together=(refs[-1],),
        on=True,
        use=4,
        settings="gain 2 o'clock",
        turns=(0, 180),
        latency_ms=1.5,
    )
    supply = b.under_frame(
        b.supply("S1", *(b.outlet(str(n)) for n in range(1, pedals + 2)), model="Ridge 8"), 100, 120
    )
    leads = (core.SupplyLead(450, 22, 0.34, "barrel 5.5/2.1", 4), core.SupplyLead())
    supply = replace(supply, leads=leads, price=139.5)
    feeds = [b.feed(f"S1.{n}", f"{ref}.DC", 9000) for n, ref in enumerate(refs, start=1)]
    feeds[-1] = b.feed(
        "S1.1",
        [f"{refs[-1]}.DC"],
        9000,
        adapters=("reverser",),
        pinned=True,
        lead=core.DcLead(500, 0.5, None, "barrel 5.5/2.1", "J2", (core.Tail(120, None, 24),)),
    )
    return fill_defaults(
        b.board(
            *standing,
            name="Nightjar main",
            note="left of the drums",
            frame=b.frame(
                keepouts=(core.Keepout(0, 300, 80, 20, "handle"),),
                members=(core.Member(0, 150, 600, 20, "crossbar"), core.Member(0, 0, 30, 30)),
                under=core.Under(18, 62.5),
                rails=(core.Rail(0, 70),),
            ),
            plugs=(b.plug_type("J1", name="flat"), b.dc_plug_type("J2", name="thin")),
            cables=(b.cable_type("C1", name="slim"),),
            links=(
                *b.chain("G1", *refs, "A1"),
                b.link(
                    "W90", "M1.USB", f"{refs[0]}.USB", carries="usb", cable=None, plug_from=None, plug_to=None
                ),
            ),
            computers=(b.computer(),),
            supplies=(supply,),
            feeds=feeds,
            pieces=(core.Piece("X1", "C1", 250),),
            scenes=(core.Scene("verse", (refs[0],)), core.Scene("chorus", tuple(refs))),
            venue=core.Venue(230_000, 50, "F"),
            accepted=(core.Accepted("R17", ("P1", "P2"), "the player likes it", "IK", "2026-11-12"),),
            rules=core.Rules(school="dynamics-first", together_mm=(80, 120)),
            incomplete=(core.Incomplete("frame/keepouts", ("depth",), '{"x": 3}'),),
        )
    )


def with_usb_jack(plan: core.BoardPlan) -> core.BoardPlan:
    first = plan.pedals[0]
    return replace(
        plan, pedals=(replace(first, jacks=(*first.jacks, core.Jack("USB", "usb"))), *plan.pedals[1:])
    )


def store(plan: core.BoardPlan) -> Board:
    return store_plan(make_shop(), plan, name=plan.name or "a board")


def test_a_stored_plan_reads_back_equal() -> None:
    plan = with_usb_jack(rich_plan())
    # The plug of the feeds' leads is J9 in the builders' leads; this plan names its own.
    plan = replace(
        plan, feeds=tuple(replace(f, lead=replace(f.lead, plug="J2")) for f in plan.feeds if f.lead)
    )
    assert load_plan(store(plan)) == plan


DRAWER = (core.DrawerItem("reverser", count=2), core.DrawerItem("lead", 600, 20, 0.5, "snap", 3))


def test_the_drawer_is_the_shops_and_filled_only_where_that_is_asked_for() -> None:
    plan = fill_defaults(b.wired_board(b.pedal("P1", name="Low Ember"), drawer=DRAWER))
    shop = make_shop()
    board = store_plan(shop, plan, name="first", with_stock=True)
    assert load_plan(board).drawer == DRAWER
    assert load_plan(store_plan(shop, plan, name="second")).drawer == DRAWER
    assert load_plan(store(plan)).drawer == ()


def test_a_supply_that_brings_other_leads_is_another_sheet() -> None:
    shop, plan = make_shop(), b.wired_board(b.pedal("P1", name="Low Ember"), supplies=(b.supply("S1"),))
    store_plan(shop, plan, name="first")
    store_plan(shop, plan, name="second")
    assert shop.supply_models.count() == 1
    more = replace(plan.supplies[0], leads=(core.SupplyLead(450),))
    other = store_plan(shop, replace(plan, supplies=(more,)), name="third")
    assert load_plan(other).supplies[0].leads == (core.SupplyLead(450),)
    assert shop.supply_models.count() == 2


@pytest.mark.parametrize("pedals", [1, 3, 18])
def test_reading_costs_one_query(pedals: int, django_assert_num_queries) -> None:
    plan = b.wired_board(*(b.pedal(f"P{n}", name=f"Pedal {n}") for n in range(pedals)))
    board = store(plan)
    with django_assert_num_queries(1):
        load_plan(board)


def test_a_board_that_is_gone_is_not_read() -> None:
    board = store(b.wired_board(b.pedal("P1", name="Low Ember")))
    Board.objects.filter(pk=board.pk).delete()
    with pytest.raises(Board.DoesNotExist):
        load_plan(board)


def test_an_empty_board_reads_back() -> None:
    plan = fill_defaults(core.BoardPlan(frame=core.Frame(600, 320), name="empty"))
    assert load_plan(store(plan)) == plan


def test_storing_again_uses_the_same_gear() -> None:
    shop, plan = make_shop(), b.wired_board(b.pedal("P1", name="Low Ember"))
    for _ in range(2):
        store_plan(shop, plan, name="one")
    assert (PedalModel.objects.count(), CableType.objects.count()) == (1, 1)


def test_another_sheet_of_the_same_name_gets_a_number() -> None:
    shop = make_shop()
    for width in (70, 71, 72):
        store_plan(shop, b.wired_board(b.pedal("P1", name="Low Ember", width=width)), name="one")
    names = PedalModel.objects.order_by("pk").values_list("name", flat=True)
    assert list(names) == ["Low Ember", "Low Ember (2)", "Low Ember (3)"]


def test_a_serial_names_one_unit() -> None:
    shop = make_shop()
    for _ in range(2):
        store_plan(shop, b.board(b.pedal("P1", name="Low Ember", unit="KE-1")), name="one").delete()
    assert Unit.objects.get().serial == "KE-1"


def test_a_unit_that_stands_on_a_board_is_not_put_on_another() -> None:
    shop, plan = make_shop(), b.board(b.pedal("P1", name="Low Ember", unit="KE-1"))
    store_plan(shop, plan, name="one")
    with pytest.raises(UnitInFileElsewhere, match="Unit KE-1 of P1 is already P1 of board one"):
        store_plan(shop, plan, name="two")
    assert [board.name for board in Board.objects.all()] == ["one"]


def test_one_serial_twice_in_one_plan_is_refused() -> None:
    pedals = [b.pedal(ref, name="Low Ember", unit="KE-1") for ref in ("P1", "P2")]
    with pytest.raises(UnitInFileElsewhere, match="of P2 is already P1 of board"):
        store(b.board(*pedals))


def test_the_same_serial_of_another_model_is_another_unit() -> None:
    store(b.board(b.pedal("P1", name="Low Ember", unit="1"), b.pedal("P2", name="Far Shed", unit="1")))
    assert Unit.objects.count() == 2


def test_type_refs_step_around_refs_of_the_board() -> None:
    plan = replace(b.wired_board(b.pedal("C1", name="x")), links=b.chain("G1", "C1", "A1"))
    assert [cable.ref for cable in load_plan(store(plan)).cables] == ["C2"]


def test_a_plan_that_breaks_an_invariant_leaves_nothing() -> None:
    plan = b.board(
        b.pedal("P1"),
        b.pedal("P2"),
        feeds=(b.feed("S1.1", "P1.DC"), b.feed("S1.2", "P1.DC")),
        supplies=(b.supply(),),
    )
    with pytest.raises(IntegrityError, match="one_feed_per_power_jack"):
        store(plan)
