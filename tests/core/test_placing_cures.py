"""What would let all fit: each cure is a placing of everything, and without it they do not fit."""

from dataclasses import replace

from boardshop.core.defaults import fill_frame
from boardshop.core.layout import compute_layout
from boardshop.core.placing import Wishes
from boardshop.core.placing.answers import NamedFrame
from boardshop.core.placing.cures import find_cures
from boardshop.core.placing.frames import choose_frames
from boardshop.core.placing.proposal import propose_layout
from tests.core.builders import board, frame, link, pedal, plug_type
from tests.core.test_placing import faults_of

PLAIN = {"jacks": (), "switches": (), "power": ()}
ONE_SECOND = Wishes(seconds=1)
CATALOGUE = [NamedFrame(f"Frame {width}", frame(width, 140)) for width in (400, 150, 250, 300)]


def cures_of(plan, frames=()):
    return {one.kind: one for one in find_cures(plan, propose_layout(plan, ONE_SECOND), frames, ONE_SECOND)}


def test_a_turn_lets_it_fit():
    """200 - 73 - 4 leaves 123 mm beside the first: the second, 130 wide, must stand the other way."""
    plan = board(pedal("P1", **PLAIN), pedal("P2", width=130, depth=73, **PLAIN), frame=frame(200, 135))
    found = cures_of(plan)
    assert found["turn"].subject in ("P1", "P2")
    assert found["leave out"].placing.left_out != ()
    assert "90°" in found["turn"].sentence or "270°" in found["turn"].sentence
    assert found["turn"].placing.left_out == ()


def test_a_flatter_plug_lets_it_fit():
    """Plugs of 50 mm side by side need 52 between bodies of 73, so 198; of 14 mm in line only 30."""
    plan = board(
        pedal("P1", switches=()),
        pedal("P2", switches=()),
        frame=frame(190, 160),
        links=(link("W1", "P1.OUT", "P2.IN", plug_from="J5", plug_to="J5"),),
        plugs=(plug_type("J1"), plug_type("J5", reach=50, width=14)),
    )
    found = cures_of(plan)
    assert found["plug"].subject == "J5"
    flat = replace(plan, links=(link("W1", "P1.OUT", "P2.IN"),))
    assert faults_of(flat, found["plug"].placing) == []


def test_the_smallest_frame_that_holds_all_is_a_cure():
    plan = board(*(pedal(f"P{n}", **PLAIN) for n in (1, 2, 3)), frame=frame(160, 140))
    found = cures_of(plan, CATALOGUE)
    assert found["frame"].subject == "Frame 250"


def test_nothing_is_cured_where_all_fit():
    plan = board(pedal("P1", **PLAIN))
    assert find_cures(plan, propose_layout(plan, ONE_SECOND), CATALOGUE, ONE_SECOND) == ()


def test_the_smallest_frames_come_first_and_each_holds_the_set():
    plan = board(*(pedal(f"P{n}", at=(0, 0), pinned=True, **PLAIN) for n in (1, 2, 3)))
    found = choose_frames(plan, CATALOGUE, ONE_SECOND)
    assert [one.named.name for one in found] == ["Frame 250", "Frame 300", "Frame 400"]
    for one in found:
        places = dict(one.placing.places)
        on_it = replace(
            plan,
            frame=fill_frame(one.named.frame),
            pedals=tuple(replace(p, place=places[p.ref]) for p in plan.pedals),
        )
        assert not [f for f in compute_layout(on_it).findings if f.severity == "fault"]


def test_choosing_frames_ends_when_it_is_stopped():
    plan = board(*(pedal(f"P{n}", **PLAIN) for n in (1, 2)))
    assert len(choose_frames(plan, CATALOGUE, Wishes(seconds=30), lambda progress: False)) <= 1
