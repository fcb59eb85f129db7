"""Which lead serves which feed, and what is to get; drops by hand from IEC 60028 and ASTM B258.

A row of pedals, each on an outlet of its own, on a supply that lies behind them: P1 is nearest.
"""

from dataclasses import replace
from itertools import product
from typing import Any

import numpy as np
import pytest
from scipy.optimize import linear_sum_assignment

from boardshop.core.plan import BoardPlan, DcLead, DrawerItem, Feed, SupplyLead, SupplyPlace, Tail
from boardshop.core.power.lead_list import AdapterLine, SpareLine, list_leads_to_take
from boardshop.core.power.leads import DRAWER, FeedLead, assign_leads
from tests.core import builders as b

BARREL = "barrel 5.5/2.1"


def lead(length: int | None, count: int = 1, awg: int | None = 22, **facts: Any) -> SupplyLead:
    return SupplyLead(**({"length": length, "awg": awg, "connector": BARREL, "count": count} | facts))


def row(pedals: int = 3, *leads: SupplyLead, drawer: tuple[DrawerItem, ...] = (), **needs: Any) -> BoardPlan:
    """P1, P2, ... 200 mm apart, fed from S1.1, S1.2, ...; no lead is recorded on any feed.

    The supply's front middle is (100, 200), the jacks' faces lie at y 150: P1's at x 36, P2's at x 236.
    """
    stand = tuple(b.pedal(f"P{n}", at=(200 * n - 200, 20)) for n in range(1, pedals + 1))
    outlets = tuple(b.outlet(str(n), max_ma=500) for n in range(1, pedals + 1))
    supply = b.supply("S1", *outlets, width=200, leads=leads, place=SupplyPlace(0, 200))
    feeds = tuple(Feed((f"S1.{n}",), (f"P{n}.DC",), (None,)) for n in range(1, pedals + 1))
    plan = b.board(*stand, supplies=(supply,), feeds=feeds, frame=b.frame(2000, 400), drawer=drawer)
    return with_jacks(plan, **needs) if needs else plan


def with_jacks(plan: BoardPlan, **needs: Any) -> BoardPlan:
    return replace(plan, pedals=tuple(b.draws(pedal, **needs) for pedal in plan.pedals))


def with_lead(plan: BoardPlan, number: int, recorded: DcLead) -> BoardPlan:
    feeds = list(plan.feeds)
    feeds[number] = replace(feeds[number], lead=recorded)
    return replace(plan, feeds=tuple(feeds))


def served(plan: BoardPlan) -> list[tuple[str, int | None] | None]:
    return [
        None if one.chosen is None else (one.chosen.origin, one.chosen.lead.length)
        for one in assign_leads(plan).feeds
    ]


def first(plan: BoardPlan) -> FeedLead:
    return assign_leads(plan).feeds[0]


def test_what_each_needs() -> None:
    # To P1: 64 + 50 = 114 + 10; to P2 from the right side's middle (200, 245): 36 + 95; to P3: 236 + 95.
    assert [one.need.mm for one in assign_leads(row()).feeds] == [125, 145, 345]


def test_short_leads_go_to_near_pedals() -> None:
    assert served(row(3, lead(600), lead(150), lead(130))) == [("S1", 130), ("S1", 150), ("S1", 600)]


def test_more_served_counts_before_short_to_near() -> None:
    """P1 could take the 350 mm one, but then P3 has none."""
    assert served(row(3, lead(350), lead(150))) == [None, ("S1", 150), ("S1", 350)]
    assert first(row(3, lead(350), lead(150))).why_not == ("the others serve other feeds",)


def test_a_supplys_leads_are_for_its_own_feeds_and_the_drawers_for_all() -> None:
    plan = row(2, lead(400, 2))
    other = b.supply("S2", b.outlet("1"), width=200, place=SupplyPlace(0, 200))
    moved = replace(
        plan,
        supplies=(*plan.supplies, other),
        feeds=(plan.feeds[0], replace(plan.feeds[1], outlets=("S2.1",))),
    )
    assert served(moved) == [("S1", 400), None]
    drawer = (DrawerItem("reverser"), DrawerItem("lead", 500, 22, connector=BARREL))
    assert served(replace(moved, drawer=drawer)) == [("S1", 400), (DRAWER, 500)]


def test_a_lead_on_a_feed_is_not_at_hand_any_more() -> None:
    plan = with_lead(row(2, lead(400)), 0, DcLead(400, awg=22, connector=BARREL))
    assert [(heap.count, heap.left) for heap in assign_leads(plan).heaps] == [(1, 0)]
    assert served(plan) == [None, None]
    assert assign_leads(plan).feeds[1].why_not == ("all of them are taken",)
    other = with_lead(row(2, lead(400)), 0, DcLead(400, awg=24, connector=BARREL))
    assert served(other) == [None, ("S1", 400)]


def test_a_recorded_lead_stays_and_is_measured() -> None:
    for length, short, spare in ((124, True, -1), (125, False, 0), (126, False, 1)):
        one = first(with_lead(row(1), 0, DcLead(length, awg=22)))
        assert (one.is_too_short, one.spare_mm, one.to_get) == (short, spare, None)


@pytest.mark.parametrize("length", [124, 125])
def test_a_lead_must_be_as_long_as_needed(length: int) -> None:
    assert (first(row(1, lead(length))).chosen is not None) == (length >= 125)


def test_the_plug_must_mate_with_the_jack() -> None:
    wide = row(1, lead(400, connector="barrel 5.5/2.5"))
    assert served(wide) == [None]
    assert first(wide).why_not == ("the plug of some does not mate with P1.DC",)
    assert served(with_jacks(wide, connector="barrel 5.5/2.5")) == [("S1", 400)]
    through = replace(wide, feeds=(replace(wide.feeds[0], adapters=("converter",)),))
    assert served(through) == [("S1", 400)]
    assert served(row(1, lead(400, connector=None))) == [("S1", 400)]  # as the outlet's


def drop_mv(length_mm: int, awg: int, load_ma: int) -> float:
    """Copper of 1/58 ohm mm2/m there and back (IEC 60028), d = 0.127 mm x 92^((36-n)/39) (ASTM B258)."""
    area = np.pi / 4 * (0.127 * 92 ** ((36 - awg) / 39)) ** 2
    return load_ma * (2 * length_mm / 1000 / 58 / area + 0.04)


@pytest.mark.parametrize("load_ma", [100, 400, 500, 600, 800])
@pytest.mark.parametrize("awg", [20, 24, 28])
def test_what_it_loses_must_stay_within_the_rules(load_ma: int, awg: int) -> None:
    """3 % of 9 V are 270 mV; the pedal's own least of 8.5 V allows 500 mV."""
    plan = row(1, lead(1000, awg=awg), rated=load_ma)
    lost = drop_mv(1000, awg, load_ma)
    one = first(plan)
    assert (one.chosen is not None) == (lost * 100 <= 3 * 9000)
    if one.chosen is not None:
        assert one.drops[0].drop_mv == pytest.approx(lost)
        assert one.drops[0].at_pedal_mv == pytest.approx(9000 - lost)
    else:
        assert one.why_not == ("it loses more than 3 % to P1.DC",)


def test_what_arrives_must_not_be_below_the_jacks_least() -> None:
    plan = row(1, lead(1000, awg=24), rated=800, min=8900)
    lost = drop_mv(1000, 24, 800)
    assert 100 < lost < 270
    assert first(plan).why_not == ("less than its least voltage arrives at P1.DC",)
    starved = replace(plan.supplies[0], outlets=(replace(plan.supplies[0].outlets[0], sag=True),))
    meant = with_jacks(replace(plan, supplies=(starved,)), sag=True)
    assert served(meant) == [("S1", 1000)]


@pytest.mark.parametrize(
    ("plan", "what"),
    [
        (row(1, lead(400), rated=None), "the draw of P1.DC"),
        (row(1, lead(400), connector=None), "the connector of P1.DC"),
        (
            replace(row(1, lead(400)), supplies=(b.supply("S1", b.outlet("1"), leads=(lead(400),)),)),
            "the place of S1 on the frame",
        ),
    ],
)
def test_unknown_is_never_taken_to_fit(plan: BoardPlan, what: str) -> None:
    one = first(plan)
    assert one.chosen is None
    assert one.to_get is not None
    assert [lack.what for lack in one.to_get.lacks] == [what]
    assert all(lack.way_out for lack in one.to_get.lacks)


@pytest.mark.parametrize(
    ("unknown", "says"),
    [
        (lead(None), "the length of some is not recorded"),
        (lead(400, awg=None), "the gauge of the 400 mm ones is not recorded"),
    ],
)
def test_of_a_lead_that_nobody_measured_it_is_said(unknown: SupplyLead, says: str) -> None:
    assert first(row(1, unknown)).why_not == (says,)


def test_all_that_are_too_short_are_said_together() -> None:
    plan = row(1, lead(100), lead(90), lead(100, awg=24), lead(400, connector="snap"))
    assert first(plan).why_not == ("too short: 90 mm and 100 mm", "the plug of some does not mate with P1.DC")


def test_a_captive_outlet_needs_no_lead() -> None:
    plan = row(1, lead(400))
    fixed = replace(plan.supplies[0], outlets=(replace(plan.supplies[0].outlets[0], connector="captive"),))
    one = first(replace(plan, supplies=(fixed,)))
    assert (one.is_captive, one.chosen, one.to_get) == (True, None, None)


def chain(*leads: SupplyLead, **lead_facts: Any) -> BoardPlan:
    plan = row(3, *leads)
    feed = Feed(("S1.1",), ("P1.DC", "P2.DC", "P3.DC"), (None,))
    return replace(plan, feeds=(replace(feed, lead=DcLead(**lead_facts)) if lead_facts else feed,))


def test_an_ordinary_lead_serves_no_chain() -> None:
    one = first(chain(lead(900)))
    assert one.why_not == ("it has one plug, and this feed is a chain",)
    assert one.to_get is not None
    # The tails run from P1's jack on: 200 and 400 mm beside it.
    assert (one.to_get.length, one.to_get.tails) == (125, (10, 210, 415))
    assert one.to_get.to_connectors == (BARREL, BARREL, BARREL)


def test_a_recorded_chain_loses_in_the_trunk_and_in_each_tail() -> None:
    tails = (Tail(10, awg=24), Tail(210, awg=24), Tail(415, awg=24))
    one = first(chain(length=200, awg=22, tails=tails))
    assert one.to_get is None
    trunk = drop_mv(200, 22, 60)  # three pedals of 20 mA, and the contacts
    tail = drop_mv(415, 24, 20) - 20 * 0.04
    assert one.drops[2].drop_mv == pytest.approx(trunk + tail)
    assert one.drops[2].at_pedal_mv == pytest.approx(9000 - trunk - tail)


@pytest.mark.parametrize("load_ma", [20, 2000, 2100, 3000, 4000, 6000, 9000])
def test_the_thinnest_usual_gauge_that_does_is_named(load_ma: int) -> None:
    """For 125 mm; every usual gauge by the hand's sum."""
    one = first(row(1, rated=load_ma))
    assert one.to_get is not None
    enough = [awg for awg in (28, 26, 24, 22, 20, 18, 16) if drop_mv(125, awg, load_ma) * 100 <= 3 * 9000]
    assert one.to_get.awg == (enough[0] if enough else None)
    assert one.to_get.no_gauge_does == (not enough)


def test_some_of_those_loads_need_thicker_wire_and_one_has_none() -> None:
    found = [first(row(1, rated=load)).to_get for load in (20, 3000, 9000)]
    assert [one.awg for one in found if one] == [28, 26, None]


def test_a_chains_gauge_carries_the_sum_in_its_trunk() -> None:
    """All three pedals draw 800 mA: 2.4 A through 125 mm, then 0.8 A through the longest tail of 415 mm."""
    plan = replace(chain(), pedals=row(3, rated=800).pedals)
    one = first(plan)
    assert one.to_get is not None

    def lost(awg: int) -> float:
        return drop_mv(125, awg, 2400) + drop_mv(415, awg, 800) - 800 * 0.04

    enough = [awg for awg in (28, 26, 24, 22, 20, 18, 16) if lost(awg) <= 270]
    assert enough
    assert one.to_get.awg == enough[0] < 28


def best_by_scipy(needs: list[int], lengths: list[int]) -> tuple[int, int]:
    """Feeds served and their excess, each lead one column, beside one column for each feed without one."""
    never = 10**6
    costs = np.full((len(needs), len(lengths) + len(needs)), float(never))
    for n, mm in enumerate(needs):
        for k, length in enumerate(lengths):
            costs[n, k] = length - mm if length >= mm else 10 * never
    rows, columns = linear_sum_assignment(costs)
    placed = [(n, k) for n, k in zip(rows, columns, strict=True) if k < len(lengths)]
    return len(placed), sum(lengths[k] - needs[n] for n, k in placed)


SORTS = ((130, 2), (150, 1), (250, 2), (400, 3), (700, 1), (900, 4))


@pytest.mark.parametrize("kept", list(product([True, False], repeat=len(SORTS))))
def test_no_other_choice_serves_more_or_with_less_excess(kept: tuple[bool, ...]) -> None:
    sorts = [sort for sort, is_kept in zip(SORTS, kept, strict=True) if is_kept]
    found = assign_leads(row(5, *(lead(length, count) for length, count in sorts))).feeds
    needs = [one.need.mm or 0 for one in found]
    lengths = [length for length, count in sorts for _ in range(count)]
    excess = [one.spare_mm for one in found if one.chosen]
    assert (len(excess), sum(mm or 0 for mm in excess)) == best_by_scipy(needs, lengths)
    chosen = sorted((one.need.mm or 0, one.chosen.lead.length or 0) for one in found if one.chosen)
    assert [length for _, length in chosen] == sorted(length for _, length in chosen)


def test_beyond_what_is_tried_nothing_is_chosen_and_that_is_said() -> None:
    plan = row(30, lead(4000))
    assert assign_leads(plan).is_tried
    many = replace(plan, drawer=tuple(DrawerItem("lead", 4000, 22) for _ in range(700)))
    found = assign_leads(many)
    assert not found.is_tried
    assert not any(one.chosen for one in found.feeds)


def test_a_board_without_feeds_takes_nothing() -> None:
    assert assign_leads(b.board()).feeds == ()
    found = list_leads_to_take(replace(b.board(), drawer=(DrawerItem("lead"), DrawerItem("reverser"))))
    assert (found.lines, found.adapters, found.spares) == ((), (), ())


def test_equal_leads_are_counted_together() -> None:
    recorded = DcLead(300, awg=24, connector=BARREL)
    plan = with_lead(row(4, lead(150, 2)), 0, recorded)
    lines = list_leads_to_take(plan).lines
    assert [(line.count, line.origin, line.jacks) for line in lines] == [
        (1, "recorded", ("P1.DC",)),
        (1, "S1", ("P2.DC",)),
        (1, "get", ("P3.DC",)),
        (1, "get", ("P4.DC",)),
    ]
    both = with_lead(plan, 1, recorded)
    line, *_ = list_leads_to_take(both).lines
    assert (line.count, line.jacks) == (2, ("P1.DC", "P2.DC"))


def test_two_leads_of_each_plug_and_every_adapter_twice_are_advised() -> None:
    """Common practice on the road."""
    plan = row(3, lead(150, 2), drawer=(DrawerItem("reverser"), DrawerItem("reverser", count=2)))
    turned = replace(plan.feeds[0], adapters=("reverser",)), replace(plan.feeds[1], adapters=("reverser",))
    found = list_leads_to_take(replace(plan, feeds=(*turned, plan.feeds[2])))
    assert found.adapters == (AdapterLine("reverser", used=2, take=4, in_drawer=3),)
    assert found.spares == (SpareLine(2, BARREL, 345),)


def test_a_spare_of_unknown_plug_or_length_says_so() -> None:
    plan = replace(row(1), supplies=(b.supply("S1", b.outlet("1")),))
    assert list_leads_to_take(with_jacks(plan, connector=None)).spares == (SpareLine(2, None, None),)
