"""Runs and crossings under a foot, and runs that share a way, at their limits."""

from dataclasses import replace

import pytest

from boardshop.core.cables.crossings import list_crossings
from boardshop.core.cables.foot_paths import list_foot_paths
from boardshop.core.layout.geometry import Box
from boardshop.core.plan import BoardPlan, Jack, Point
from tests.core.builders import board, frame, link, pedal
from tests.core.cable_boards import findings_of

SLOTTED = frame(surface="slotted")


def side_jacks(offset: int) -> tuple[Jack, ...]:
    return (Jack("IN", "in", "left", offset), Jack("OUT", "out", "right", offset))


def row(**values: object) -> BoardPlan:
    """P1 at the left into P2 at the right along y 100, P3 between them at the rear, its switch at x 300."""
    ends = [
        pedal("P1", at=(20, 35), jacks=side_jacks(65), switches=()),
        pedal("P2", at=(507, 35), jacks=side_jacks(65), switches=()),
    ]
    between = pedal("P3", at=(264, 150), jacks=(), switches=(Point(36, 25),))
    return board(*ends, between, links=(link("W1", "P1.OUT", "P2.IN"),), **({"frame": SLOTTED} | values))


def test_a_foot_comes_as_wide_as_a_shoe_from_the_front_edge_to_the_switch() -> None:
    (path,) = list_foot_paths(row())
    assert (path.ref, path.box) == ("P3", Box(245, 0, 355, 175))


@pytest.mark.parametrize(("x", "front"), [(172, 0), (173, 130), (354, 130), (355, 0)])
def test_it_passes_over_a_body_in_front(x: int, front: int) -> None:
    """A body 73 wide and 130 deep at the front edge, beside the shoe and just in its way."""
    before = pedal("P4", at=(x, 0), jacks=(), switches=())
    plan = replace(row(), pedals=(*row().pedals, before))
    assert [path.box.y0 for path in list_foot_paths(plan) if path.ref == "P3"] == [front]


def test_a_switch_at_the_front_edge_has_no_path() -> None:
    assert list_foot_paths(board(pedal("P1", at=(0, 0), switches=(Point(5, 0),)))) == ()


@pytest.mark.parametrize(("behind", "found"), [(0, False), (1, True), (25, True)])
def test_a_run_under_a_foot_is_advice(behind: int, found: bool) -> None:
    """The run lies at y 100, where P3 begins; its switch so far behind that."""
    plan = row()
    near = pedal("P3", at=(264, 100), jacks=(), switches=(Point(36, behind),))
    advice = findings_of(replace(plan, pedals=(*plan.pedals[:2], near)), "C13")
    assert [(f.severity, f.subjects) for f in advice] == ([("advice", ("W1", "P3"))] if found else [])


def test_a_run_that_leads_the_way_the_foot_goes_is_not_caught() -> None:
    """W1 from front to rear, 40 mm beside the middle of the foot's way, and 10 mm across it at its end."""
    front = pedal("P4", at=(304, 0), depth=30, jacks=(Jack("OUT", "out", "rear", 36),), switches=())
    stepped = pedal("P3", at=(264, 120), width=40, depth=20, jacks=(), switches=(Point(36, 10),))

    def said(x: int) -> int:
        rear = pedal("P5", at=(x - 36, 200), depth=60, jacks=(Jack("IN", "in", "front", 36),), switches=())
        wires = (link("W1", "P4.OUT", "P5.IN"),)
        return len(findings_of(board(front, rear, stepped, links=wires, frame=SLOTTED), "C13"))

    assert [said(340), said(330)] == [0, 1]


def test_a_run_under_the_frame_is_under_no_foot() -> None:
    assert findings_of(replace(row(), links=(link("W1", "P1.OUT", "P2.IN", route="under"),)), "C13") == []


@pytest.mark.parametrize(("switch_x", "found"), [(145, False), (146, True), (254, True), (255, False)])
def test_a_crossing_under_a_foot_is_a_caution(switch_x: int, found: bool) -> None:
    """W2 crosses W1 at (200, 100); a foot comes 55 mm to each side of P6's switch, which lies behind that."""
    front = pedal("P4", at=(164, 0), depth=30, jacks=(Jack("OUT", "out", "rear", 36),), switches=())
    rear = pedal("P5", at=(164, 200), depth=60, jacks=(Jack("IN", "in", "front", 36),), switches=())
    stepped = pedal("P6", at=(switch_x, 150), width=20, depth=20, jacks=(), switches=(Point(0, 0),))
    plan = row()
    wires = (*plan.links, link("W2", "P4.OUT", "P5.IN"))
    plan = replace(plan, pedals=(*plan.pedals[:2], front, rear, stepped), links=wires)
    assert [crossing.at for crossing in list_crossings(plan)] == [(200, 100)]
    cautions = findings_of(plan, "C12")
    assert [(f.severity, f.subjects) for f in cautions] == ([("caution", ("W1", "W2"))] if found else [])


def shared(runs: int, frame_kind: str = "slotted") -> BoardPlan:
    """So many cables from P1 to P2 beside one another, all along one way."""
    outs = tuple(Jack(f"OUT{n}", "out", "right", 65) for n in range(runs))
    ins = tuple(Jack(f"IN{n}", "in", "left", 65) for n in range(runs))
    stands = (
        pedal("P1", at=(20, 35), jacks=outs, switches=()),
        pedal("P2", at=(507, 35), jacks=ins, switches=()),
    )
    wires = tuple(link(f"W{n}", f"P1.OUT{n}", f"P2.IN{n}") for n in range(runs))
    return board(*stands, links=wires, frame=frame(surface=frame_kind))


@pytest.mark.parametrize(
    ("runs", "found"), [(2, []), (3, [("W0", "W1", "W2")]), (4, [("W0", "W1", "W2", "W3")])]
)
def test_three_runs_on_one_way_are_one_piece_of_advice(runs: int, found: list) -> None:
    advice = findings_of(shared(runs), "C18")
    assert [f.subjects for f in advice] == found
    assert all(f.severity == "advice" for f in advice)


def test_there_is_no_way_under_a_closed_top_to_advise() -> None:
    assert findings_of(shared(4, "flat"), "C18") == []


@pytest.mark.parametrize(("apart", "found"), [(49, 0), (50, 1)])
def test_a_short_stretch_is_not_shared(apart: int, found: int) -> None:
    plan = shared(3)
    second = replace(plan.pedals[1], place=replace(plan.pedals[1].place, x=93 + 28 + apart))
    assert len(findings_of(replace(plan, pedals=(plan.pedals[0], second)), "C18")) == found
