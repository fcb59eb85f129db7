"""Signal kept apart from mains, AC and DC leads and from switching supplies: each rule at its limits.

The distances are common practice: beside mains or AC 100 mm, crossing 25 mm, beside DC 20 mm, a switching
supply 50 mm from what picks it up.
"""

from dataclasses import replace

import pytest

from boardshop.core.cables.lead_runs import list_lead_runs
from boardshop.core.plan import BoardPlan, Jack, Supply, SupplyPlace
from tests.core.builders import board, chain, feed, frame, guitar, link, outlet, pedal, supply
from tests.core.cable_boards import findings_of

SIDES = (Jack("IN", "in", "left", 65), Jack("OUT", "out", "right", 65))


def row(*others: object, carries: str = "signal", **values: object) -> BoardPlan:
    """W1 from P1 at the left to P2 at the right along y 165, on top of a frame 800 x 700."""
    ends = [
        pedal("P1", at=(20, 100), jacks=SIDES, switches=()),
        pedal("P2", at=(707, 100), jacks=SIDES, switches=()),
    ]
    wires = (link("W1", "P1.OUT", "P2.IN", carries=carries),)
    return board(*ends, *others, links=wires, **({"frame": frame(800, 700)} | values))


def brick(x: int, y: int, **values: object) -> Supply:
    """A supply on top, 100 wide and 40 deep, mains on its left, outlets in front."""
    usual = {"width": 100, "depth": 40, "place": SupplyPlace(x, y), "inlet_side": "left"}
    return supply(**(usual | {"outlet_side": "front", "conversion": "linear"} | values))


def said(plan: BoardPlan, rule: str) -> list[tuple[str, tuple[str, ...]]]:
    return [(f.severity, f.subjects) for f in findings_of(plan, rule)]


@pytest.mark.parametrize(("y", "found"), [(245, False), (244, True), (170, True)])
def test_signal_beside_mains(y: int, found: bool) -> None:
    """The mains lead leaves 20 mm behind the supply's front edge, to the left edge of the frame."""
    plan = row(supplies=[brick(200, y)])
    assert said(plan, "C14") == ([("caution", ("W1", "S1"))] if found else [])
    assert all("taken as the shortest" in f.message for f in findings_of(plan, "C14"))


@pytest.mark.parametrize(("x", "found"), [(156, False), (157, True)])
def test_a_short_stretch_beside_mains_is_passing_by(x: int, found: bool) -> None:
    """The run begins at x 107, 75 mm in front of the lead; so 49 or 50 mm of both lie side by side."""
    assert bool(said(row(supplies=[brick(x, 220)]), "C14")) == found


@pytest.mark.parametrize(("y", "found"), [(190, False), (189, True)])
def test_mains_that_comes_no_nearer_than_25_mm(y: int, found: bool) -> None:
    """It begins so far behind the run, and leads away from it to the rear edge."""
    narrow = brick(350, y, width=2, depth=2, inlet_side="front", place=SupplyPlace(350, y, 180))
    plan = row(supplies=[narrow], frame=frame(800, 260))
    assert list_lead_runs(plan)[-1].points[0] == (351, y + 2)
    moved = replace(plan, supplies=(replace(narrow, place=SupplyPlace(350, y - 2, 180)),))
    assert said(moved, "C14") == ([("caution", ("W1", "S1"))] if found else [])


def test_signal_across_mains_on_the_same_side() -> None:
    """A supply in front whose mains leaves to the rear edge, across the run."""
    plan = row(supplies=[brick(300, 0, depth=150, inlet_side="rear")], frame=frame(800, 320))
    (found,) = findings_of(plan, "C14")
    assert "meets the mains lead of S1" in found.message
    assert "licensed people" in found.cure


def test_the_other_side_of_the_top_is_not_judged() -> None:
    under = brick(300, 200, place=SupplyPlace(300, 200, under=True))
    assert said(row(supplies=[under]), "C14") == []


def test_control_and_midi_are_no_signal() -> None:
    assert said(row(supplies=[brick(300, 200)], carries="control"), "C14") == []


DC_JACK = (Jack("DC", "power", "left", 60),)


def fed(y: int, **of_outlet: object) -> BoardPlan:
    """P3 at the right rear is fed from a supply at the left, along the depth y."""
    load = pedal("P3", at=(600, y - 60), width=60, depth=80, jacks=DC_JACK, switches=())
    source = brick(150, y - 20, outlet_side="right", inlet_side="rear", outlets=(outlet("1", **of_outlet),))
    return row(load, supplies=[source], feeds=[feed("S1.1", "P3.DC")])


@pytest.mark.parametrize(("y", "found"), [(265, False), (264, True)])
def test_signal_beside_an_ac_lead(y: int, found: bool) -> None:
    plan = fed(y, current="ac")
    assert said(plan, "C15") == ([("caution", ("W1", "P3.DC"))] if found else [])
    assert said(plan, "C16") == []


@pytest.mark.parametrize(("y", "found"), [(265, False), (264, True)])
def test_an_outlet_of_unknown_current_is_asked_for_where_ac_would_matter(y: int, found: bool) -> None:
    assert ("unknown", ("P3.DC",)) in said(fed(y, current=None), "C21") or not found
    assert bool(said(fed(y, current=None), "C21")) == found


@pytest.mark.parametrize(("offset", "found"), [(20, False), (19, True)])
def test_signal_beside_a_dc_lead(offset: int, found: bool) -> None:
    """The lead runs straight from the supply to P3's jack, so far behind the run."""
    load = pedal("P3", at=(500, 165), width=60, depth=80, jacks=(Jack("DC", "power", "left", offset),))
    load = replace(load, switches=())
    source = brick(150, 165 + offset - 20, outlet_side="right", inlet_side="rear")
    source = replace(source, place=SupplyPlace(150, 165 + offset), depth=1, inlet_side=None, mains=None)
    plan = row(load, supplies=[source], feeds=[feed("S1.1", "P3.DC", lead=None)])
    assert list_lead_runs(plan)[0].points == ((250, 165 + offset), (500, 165 + offset))
    assert said(plan, "C16") == ([("advice", ("W1", "P3.DC"))] if found else [])


@pytest.mark.parametrize(("current", "asked"), [("ac", True), (None, True), ("dc", False)])
def test_the_side_of_outlets_is_asked_for_where_an_ac_lead_might_come_near(
    current: str | None, asked: bool
) -> None:
    plan = fed(200, current=current)
    bare = replace(plan, supplies=(replace(plan.supplies[0], outlet_side=None),))
    assert said(bare, "C21") == ([("unknown", ("S1",))] if asked else [])
    far = fed(560, current=current)
    assert said(replace(far, supplies=(replace(far.supplies[0], outlet_side=None),)), "C21") == []


def test_a_supply_without_a_known_outlet_side_has_no_leads() -> None:
    plan = fed(200, current="ac")
    nowhere = replace(plan, supplies=(replace(plan.supplies[0], outlet_side=None),))
    assert [lead.kind for lead in list_lead_runs(nowhere)] == ["mains"]


@pytest.mark.parametrize(("y", "found"), [(300, True), (20, False)])
def test_an_inlet_is_asked_for_only_where_some_side_would_matter(y: int, found: bool) -> None:
    far = brick(350, y, depth=15, width=15, inlet_side=None, place=SupplyPlace(350, y, under=not found))
    assert bool(said(row(supplies=[far]), "C21")) == found


def wah(x: int, kind: str = "wah") -> BoardPlan:
    """A pedal of that kind, so far from the right edge of the supply, and no cable at all."""
    stand = pedal("P1", kind, at=(200 + x, 100), switches=())
    return board(stand, supplies=[brick(100, 100, conversion="switch-mode")])


@pytest.mark.parametrize(
    ("kind", "apart", "found"),
    [("wah", 50, False), ("wah", 49, True), ("fuzz", 49, True), ("chorus", 0, False)],
)
def test_a_switching_supply_near_what_picks_it_up(kind: str, apart: int, found: bool) -> None:
    assert said(wah(apart, kind), "C17") == ([("caution", ("P1", "S1"))] if found else [])


def test_a_linear_supply_is_the_layouts_matter_and_an_unknown_one_is_asked_for() -> None:
    near = wah(10)
    linear = replace(near, supplies=(replace(near.supplies[0], conversion="linear"),))
    unknown = replace(near, supplies=(replace(near.supplies[0], conversion=None),))
    assert said(linear, "C17") == said(linear, "C21") == []
    assert said(unknown, "C21") == [("unknown", ("S1",))]


def test_the_patches_up_to_the_third_pedal_are_said_together() -> None:
    """Five pedals in a row from right to left, and a switching supply behind all of them."""
    stands = [pedal(f"P{n}", at=(700 - 120 * n, 20), switches=()) for n in range(1, 6)]
    behind = brick(50, 150, width=600, conversion="switch-mode")
    wires = chain("P1", "P2", "P3", "P4", "P5")
    plan = board(*stands, links=wires, supplies=[behind], sources=[guitar()], frame=frame(800, 320))
    wired = replace(plan, links=(link("W9", "G1.OUT", "P1.IN", length=3000), *wires))
    assert said(wired, "C17") == [("caution", ("W1", "W2", "S1"))]
