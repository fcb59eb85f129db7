"""Plugs in used jacks against bodies, keep-outs, the edge and each other; basis: the board-file format."""

from dataclasses import replace

import pytest

from boardshop.core.plan import Jack, Keepout, Rules
from tests.core.builders import board, dc_plug_type, feed, frame, link, pedal, plug_type, supply, under_frame
from tests.core.layout_boards import PLAIN, findings_of, rules_of

# P1 has its OUT on the left at y = 86, P2 its IN on the right; a plug is 14 mm long and 22 mm wide.


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


# Worked example of a row (calculation): tuner 73 and fuzz 120 with jacks on their sides, drive 60 with jacks
# on its rear, drive 73 and wah 100 with jacks on their sides; flat plugs stand out 13 mm.
ROW = [
    ("tuner", 73, True),
    ("fuzz", 120, True),
    ("overdrive", 60, False),
    ("overdrive", 73, True),
    ("wah", 100, True),
]
GAPS = [15, 28, 15, 15, 28, 15]


def row(frame_width, widths=None, gaps=GAPS, reach=13, shift=0):
    """The row laid from left to right with these gaps; ``shift`` moves the fuzz's jacks to the rear."""
    pedals, x = [], 0
    for number, ((kind, width, on_sides), gap) in enumerate(zip(ROW, gaps, strict=False)):
        width = (widths or {}).get(number, width)
        x += gap
        far = 60 + (shift if kind == "fuzz" else 0)
        sides = ("right", far, "left", far) if on_sides else ("rear", 45, "rear", 15)
        jacks = (Jack("IN", "in", *sides[:2]), Jack("OUT", "out", *sides[2:]))
        own = PLAIN | {"jacks": jacks, "treadle": False}
        pedals.append(pedal(f"P{number + 1}", kind, at=(x, 0), width=width, depth=120, **own))
        x += width
    links = [link(f"W{n}", f"P{n + 1}.OUT", f"P{n}.IN") for n in range(1, 5)]
    links += [link("W5", "G1.OUT", "P5.IN"), link("W6", "P1.OUT", "A1.IN")]
    plugs = [plug_type("J1", reach=reach, width=22)]
    return board(*pedals, links=links, plugs=plugs, frame=frame(frame_width), rules=Rules(spare_percent=0))


def test_worked_example_a_row_of_five_fits_542_mm():
    assert sum(GAPS) + sum(width for _, width, _ in ROW) == 542
    assert rules_of(row(542)) == []
    assert rules_of(row(541)) == ["L08"]
    for number in range(6):
        tighter = [gap - (n == number) for n, gap in enumerate(GAPS)]
        assert set(rules_of(row(541, gaps=tighter))) & {"L05", "L07", "L08"}, number


def test_worked_example_a_wider_drive_needs_563_mm_or_a_stagger_of_25():
    assert rules_of(row(563, {3: 94})) == []
    assert rules_of(row(562, {3: 94})) == ["L08"]
    staggered = [15, 15, 15, 15, 28, 15]
    assert rules_of(row(550, {3: 94}, staggered, shift=25)) == []
    assert rules_of(row(550, {3: 94}, staggered, shift=23)) == ["L07"]


def test_worked_example_straight_plugs_need_1038_mm():
    # Straight plugs stand out 50 mm and bend another 25 (common practice).
    gaps = [77, 152, 77, 77, 152, 77]
    assert sum(gaps) + 426 == 1038
    assert rules_of(row(1038, gaps=gaps, reach=75)) == []
    assert rules_of(row(1037, gaps=gaps, reach=75)) == ["L08"]
