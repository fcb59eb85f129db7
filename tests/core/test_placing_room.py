"""Room for one more pedal: nobody moves who need not, and nothing is lost where there is none."""

from dataclasses import replace

import pytest

from boardshop.core.layout import compute_layout
from boardshop.core.placing import Wishes
from boardshop.core.placing.room import make_room
from boardshop.core.plan import Place
from tests.core.builders import board, frame, pedal

PLAIN = {"jacks": (), "switches": (), "power": ()}
ONE_SECOND = Wishes(seconds=1)


def row(*xs, width, depth=130):
    """Bodies 73 wide at these x on one row, and P9, which has no place yet."""
    others = [pedal(f"P{n}", at=(x, 0), **PLAIN) for n, x in enumerate(xs, 1)]
    return board(*others, pedal("P9", **PLAIN), frame=frame(width, depth))


def moved(plan, placing):
    before = {one.ref: one.place for one in plan.pedals}
    return [ref for ref, place in placing.places if before[ref] is not None and before[ref] != place]


def faults_of(plan, placing):
    places = dict(placing.places)
    pedals = tuple(replace(one, place=places[one.ref]) for one in plan.pedals)
    return [f for f in compute_layout(replace(plan, pedals=pedals)).findings if f.severity == "fault"]


def test_nobody_moves_where_there_is_room():
    plan = row(0, 77, width=240)
    found = make_room(plan, "P9", ONE_SECOND)
    assert (moved(plan, found), found.left_out, faults_of(plan, found)) == ([], (), [])


def test_one_moves_where_one_is_enough():
    """310 mm hold four bodies of 73 and three gaps of 4 exactly once P2 stands close to P1 or P3.

    [P1][ 40 ][P2][ 32 ][P3]      40 + 32 = 73 - 1: with the gaps the bodies leave 77 between them
    """
    plan = row(0, 113, 231, width=304)
    found = make_room(plan, "p9", ONE_SECOND)
    assert (moved(plan, found), found.left_out, faults_of(plan, found)) == (["P2"], (), [])


def test_those_that_stay_do_not_move():
    plan = row(0, 113, 231, width=304)
    found = make_room(plan, "P9", replace(ONE_SECOND, staying=("P2",)))
    assert found.left_out == ("P9",)
    assert "not found in this time" in found.why
    assert dict(found.places)["P2"] == Place(113, 0)


def test_where_there_is_no_room_all_stay_as_they_are():
    plan = row(0, 77, width=160)
    found = make_room(plan, "P9", ONE_SECOND)
    assert (moved(plan, found), found.left_out) == ([], ("P9",))
    assert found.why


def test_others_without_a_place_stay_without():
    plan = row(0, width=320)
    plan = replace(plan, pedals=(*plan.pedals, pedal("P8", **PLAIN)))
    found = make_room(plan, "P9", ONE_SECOND)
    assert found.left_out == ("P8",)


def test_a_pedal_that_the_plan_does_not_have():
    with pytest.raises(KeyError):
        make_room(row(0, width=240), "P7", ONE_SECOND)


def test_those_that_clash_as_they_stand_are_not_taken_off():
    """P1 and P2 overlap; there is room for P9 beside them, and nobody is to move."""
    plan = row(0, 50, width=240)
    found = make_room(plan, "P9", ONE_SECOND)
    assert (moved(plan, found), found.left_out) == ([], ())


def test_those_that_clash_are_parted_where_others_must_move():
    plan = row(0, 50, 160, width=304)
    found = make_room(plan, "P9", ONE_SECOND)
    assert (found.left_out, faults_of(plan, found)) == ((), [])
