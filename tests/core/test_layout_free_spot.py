"""The first free spot, against a search that tries every whole millimetre and asks the layout's own rules."""

from copy import deepcopy
from dataclasses import replace
from random import Random

import pytest

from boardshop.core.layout import compute_layout
from boardshop.core.layout.free_spot import find_pedal_spot, find_supply_spot
from boardshop.core.plan import (
    BoardPlan,
    Jack,
    Keepout,
    Member,
    Pedal,
    Place,
    PlugType,
    Point,
    Rail,
    Rules,
    SupplyPlace,
    Tier,
    Under,
)
from tests.core import builders as b
from tests.core.layout_boards import PLAIN


def laid(plan: BoardPlan, ref: str, place: Place) -> BoardPlan:
    return replace(plan, pedals=tuple(replace(p, place=place) if p.ref == ref else p for p in plan.pedals))


def faults(plan: BoardPlan) -> set[tuple[str, tuple[str, ...]]]:
    return {(f.rule, f.subjects) for f in compute_layout(plan).findings if f.severity == "fault"}


def room(wide: int, deep: int = 130, **pedal: object) -> BoardPlan:
    """P1, 73 x 130, at the left edge, and P2, as large, in the tray."""
    bodies = b.pedal("P1", at=(0, 0), **PLAIN), b.pedal("P2", **(PLAIN | pedal))
    return b.board(*bodies, frame=b.frame(wide, deep), rules=Rules(gap_mm=4))


@pytest.mark.parametrize(("width", "spot"), [(149, None), (150, Place(77, 0)), (151, Place(77, 0))])
def test_a_body_needs_its_width_and_the_gap(width: int, spot: Place | None) -> None:
    assert find_pedal_spot(room(width), "P2") == spot


def test_an_allowed_turn_is_taken_where_it_does_not_fit_as_it_is() -> None:
    plan = room(210, width=130, depth=73, turns=(0, 90))
    assert find_pedal_spot(plan, "P2") == Place(77, 57)
    lower = replace(plan, frame=b.frame(150, 130))
    assert find_pedal_spot(lower, "P2") == Place(77, 0, 90)


def test_what_is_stepped_on_goes_to_the_front_and_the_rest_to_the_rear() -> None:
    assert find_pedal_spot(room(400, 320, use=3), "P2") == Place(77, 0)
    assert find_pedal_spot(room(400, 320, use=0), "P2") == Place(0, 190)


def test_the_plug_of_a_used_jack_keeps_its_distance_from_body_and_edge() -> None:
    """P1's OUT is on its left, P2's IN on its right: 14 mm of plug and 2 mm to the edge, to P1, to a plug."""
    pedals = b.pedal("P1", at=(400, 20), switches=()), b.pedal("P2", switches=(), use=1)
    plan = b.wired_board(*pedals, rules=Rules(plug_gap_mm=2))
    spot = find_pedal_spot(plan, "P2")
    assert spot == Place(16, 0)
    assert faults(laid(plan, "P2", spot)) == set()


def test_an_equal_plan_gets_the_same_spot() -> None:
    """What is kept of a plan that was looked at before may hold other objects of the same content."""
    pedals = b.pedal("P1", at=(400, 20), switches=()), b.pedal("P2", switches=(), use=1)
    plans = [b.wired_board(*deepcopy(pedals), rules=Rules(plug_gap_mm=2)) for _ in range(2)]
    assert [find_pedal_spot(plan, "P2") for plan in plans] == [Place(16, 0)] * 2


def test_a_treadle_lies_at_the_front_or_nowhere() -> None:
    plan = room(150, 320, treadle=True, kind="wah")
    assert find_pedal_spot(plan, "P2") == Place(77, 0)
    kept = replace(plan, frame=replace(plan.frame, keepouts=(Keepout(77, 0, 73, 15, "handle"),)))
    assert find_pedal_spot(kept, "P2") is None


def test_a_pedal_higher_than_the_lid_over_the_rear_tier_goes_to_the_front_one() -> None:
    plan = room(400, 320, height=70)
    frame = b.frame(400, 320, tiers=(Tier(0, 150, 0), Tier(150, 320, 40)), lid=100)
    assert find_pedal_spot(replace(plan, frame=frame), "P2") == Place(77, 20)


def test_two_rails_are_looked_for_first() -> None:
    """A rear edge at 250 bears 10 mm on the second rail; at 265 both carry 25 mm or more."""
    plan = room(400, 330)
    frame = b.frame(400, 330, surface="slotted", rails=(Rail(100, 180), Rail(240, 290)))
    spot = find_pedal_spot(replace(plan, frame=frame), "P2")
    assert spot is not None
    assert not [
        f
        for f in compute_layout(laid(replace(plan, frame=frame), "P2", spot)).findings
        if (f.rule, f.subjects) == ("L17", ("P2",))
    ]


def test_switches_keep_the_full_distance_where_they_can() -> None:
    rules = Rules(gap_mm=4, switch_gap_mm=90, switch_min_mm=60)
    plan = replace(room(400, switches=(Point(36, 25),)), rules=rules)
    pedals = replace(plan.pedals[0], switches=(Point(36, 25),)), plan.pedals[1]
    assert find_pedal_spot(replace(plan, pedals=pedals), "P2") == Place(90, 0)
    narrow = replace(plan, pedals=pedals, frame=b.frame(155, 130))
    assert find_pedal_spot(narrow, "P2") == Place(77, 0)


def test_a_supply_goes_to_where_there_is_height_under_the_frame() -> None:
    """36 mm and 3 of air fit from y = 102.2 on where the frame rises from 20 to 79.5 over 320; rear first."""
    frame = b.frame(600, 320, under=Under(20, 79.5))
    plan = b.board(frame=frame, supplies=(b.supply("S1", height=36),))
    spot = find_supply_spot(plan, "S1")
    assert spot == SupplyPlace(0, 230, 0, under=True)
    barred = replace(plan, frame=replace(frame, members=(Member(0, 300, 600, 20, "leg"),)))
    assert find_supply_spot(barred, "S1") == SupplyPlace(0, 210, 0, under=True)
    low = replace(plan, frame=replace(frame, under=Under(20, 30)))
    assert find_supply_spot(low, "S1") == SupplyPlace(0, 230, 0, under=False)


def test_a_supply_that_nobody_measured_is_not_placed() -> None:
    assert find_supply_spot(b.board(supplies=(b.supply("S1", width=None),)), "S1") is None


def random_board(seed: int) -> BoardPlan:
    """Small enough to try every millimetre of it."""
    random = Random(seed)
    pedals = []
    for number in range(1, 4):
        width, depth = random.randint(8, 16), random.randint(8, 20)
        at = None if number == 3 else (random.randint(0, 44), random.randint(0, 30))
        jacks = (
            Jack(
                "IN",
                "in",
                random.choice(("right", "rear", "front")),
                random.randint(0, 8),
                random.choice((None, 10, 30)),
            ),
            Jack(
                "OUT",
                "out",
                random.choice(("left", "rear")),
                random.randint(0, 8),
                random.choice((None, 10, 30)),
            ),
        )
        values = {
            "width": width,
            "depth": depth,
            "jacks": jacks,
            "switches": (Point(4, 4),),
            "use": random.randint(0, 1),
        }
        treadle = random.random() < 0.25
        pedals.append(
            b.pedal(f"P{number}", at=at, treadle=treadle, turns=random.choice(((0,), (0, 90))), **values)
        )
    rules = Rules(
        gap_mm=random.randint(0, 3), plug_gap_mm=random.randint(0, 2), switch_gap_mm=6, switch_min_mm=6
    )
    plugs = (PlugType("J1", "6.35 TS", reach=4, width=5, inside=2), b.dc_plug_type())
    frame = b.frame(
        60, 50, lid=None, keepouts=(Keepout(random.randint(0, 40), random.choice((4, 20)), 12, 6, "strap"),)
    )
    return b.wired_board(*pedals, rules=rules, plugs=plugs, frame=frame)


def tries_every_mm(plan: BoardPlan, pedal: Pedal) -> bool:
    before = faults(plan)
    return any(
        faults(laid(plan, pedal.ref, Place(x, y, turn))) <= before
        for turn in pedal.turns
        for x in range(plan.frame.width)
        for y in range(plan.frame.depth)
    )


@pytest.mark.parametrize("seed", range(12))
def test_a_spot_is_found_exactly_where_there_is_one(seed: int) -> None:
    plan = random_board(seed)
    pedal = plan.pedals[2]
    spot = find_pedal_spot(plan, pedal.ref)
    assert (spot is not None) == tries_every_mm(plan, pedal)
    if spot is not None:
        assert faults(laid(plan, pedal.ref, spot)) <= faults(plan)
