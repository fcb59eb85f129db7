"""Every rule of layout just kept, just broken and not checkable; basis: the board-file format's Layout."""

from dataclasses import replace

import pytest

from boardshop.core.layout import compute_layout
from boardshop.core.layout.rules import LAYOUT_RULES
from boardshop.core.plan import (
    Frame,
    Incomplete,
    Jack,
    Keepout,
    Place,
    Point,
    Rail,
    Rules,
    SupplyPlace,
    Tier,
    Under,
)
from tests.core.builders import board, dc_plug_type, feed, frame, link, pedal, plug_type, supply, under_frame

PLAIN = {"jacks": (), "switches": (), "power": ()}
"""A body alone, so that only bodies meet."""


def findings_of(plan, *rules):
    return [finding for finding in compute_layout(plan).findings if not rules or finding.rule in rules]


def rules_of(plan):
    return [finding.rule for finding in compute_layout(plan).findings]


def two(x, y=0, gap_mm=4, **second):
    """P1 at the front left corner, 73 x 130, and P2 at (x, y)."""
    pedals = pedal("P1", at=(0, 0), **PLAIN), pedal("P2", at=(x, y), **(PLAIN | second))
    return board(*pedals, rules=Rules(gap_mm=gap_mm))


def test_a_board_that_fits_has_no_findings():
    assert rules_of(two(100)) == []


def test_every_rule_has_a_known_severity_and_says_what_to_do():
    assert all(row.cure.endswith(".") for row in LAYOUT_RULES.values())
    assert list(LAYOUT_RULES) == [f"L{number:02}" for number in range(1, len(LAYOUT_RULES) + 1)]


@pytest.mark.parametrize(
    ("place", "by"),
    [
        ((527, 190, 0), 0),
        ((528, 190, 0), 1),
        ((527, 192, 0), 2),
        ((-3, 0, 0), 3),
        ((0, -4, 0), 4),
        ((471, 0, 90), 1),
    ],
)
def test_a_body_lies_inside_the_frame(place, by):
    found = findings_of(board(pedal("P1", name="Low Ember", at=place, **PLAIN)), "L01")
    assert [finding.severity for finding in found] == ["fault"] * bool(by)
    assert all(f"Low Ember (P1) sticks out of the frame by {by} mm" in finding.message for finding in found)


@pytest.mark.parametrize(("x", "short"), [(76, 1), (77, 0), (78, 0)])
def test_bodies_keep_the_gap(x, short):
    found = findings_of(two(x), "L03")
    assert len(found) == bool(short)
    assert all(
        finding.subjects == ("P1", "P2") and "1 mm less than the gap" in finding.message for finding in found
    )


@pytest.mark.parametrize(("x", "overlap"), [(72, 1), (73, 0)])
def test_without_a_gap_bodies_may_touch(x, overlap):
    found = findings_of(two(x, gap_mm=0), "L03")
    assert len(found) == overlap
    assert all("overlap by 1 mm" in finding.message for finding in found)


def test_the_gap_is_kept_where_it_is_kept_along_one_axis():
    assert findings_of(two(74, 134), "L03") == []
    assert len(findings_of(two(74, 133), "L03")) == 1


def test_a_supply_on_top_is_a_body():
    top = replace(supply(), place=SupplyPlace(60, 0))
    plan = board(pedal("P1", at=(0, 0), **PLAIN), supplies=[top])
    assert [finding.subjects for finding in findings_of(plan, "L03")] == [("P1", "S1")]
    under = board(pedal("P1", at=(0, 0), **PLAIN), supplies=[under_frame(supply(), 60, 0)])
    assert findings_of(under, "L03") == []


@pytest.mark.parametrize(("y", "beyond"), [(20, 0), (21, 1), (150, 0), (149, 1)])
def test_a_body_lies_on_one_tier(y, beyond):
    tiers = (Tier(0, 150, 0), Tier(150, 320, 45))
    found = findings_of(board(pedal("P1", at=(0, y), **PLAIN), frame=frame(tiers=tiers)), "L02")
    assert [finding.severity for finding in found] == ["fault"] * bool(beyond)
    assert all(f"reaches {beyond} mm beyond" in finding.message for finding in found)


@pytest.mark.parametrize(("x", "over"), [(72, 1), (73, 0)])
def test_a_body_stays_off_keep_outs(x, over):
    kept = frame(keepouts=(Keepout(x, 0, 30, 30, "hinge"),))
    found = findings_of(board(pedal("P1", at=(0, 0), **PLAIN), frame=kept), "L04")
    assert [finding.subjects for finding in found] == [("P1", "keepout 1")] * over
    assert all("keep-out 1 (hinge)" in finding.message for finding in found)


@pytest.mark.parametrize(
    ("lid", "rules"), [(54, ["L13"]), (55, ["L14"]), (64, ["L14"]), (65, []), (None, ["L27"])]
)
def test_the_lid_closes_over_the_highest_knob(lid, rules):
    assert rules_of(board(pedal("P1", at=(0, 0), **PLAIN), frame=frame(lid=lid))) == rules


def test_a_tier_takes_height_under_the_lid():
    raised = frame(tiers=(Tier(0, 320, 50),), lid=104)
    (finding,) = findings_of(board(pedal("P1", at=(0, 0), **PLAIN), frame=raised), "L13")
    assert "55 mm high on its tier of 50 mm: 1 mm more than the 104 mm under the lid" in finding.message


@pytest.mark.parametrize(("y", "holds"), [(54, False), (55, True), (56, False), (104, False)])
def test_on_a_slotted_frame_two_rails_carry_25_mm_each(y, holds):
    # Rails 0-80 and 100-180, P1 70 deep: at y = 55 it lies 25 mm on the first and 25 mm on the second.
    rails = frame(surface="slotted", rails=(Rail(0, 80), Rail(100, 180)))
    deep = pedal("P1", at=(0, y), depth=70, **PLAIN)
    assert (findings_of(board(deep, frame=rails), "L17") == []) is holds


def test_rails_that_are_not_recorded_are_named_once():
    slotted = frame(surface="slotted")
    found = findings_of(
        board(pedal("P1", at=(0, 0), **PLAIN), pedal("P2", at=(100, 0), **PLAIN), frame=slotted)
    )
    assert [finding.rule for finding in found] == ["L31"]


# --- plugs: P1 has its OUT on the left at y = 86, P2 its IN on the right; a plug is 14 long and 22 wide.


def linked(x, y=0, rules=None, **jack):
    """P2 left of P1; P1's OUT plug points at P2's IN plug."""
    jacks = (Jack("IN", "in", "right", 86, 20), Jack("OUT", "out", "left", 86, 20))
    facing = (replace(jacks[0], **jack), jacks[1])
    left = pedal("P2", at=(100, 0), **(PLAIN | {"jacks": facing}))
    right = pedal("P1", at=(x, y), **(PLAIN | {"jacks": jacks}))
    links = [link("W1", "P1.OUT", "P2.IN")]
    return board(left, right, links=links, rules=rules or Rules())


# Facing plugs need 14 + 14 + 2 mm between the bodies: P2 ends at 173.
@pytest.mark.parametrize(("x", "short"), [(203, 0), (202, 1), (195, 8)])
def test_facing_plugs_keep_their_gap(x, short):
    found = findings_of(linked(x), "L07")
    assert [finding.subjects for finding in found] == [("P1.OUT", "P2.IN")] * bool(short)
    assert all(f"{short} mm short" in finding.message for finding in found)


def test_plugs_side_by_side_need_their_widths():
    # Middles 24 mm apart in depth: 11 + 11 + 2.
    assert findings_of(linked(190, offset=110), "L07") == []
    assert len(findings_of(linked(190, offset=109), "L07")) == 1


@pytest.mark.parametrize(
    ("height", "collides"), [(34, True), (35, False), (5, False), (6, True), (None, True)]
)
def test_plugs_whose_heights_differ_by_15_mm_pass(height, collides):
    assert bool(findings_of(linked(190, height=height), "L07")) is collides


@pytest.mark.parametrize(("x", "short"), [(189, 0), (188, 1), (180, 9)])
def test_a_plug_keeps_clear_of_another_body(x, short):
    # OUT of P1 stands 14 mm out towards P2, which ends at 173 and has nothing plugged in on that side.
    plan = replace(linked(x), links=(link("W1", "P1.OUT", "A1.IN"),))
    found = findings_of(plan, "L05")
    assert [finding.subjects for finding in found] == [("P1.OUT", "P2")] * bool(short)
    assert all(f"{short} mm short" in finding.message for finding in found)


def test_an_unused_jack_needs_no_room():
    assert findings_of(replace(linked(178), links=()), "L05", "L07", "L08") == []


@pytest.mark.parametrize(("x", "short"), [(16, 0), (15, 1), (10, 6)])
def test_a_plug_keeps_clear_of_the_frames_edge(x, short):
    own = pedal("P1", at=(x, 0), **(PLAIN | {"jacks": (Jack("OUT", "out", "left", 86),)}))
    found = findings_of(board(own, links=[link("W1", "P1.OUT", "A1.IN")]), "L08")
    assert [finding.subjects for finding in found] == [("P1.OUT",)] * bool(short)
    assert all(f"{short} mm short" in finding.message for finding in found)


@pytest.mark.parametrize(("x", "short"), [(56, 0), (55, 1)])
def test_a_plug_keeps_clear_of_keep_outs(x, short):
    own = pedal("P1", at=(x, 0), **(PLAIN | {"jacks": (Jack("OUT", "out", "left", 86),)}))
    kept = frame(keepouts=(Keepout(0, 0, 40, 100),))
    found = findings_of(board(own, links=[link("W1", "P1.OUT", "A1.IN")], frame=kept), "L06")
    assert [finding.subjects for finding in found] == [("P1.OUT", "keepout 1")] * short


def test_a_pedals_own_plugs_and_body_never_collide_with_it():
    jacks = (Jack("IN", "in", "rear", 36), Jack("OUT", "out", "rear", 37))
    own = pedal("P1", at=(100, 0), **(PLAIN | {"jacks": jacks}))
    links = [link("W1", "G1.OUT", "P1.IN"), link("W2", "P1.OUT", "A1.IN")]
    assert rules_of(board(own, links=links)) == []


def test_a_fed_power_jack_needs_its_leads_plug():
    # DC on the rear of P1 stands out 15 mm to y = 145; P2's front edge must be 2 mm beyond.
    for y, short in ((147, False), (146, True)):
        one, other = pedal("P1", at=(0, 0), switches=()), pedal("P2", at=(0, y), **PLAIN)
        plan = board(one, other, feeds=[feed("S1.1", "P1.DC")], supplies=[under_frame(supply(), 0, 0)])
        assert [finding.subjects for finding in findings_of(plan, "L05")] == [("P1.DC", "P2")] * short


def test_a_chain_has_the_same_plug_at_each_jack():
    pedals = [pedal(f"P{n}", at=(100 * n, 200), switches=()) for n in (1, 2)]
    plan = board(*pedals, feeds=[feed("S1.1", ["P1.DC", "P2.DC"])], plugs=[dc_plug_type(reach=1)])
    # Rear edge at 330 in a frame 320 deep: both plugs stand out of it.
    assert [finding.subjects for finding in findings_of(plan, "L08")] == [("P1.DC",), ("P2.DC",)]


# --- feet


@pytest.mark.parametrize(("y", "far"), [(20, 0), (21, 1), (35, 15)])
def test_a_treadle_stands_at_the_front_edge(y, far):
    found = findings_of(board(pedal("P1", "wah", at=(0, y), treadle=True, **PLAIN)), "L09")
    assert [finding.severity for finding in found] == ["fault"] * bool(far)
    assert all(f"{far} mm too far" in finding.message for finding in found)


def test_nothing_stands_before_a_treadle():
    treadle = pedal("P1", "wah", at=(100, 20), treadle=True, **PLAIN)
    kept = frame(keepouts=(Keepout(90, 0, 11, 5),))
    assert [f.subjects for f in findings_of(board(treadle, frame=kept), "L10")] == [("P1", "keepout 1")]
    beside = frame(keepouts=(Keepout(90, 0, 10, 5),))
    assert findings_of(board(treadle, frame=beside), "L10") == []


def test_no_plug_and_no_pedal_stands_before_a_treadle():
    treadle = pedal("P1", "wah", at=(100, 20), treadle=True, **PLAIN)
    # P2 ends at x = 90, its IN plug reaches to 104 at a depth below 20.
    other = pedal("P2", at=(17, 0), **(PLAIN | {"jacks": (Jack("IN", "in", "right", 12),)}))
    plan = board(treadle, other, links=[link("W1", "G1.OUT", "P2.IN")])
    assert [finding.subjects for finding in findings_of(plan, "L10")] == [("P1", "P2.IN")]
    before = pedal("P3", at=(100, 0), width=20, depth=15, **PLAIN)
    assert [f.subjects for f in findings_of(board(treadle, before), "L10")] == [("P1", "P3")]


def stepping(x, y=0, **overrides):
    """Two pedals whose switches are x and y apart."""
    small = PLAIN | {"width": 20, "depth": 20, "switches": (Point(10, 10),)} | overrides
    return board(pedal("P1", at=(0, 0), **small), pedal("P2", at=(x, y), **(small | {"together": ()})))


@pytest.mark.parametrize(
    ("x", "y", "severity"),
    [(75, 0, None), (74, 0, "caution"), (60, 0, "caution"), (59, 0, "fault"), (0, 75, None),
     (59, 74, "caution"), (59, 75, None), (50, 50, "fault")],
)  # fmt: skip
def test_switches_are_apart_by_the_larger_of_two_distances(x, y, severity):
    found = findings_of(stepping(x, y), "L11")
    assert [finding.severity for finding in found] == ([severity] if severity else [])
    assert all(finding.subjects == ("P1", "P2") for finding in found)


def test_switches_of_one_pedal_may_be_near_each_other():
    both = (Point(10, 10), Point(30, 10))
    assert findings_of(board(pedal("P1", at=(0, 0), **(PLAIN | {"switches": both}))), "L11") == []


@pytest.mark.parametrize(
    ("x", "y", "kept"),
    [(75, 0, True), (130, 20, True), (74, 0, False), (131, 0, False), (100, 21, False), (0, 100, False)],
)
def test_a_pair_stepped_on_together_is_side_by_side(x, y, kept):
    found = findings_of(stepping(x, y, together=("P2",)), "L12")
    assert [finding.severity for finding in found] == ([] if kept else ["caution"])


def test_a_pair_is_judged_once_and_by_its_nearest_switches():
    wide = PLAIN | {"switches": (Point(10, 10), Point(60, 10))}
    one = pedal("P1", at=(0, 0), together=("P2",), **wide)
    other = pedal("P2", at=(140, 0), together=("p1",), **wide)
    assert findings_of(board(one, other), "L12") == []  # nearest 60 -> 150: 90 mm
    far = replace(other, place=Place(200, 0))
    assert [finding.subjects for finding in findings_of(board(one, far), "L12")] == [("P1", "P2")]


@pytest.mark.parametrize(("y", "use", "told"), [(250, 1, False), (251, 1, True), (300, 0, False)])
def test_what_is_stepped_on_is_in_reach(y, use, told):
    small = PLAIN | {"width": 20, "depth": 20, "switches": (Point(10, 10),)}
    found = findings_of(board(pedal("P1", at=(0, y), use=use, **small)), "L18")
    assert [finding.severity for finding in found] == ["advice"] * told


# --- supplies under the frame


def test_worked_example_a_supply_under_a_sloping_frame():
    """Front 18 mm, 8 degrees, supply 38 high + 3, 90 deep: from y = 163.7 on; 240 deep is not enough."""
    slope = 0.14054083470239145  # tan 8 degrees
    for depth, front, y, fits in [
        (320, 18, 164, True), (320, 18, 163, False), (320, 18, 230, True), (240, 18, 150, False),
        (240, 19.92, 150, True), (240, 19.9, 150, False),
    ]:  # fmt: skip
        under = Under(front, front + depth * slope)
        unit = under_frame(supply(depth=90, height=38), 100, y)
        found = findings_of(board(frame=frame(600, depth, under=under), supplies=[unit]), "L15")
        assert [finding.severity for finding in found] == ([] if fits else ["fault"])


def test_the_cure_says_from_where_on_it_fits():
    under = Under(18, 18 + 320 * 0.14054083470239145)
    unit = under_frame(supply(depth=90, height=38), 100, 100)
    (finding,) = findings_of(board(frame=frame(under=under), supplies=[unit]), "L15")
    assert "163.7 mm" in finding.cure
    assert "needs 41 mm" in finding.message


@pytest.mark.parametrize(("rear", "fits"), [(41, True), (40.9, False)])
def test_a_frame_that_falls_to_the_rear_is_judged_at_the_rear(rear, fits):
    unit = under_frame(supply(depth=90, height=38), 100, 230)
    plan = board(frame=frame(under=Under(60, rear)), supplies=[unit])
    assert (findings_of(plan, "L15") == []) is fits


def test_supplies_under_the_frame_lie_inside_it_and_apart():
    units = [
        under_frame(supply("S1"), 0, 0),
        under_frame(supply("S2"), 159, 89, 90),
        under_frame(supply("S3"), 500, 0),
    ]
    found = findings_of(board(frame=frame(under=Under(60, 60)), supplies=units), "L01", "L16")
    assert [(finding.rule, finding.subjects) for finding in found] == [
        ("L01", ("S3",)),
        ("L16", ("S1", "S2")),
    ]


# --- unknown


def test_what_is_not_recorded_is_named_once():
    jacks = (Jack("IN", "in", None, 86), Jack("OUT", "out", "left", None))
    bare = pedal("P1", "wah", at=(100, 0), height=None, use=2, **(PLAIN | {"jacks": jacks}))
    lost = pedal("P2", **PLAIN)
    links = [
        link("W1", "G1.OUT", "P1.IN", plug_to=None),
        link("W2", "P1.OUT", "P2.IN", plug_from="J2"),
    ]
    plan = board(
        bare,
        lost,
        links=links,
        plugs=[plug_type("J1"), plug_type("J2", reach=None, width=None)],
        supplies=[
            under_frame(supply(), 0, 0),
            supply("S2"),
            replace(supply("S3", depth=None), place=SupplyPlace(0, 0)),
        ],
    )
    assert [(f.rule, f.severity, f.subjects) for f in findings_of(plan)] == [
        ("L21", "unknown", ("P2",)),
        ("L22", "unknown", ("S2",)),
        ("L22", "unknown", ("S3",)),
        ("L23", "unknown", ("P1.IN", "P1.OUT")),
        ("L24", "unknown", ("P1.IN",)),
        ("L25", "unknown", ("J2",)),
        ("L26", "unknown", ("P1",)),
        ("L28", "unknown", ("S1",)),
        ("L29", "unknown", ("P1",)),
        ("L30", "unknown", ("P1",)),
    ]


def test_a_power_jack_without_a_place_on_the_pedal_is_unknown():
    bare = pedal("P1", at=(100, 0), jacks=(), switches=())
    assert [f.subjects for f in findings_of(board(bare, feeds=[feed("S1.1", "P1.DC")]), "L23")] == [
        ("P1.DC",)
    ]


def test_unplaced_pedals_stop_nothing_else():
    plan = board(pedal("P1"), *two(72).pedals[1:], pedal("P3", at=(72, 0), **PLAIN), pedal("P4"))
    assert [(f.rule, f.subjects) for f in findings_of(plan, "L03", "L21")] == [
        ("L03", ("P2", "P3")),
        ("L21", ("P1", "P4")),
    ]


def test_an_entry_without_its_numbers_is_named():
    plan = replace(board(), incomplete=(Incomplete("frame/keepouts", ("depth",), '{"x": 5}'),))
    (finding,) = findings_of(plan)
    assert (finding.rule, finding.severity, finding.subjects) == ("K02", "unknown", ("frame",))


# --- figures


def test_free_percent_takes_off_bodies_and_keep_outs():
    plan = two(100)
    assert compute_layout(plan).free_percent == round(100 - 100 * 2 * 73 * 130 / (600 * 320), 1)
    kept = replace(plan, frame=frame(keepouts=(Keepout(0, 200, 100, 100),)))
    assert compute_layout(kept).free_percent == round(100 - 100 * (2 * 73 * 130 + 10_000) / (600 * 320), 1)


@pytest.mark.parametrize(("depth", "told"), [(90, []), (91, ["L19"])])
def test_spare_room_is_advised(depth, told):
    filled = pedal("P1", at=(0, 0), **(PLAIN | {"width": 100, "depth": depth}))
    plan = board(filled, frame=frame(100, 100))
    assert [finding.rule for finding in findings_of(plan, "L19")] == told


def test_each_tier_is_told_how_full_it_is():
    tiers = (Tier(0, 140, 0), Tier(140, 320, 45))
    plan = replace(two(100, 150), frame=frame(tiers=tiers))
    used = [(tier.from_, tier.to, tier.used_percent) for tier in compute_layout(plan).tiers]
    each = 100 * 73 * 130
    assert used == [(0, 140, round(each / (600 * 140), 1)), (140, 320, round(each / (600 * 180), 1))]


def test_one_flat_tier_is_what_is_not_free():
    section = compute_layout(two(100))
    assert section.tiers[0].used_percent == pytest.approx(100 - section.free_percent)


def test_the_centre_of_mass_is_that_of_all_parts():
    # 3000 g at (300, 160), 1000 g at (50, 50): (237.5, 132.5), rounded half up.
    heavy = pedal("P1", at=(0, 0), weight=1000, **(PLAIN | {"width": 100, "depth": 100}))
    assert compute_layout(board(heavy)).centre_of_mass == Point(238, 133)


@pytest.mark.parametrize("lost", [{"weight": None}, {"place": None}])
def test_the_centre_of_mass_is_unknown_with_one_part_unknown(lost):
    assert compute_layout(board(replace(pedal("P1", at=(0, 0), **PLAIN), **lost))).centre_of_mass is None


@pytest.mark.parametrize(("grams", "told"), [(1000, False), (1001, True)])
def test_weight_far_off_the_middle_is_advised(grams, told):
    # Frame 1000 g at x = 300, pedal at x = 180: with equal masses 60 mm off, which is 10 % of 600.
    plan = board(
        pedal("P1", at=(170, 0), weight=grams, **(PLAIN | {"width": 20})),
        frame=Frame(600, 320, weight=1000, lid=200),
    )
    assert bool(findings_of(plan, "L20")) is told


def test_messages_name_both_things_with_name_and_ref():
    named = two(72, name="Slow Tide")
    (finding,) = findings_of(named, "L03")
    assert finding.message.startswith("P1 and Slow Tide (P2) overlap by 1 mm")
