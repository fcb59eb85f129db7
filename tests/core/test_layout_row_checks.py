"""The rear row over the front one, just kept and just broken; basis: common practice."""

from dataclasses import replace

import pytest

from boardshop.core.plan import Place, Point, Tier
from tests.core.builders import board, frame, pedal
from tests.core.layout_boards import PLAIN, findings_of


def rows(y=4, switch_y=20, rear_height=55, front_height=55, x=0, risers=0, **overrides):
    """
    y 130 + y   P2   its switch at switch_y
    y 0         P1   73 x 130
    """
    rear = {"switches": (Point(36, switch_y),), "height": rear_height} | overrides
    return board(
        pedal("P1", at=(0, 0), **(PLAIN | {"height": front_height})),
        pedal("P2", at=(x, 130 + y), **(PLAIN | rear)),
        frame=frame(lid=None, tiers=(Tier(0, 130, 0), Tier(130, 320, risers))),
    )


@pytest.mark.parametrize(("switch_y", "short"), [(21, None), (20, 1), (0, 21)])
def test_a_rear_switch_clears_the_pedal_in_front_by_25(switch_y, short):
    found = findings_of(rows(4, switch_y), "L32")
    assert [(f.severity, f.subjects) for f in found] == [("caution", ("P2", "P1"))] * (short is not None)
    assert all(f" {short} mm less than 25 mm" in f.message for f in found)


@pytest.mark.parametrize(("higher", "told"), [(41, False), (40, False), (39, True)])
def test_or_it_sits_40_higher(higher, told):
    found = findings_of(rows(0, 10, rear_height=55 + higher), "L32")
    assert bool(found) is told
    assert all("1 mm less than the 40 mm" in f.message for f in found)


def test_a_riser_counts_for_the_height():
    assert findings_of(rows(0, 10, risers=40), "L32") == []
    assert len(findings_of(rows(0, 10, risers=39), "L32")) == 1


@pytest.mark.parametrize(("x", "told"), [(61, True), (62, False), (-60, True), (-61, False)])
def test_only_what_is_in_front_of_the_switch_is_in_its_way(x, told):
    """The switch at 36 of 73: 24 or 25 mm beside the pedal in front."""
    assert bool(findings_of(rows(0, 10, x=x), "L32")) is told


def test_a_pedal_beside_it_in_the_same_row_is_none_in_front():
    plan = board(
        pedal("P1", at=(0, 0), **PLAIN),
        pedal("P2", at=(77, 60), **(PLAIN | {"switches": (Point(5, 75),)})),
        frame=frame(lid=None),
    )
    assert findings_of(plan, "L32", "L33", "L34") == []


@pytest.mark.parametrize(("front_height", "short"), [(85, None), (86, 1), (100, 15)])
def test_knobs_in_front_end_10_below_a_pedal_on_a_higher_tier(front_height, short):
    """55 mm on a tier of 40: its top is at 95."""
    found = findings_of(rows(10, 25, front_height=front_height, risers=40), "L33")
    assert [f.subjects for f in found] == [("P2", "P1")] * (short is not None)
    assert all(f"{short} mm less than 10 mm" in f.message for f in found)


def test_on_one_level_or_further_off_than_a_row_gap_nothing_is_asked():
    assert findings_of(rows(10, 25, front_height=86), "L33") == []
    assert len(findings_of(rows(39, 25, front_height=86, risers=40), "L33")) == 1
    assert findings_of(rows(40, 25, front_height=86, risers=40), "L33") == []


def test_heights_that_nobody_recorded_are_named_once():
    plan = rows(4, 20, front_height=None, rear_height=None)
    second = pedal("P3", at=(0, 134), **(PLAIN | {"height": None, "switches": (Point(36, 0),)}))
    plan = board(*plan.pedals, second, frame=plan.frame)
    found = findings_of(plan, "L32", "L33", "L34")
    assert [(f.rule, f.severity, f.subjects) for f in found] == [("L34", "unknown", ("P2", "P1", "P3"))]


def test_a_treadle_in_either_row_has_rules_of_its_own():
    plan = rows(4, 20)
    front, rear = plan.pedals
    for treadles in ((True, False), (False, True)):
        pair = [replace(one, treadle=t) for one, t in zip((front, rear), treadles, strict=True)]
        assert findings_of(board(*pair, frame=plan.frame), "L32") == []


def test_a_turned_pedal_is_judged_where_its_switch_is_then():
    """Turned by 180 the switch at 20 of 130 is at 110."""
    plan = rows(0, 20)
    turned = pedal("P2", **(PLAIN | {"switches": (Point(36, 20),), "place": Place(0, 130, 180)}))
    assert len(findings_of(plan, "L32")) == 1
    assert findings_of(board(plan.pedals[0], turned, frame=plan.frame), "L32") == []
