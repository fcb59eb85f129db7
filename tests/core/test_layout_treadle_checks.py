"""A treadle's ends, its heel, its toe switch and the lid, just kept and just broken; common practice."""

import pytest

from boardshop.core.plan import Jack, Keepout, Point, Rail, Tier
from tests.core.builders import board, frame, link, pedal, plug_type
from tests.core.layout_boards import PLAIN, findings_of

OPEN = frame(lid=None)


def treadle(at=(100, 0), **overrides):
    """P1, 100 x 250."""
    return pedal("P1", "wah", at=at, width=100, depth=250, treadle=True, **(PLAIN | overrides))


@pytest.mark.parametrize(("y", "short"), [(270, None), (269, 1), (250, 20)])
def test_nothing_stands_within_20_of_the_toe(y, short):
    small = pedal("P2", at=(120, y), width=40, depth=40, **PLAIN)
    found = findings_of(board(treadle(), small, frame=OPEN), "L35")
    assert [(f.severity, f.subjects) for f in found] == [("caution", ("P1", "P2"))] * (short is not None)
    assert all(f"leaves {20 - short} mm at the toe of P1, {short} mm less" in f.message for f in found)


@pytest.mark.parametrize(("x", "told"), [(60, False), (61, True), (199, True), (200, False)])
def test_what_is_beside_the_toe_does_not_matter(x, told):
    small = pedal("P2", at=(x, 260), width=40, depth=40, **PLAIN)
    assert bool(findings_of(board(treadle(), small, frame=OPEN), "L35")) is told


def test_a_plug_of_another_pedal_and_a_keep_out_are_in_the_way_too():
    """P2 ends at x 80, its plug reaches from there to 120 at y 260."""
    jacks = (Jack("IN", "in", "right", 110),)
    other = pedal("P2", at=(20, 150), width=60, depth=130, **(PLAIN | {"jacks": jacks}))
    plan = board(
        treadle(),
        other,
        links=[link("W1", "G1.OUT", "P2.IN", plug_to="J1")],
        plugs=[plug_type("J1", reach=40, width=10)],
        frame=frame(lid=None, keepouts=(Keepout(150, 269, 10, 10), Keepout(170, 270, 10, 10))),
    )
    assert [f.subjects for f in findings_of(plan, "L35")] == [("P1", "P2.IN"), ("P1", "keepout 1")]


def test_the_treadles_own_plug_at_the_rear_is_not_in_its_way():
    wah = treadle(jacks=(Jack("IN", "in", "rear", 50),))
    assert findings_of(board(wah, links=[link("W1", "G1.OUT", "P1.IN")], frame=OPEN), "L35") == []


@pytest.mark.parametrize(
    ("x", "end"), [(286, None), (285, None), (284, "heel"), (10, None), (11, "toe"), (30, "toe")]
)
def test_a_treadle_that_is_turned_has_its_ends_at_the_sides(x, end):
    """Turned by 90 it lies from x 50 to 270, its toe at the left and its heel at the right."""
    turned = pedal("P1", "wah", at=(50, 0, 90), width=100, depth=220, treadle=True, **PLAIN)
    small = pedal("P2", at=(x, 40), width=20 if x < 50 else 40, depth=20, **PLAIN)
    found = findings_of(board(turned, small, frame=OPEN), "L35")
    assert [f"the {end} of P1" in f.message for f in found] == [True] * (end is not None)


@pytest.mark.parametrize(("side", "told"), [("front", True), ("left", False), ("rear", False)])
def test_no_plug_sits_on_the_heel_side(side, told):
    pedals = [treadle(at=(100, 20), jacks=(Jack("IN", "in", side, 50), Jack("DC", "power", "front", 20)))]
    found = findings_of(board(*pedals, links=[link("W1", "G1.OUT", "P1.IN")], frame=OPEN), "L36")
    assert [(f.severity, f.subjects) for f in found] == [("caution", ("P1.IN",))] * told
    bare = board(*pedals, frame=OPEN)
    assert findings_of(bare, "L36") == []


@pytest.mark.parametrize(
    ("y", "off"), [(209, 1), (210, None), (240, None), (241, 1), (247, 3), (125, None), (126, 46)]
)
def test_a_toe_switch_stands_on_a_rail(y, off):
    """Rails 0 to 80 and 210 to 240, then 250 to 300; the toe's half begins behind 125 of 250."""
    rails = (Rail(0, 80), Rail(210, 240), Rail(250, 300))
    slotted = frame(lid=None, surface="slotted", rails=rails)
    found = findings_of(board(treadle(switches=(Point(50, y),)), frame=slotted), "L37")
    assert [f.severity for f in found] == ["caution"] * (off is not None)
    assert all(f" {off} mm off the nearest rail" in f.message for f in found)


def test_a_flat_frame_is_hard_floor_and_a_plain_switch_asks_for_none():
    assert findings_of(board(treadle(switches=(Point(50, 200),)), frame=OPEN), "L37") == []
    slotted = frame(lid=None, surface="slotted", rails=(Rail(0, 80),))
    plain = pedal("P1", at=(0, 0), **(PLAIN | {"switches": (Point(36, 120),)}))
    assert findings_of(board(plain, frame=slotted), "L37") == []


@pytest.mark.parametrize(
    ("toe_height", "found"), [(110, []), (111, ["L39"]), (120, ["L39"]), (121, ["L38"]), (None, ["L40"])]
)
def test_the_toe_as_it_is_parked_has_room_under_the_lid(toe_height, found):
    """A lid of 120, and 10 over it."""
    plan = board(treadle(toe_height=toe_height), frame=frame(lid=120))
    assert [f.rule for f in findings_of(plan, "L38", "L39", "L40")] == found
    assert {f.severity for f in findings_of(plan, "L38", "L39", "L40")} <= {"caution", "advice", "unknown"}
    assert findings_of(plan, "L13", "L14") == []


def test_a_tier_lifts_the_toe():
    tiers = frame(lid=120, tiers=(Tier(0, 320, 5),))
    (finding,) = findings_of(board(treadle(toe_height=118), frame=tiers), "L38")
    assert "3 mm more than there is under the lid" in finding.message


def test_toe_heights_that_nobody_recorded_are_named_once_and_only_under_a_lid():
    second = pedal("P2", "volume", at=(300, 0), treadle=True, **PLAIN)
    found = findings_of(board(treadle(), second), "L40")
    assert [(f.severity, f.subjects) for f in found] == [("unknown", ("P1", "P2"))]
    assert findings_of(board(treadle(), second, frame=OPEN), "L40") == []
    assert findings_of(board(pedal("P1", at=(0, 0), **PLAIN)), "L40") == []
