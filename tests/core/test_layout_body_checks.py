"""Bodies just inside and just outside every limit; basis: the board-file format."""

from dataclasses import replace

import pytest

from boardshop.core.layout.rules import LAYOUT_RULES
from boardshop.core.plan import Keepout, Rail, SupplyPlace, Tier
from tests.core.builders import board, frame, pedal, supply, under_frame
from tests.core.layout_boards import PLAIN, findings_of, rules_of, two


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
