"""What changed between two boards, in sentences; worked by hand."""

from dataclasses import replace

import pytest

from boardshop.core.diff import KINDS, compare_cuts, compare_plans, group_differences
from boardshop.core.plan import (
    Accepted,
    BoardPlan,
    CableType,
    DrawerItem,
    Place,
    Scene,
    StockLength,
    SupplyLead,
    Venue,
)
from boardshop.core.shop_rules import Rules
from tests.core import builders as b


def line(*refs: str, **parts: object) -> BoardPlan:
    """Pedals P1 to P4 in rows, wired in this order."""
    pedals = [
        b.pedal(f"P{n}", at=(20 + 100 * (n - 1), 40), name=name)
        for n, name in enumerate(("Wah", "Fuzz", "Ember", "Tide"), start=1)
    ]
    values = {
        "links": b.chain("G1", *(refs or ("P1", "P2", "P3", "P4")), "A1"),
        "supplies": (b.supply("S1", b.outlet("1"), b.outlet("2")),),
        "feeds": (b.feed("S1.1", "P1.DC"),),
        "frame": b.frame(900, 400),
    }
    return b.board(*pedals, **(values | parts))


def said(before: BoardPlan, after: BoardPlan) -> list[str]:
    return [one.sentence for one in compare_plans(before, after)]


def with_pedal(plan: BoardPlan, changed: str, /, **values: object) -> BoardPlan:
    return replace(plan, pedals=tuple(replace(p, **values) if p.ref == changed else p for p in plan.pedals))


def test_nothing_changed() -> None:
    assert compare_plans(line(), line()) == ()


def test_a_pedal_moved() -> None:
    assert said(line(), with_pedal(line(), "P2", place=Place(200, 60))) == [
        "Fuzz (P2) moved from x 120 mm, y 40 mm to x 200 mm, y 60 mm."
    ]


def test_a_pedal_turned_where_it_stands() -> None:
    assert said(line(), with_pedal(line(), "P2", place=Place(120, 40, 90))) == [
        "Fuzz (P2) was turned from 0° to 90°."
    ]


def test_a_pedal_taken_off_its_place() -> None:
    assert said(line(), with_pedal(line(), "P2", place=None)) == [
        "Fuzz (P2) was taken off its place, x 120 mm, y 40 mm."
    ]


def test_a_pedal_removed_takes_its_cables_and_feed_along() -> None:
    kept = replace(line(), pedals=line().pedals[1:], feeds=())
    links = tuple(link for link in kept.links if "P1." not in link.source + link.target)
    assert said(line(), replace(kept, links=links)) == ["Wah (P1) was taken off the board, with W1 and W2."]


def test_one_that_moves_in_the_line_is_told_once() -> None:
    assert said(line(), line("P2", "P3", "P1", "P4")) == ["Wah (P1) stands after Ember (P3) now."]


def test_one_that_moves_to_the_front() -> None:
    assert said(line(), line("P4", "P1", "P2", "P3")) == ["Tide (P4) stands first in its line now."]


def test_another_outlet() -> None:
    assert said(line(), line(feeds=(b.feed("S1.2", "P1.DC"),))) == [
        "Wah (P1) is fed from S1.2 instead of S1.1."
    ]


def test_another_setting() -> None:
    before, after = (line(feeds=(b.feed("S1.1", "P1.DC", settings=(mv,)),)) for mv in (9000, 12000))
    assert said(before, after) == ["Wah (P1) is fed from S1.1 at 12 V instead of S1.1 at 9 V."]


def test_no_feed_any_more() -> None:
    assert said(line(), line(feeds=())) == ["Wah (P1) is no longer fed; before it was fed from S1.1."]


def test_a_chain() -> None:
    after = line(feeds=(b.feed("S1.1", ("P1.DC", "P2.DC")),))
    assert said(line(), after) == [
        "Wah (P1) hangs on one lead with P2.DC, before it has its lead to itself.",
        "Fuzz (P2) is fed from S1.1, and was not fed before.",
        "Fuzz (P2) hangs on one lead with P1.DC, before it has its lead to itself.",
    ]


def test_another_pedal_of_the_same_ref() -> None:
    after = with_pedal(line(), "P2", name="Bloom", kind="distortion", weight=500)
    assert said(line(), after) == ["P2 is now Bloom, distortion; it was Fuzz, overdrive."]


def test_a_new_ref_for_the_same_pedal() -> None:
    before = line(links=(), feeds=())
    after = with_pedal(before, "P2", ref="P9")
    assert said(before, after) == ["Fuzz (P2) has the ref P9 now."]


def test_a_measured_draw() -> None:
    (jack,) = line().pedals[1].power
    after = with_pedal(line(), "P2", power=(replace(jack, measured=31),))
    assert said(line(), after) == ["Fuzz (P2), power jack DC: measured 31 mA instead of not recorded."]


def test_knobs_and_whether_it_is_on() -> None:
    after = with_pedal(line(), "P2", settings="gain 3 o'clock", on=True)
    assert said(line(), after) == [
        "Fuzz (P2): normally engaged yes instead of no.",
        "Fuzz (P2): knob settings gain 3 o'clock instead of not recorded.",
    ]


def test_what_concerns_the_whole_board() -> None:
    after = replace(
        line(),
        name="Nightjar fly",
        venue=Venue(120_000, 60),
        rules=Rules(headroom_percent=30),
        accepted=(Accepted("R02", ("P1", "P2"), "the player wants it"),),
        scenes=(Scene("Verse", ("P1", "P3")),),
        stock=(StockLength("C1", 20_000),),
    )
    assert said(replace(line(), name="Nightjar main"), after) == [
        "Scene Verse was added, with P1 and P3.",
        "The board: name Nightjar fly instead of Nightjar main.",
        "Venue: mains voltage 120 V instead of not recorded.",
        "Venue: frequency 60 Hz instead of not recorded.",
        "Limits: headroom 30 % instead of 20 %.",
        "R02 of P1 and P2 is kept on purpose: the player wants it.",
        "In stock: 1 × 20000 mm reel of C1, before 0.",
    ]


def test_what_comes_with_a_supply_and_what_lies_in_the_drawer() -> None:
    lead = SupplyLead(450, awg=22, connector="barrel 5.5/2.1", count=4)
    (supply,) = line().supplies
    before = replace(line(), drawer=(DrawerItem("reverser"), DrawerItem("reverser")))
    drawer = (DrawerItem("reverser"), DrawerItem("lead", 600, mm2=0.5, count=3))
    after = replace(line(), supplies=(replace(supply, leads=(lead,), price=139.5),), drawer=drawer)
    assert said(before, after) == [
        "S1: price 139.5 instead of not recorded.",
        "With S1 come 4 × lead, 450 mm, AWG 22, barrel 5.5/2.1, before 0.",
        "In the drawer: 1 × reverser, before 2.",
        "In the drawer: 3 × lead, 600 mm, 0.5 mm², before 0.",
    ]


def test_the_same_things_in_other_heaps_are_no_difference() -> None:
    one, other = (
        replace(line(), drawer=heaps)
        for heaps in ((DrawerItem("series", count=2),), (DrawerItem("series"), DrawerItem("series")))
    )
    assert said(one, other) == []


def test_the_numbers_of_cable_types_mean_nothing() -> None:
    one, other = (b.board(cables=(CableType(ref, 90, name="Studio 20"),)) for ref in ("C1", "C7"))
    assert compare_plans(one, other) == ()


def test_cuts_that_follow_a_move() -> None:
    before = b.wired_board(*line().pedals, frame=b.frame(900, 400))
    after = with_pedal(before, "P4", place=Place(500, 40))
    assert [one.kind for one in compare_plans(before, after)] == ["moved"]
    # 180 mm further along straight legs.  W4: 267.54 mm along its run, at least 10 slack, twice 12 inside the
    # plugs, 301.54; then 447.54, 3 % slack, 484.97; W5: 610.35, then 795.75; all rounded up to 5.
    assert [one.sentence for one in compare_cuts(before, after)] == [
        "W4 is to be cut 485 mm instead of 305 mm.",
        "W5 is to be cut 800 mm instead of 615 mm.",
        "Lengths to cut, as far as known, come to 3010 mm instead of 2645 mm.",
    ]


def test_a_cable_that_is_made_already_is_not_cut_any_more() -> None:
    before = b.wired_board(*line().pedals, frame=b.frame(900, 400))
    links = tuple(replace(one, made=310) if one.ref == "W4" else one for one in before.links)
    assert [one.sentence for one in compare_cuts(before, replace(before, links=links))] == [
        "W4: nothing to cut, before to be cut 305 mm.",
        "Lengths to cut, as far as known, come to 2340 mm instead of 2645 mm.",
    ]


def test_figures_that_differ_by_a_millivolt_do_not_read_alike() -> None:
    before, after = (line(feeds=(b.feed("S1.1", "P1.DC", settings=(mv,)),)) for mv in (1234567, 1234568))
    assert said(before, after) == ["Wah (P1) is fed from S1.1 at 1234.568 V instead of S1.1 at 1234.567 V."]


def test_another_end_of_one_link() -> None:
    before = line()
    links = tuple(replace(one, target="P4.IN") if one.ref == "W3" else one for one in before.links[:3])
    before = replace(before, links=before.links[:3])
    assert said(before, replace(before, links=links)) == [
        "W3 now goes from P2.OUT to P4.IN, before to P3.IN."
    ]


def test_grouping_keeps_every_difference_in_the_order_of_the_kinds() -> None:
    found = compare_plans(line(), with_pedal(line("P2", "P1", "P3", "P4"), "P2", place=None))
    groups = group_differences(found)
    assert [kind for kind, _ in groups] == ["moved", "re-wired"]
    assert [one for _, group in groups for one in group] == list(found)


@pytest.mark.parametrize("kind", KINDS)
def test_a_kind_is_a_plain_word(kind: str) -> None:
    assert kind == kind.strip().lower()


def test_of_another_pedal_under_the_same_ref_nothing_is_said_by_its_name() -> None:
    """What stood there and was fed was the other one."""
    after = replace(with_pedal(line(), "P1", name="Bloom", kind="distortion", place=None), feeds=())
    assert said(line(), after) == [
        "P1 is now Bloom, distortion; it was Wah, overdrive.",
        "P1 was taken off its place, x 20 mm, y 40 mm.",
        "P1.DC is no longer fed; before it was fed from S1.1.",
    ]
