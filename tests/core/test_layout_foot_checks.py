"""What the foot needs, just kept and just broken; basis: the board-file format."""

from dataclasses import replace

import pytest

from boardshop.core.plan import Jack, Keepout, Place, Point
from tests.core.builders import board, frame, link, pedal
from tests.core.layout_boards import PLAIN, findings_of


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
