"""How wide a row is; basis: a worked example of the trade, recomputed by hand here, and the findings."""

from dataclasses import replace

import pytest

from boardshop.core.layout.row_width import RowBody, SidePlug, measure_rows, row_width
from boardshop.core.plan import Jack, Place, Rules
from tests.core.builders import board, chain, frame, link, pedal, plug_type
from tests.core.layout_boards import findings_of

TRADE = Rules(gap_mm=4, plug_gap_mm=2)


def side(width, stick, at=80):
    plug = (SidePlug(stick, at),)
    return RowBody(width, plug, plug)


def example(stick, drive_b=73, fuzz_at=80):
    """Tuner 73, fuzz 120, drive 60 with its jacks at the top, drive 73, wah 100: 426 of bodies."""
    return [
        side(73, stick), side(120, stick, fuzz_at), RowBody(60), side(drive_b, stick), side(100, stick),
    ]  # fmt: skip


def test_the_worked_example_of_a_row():
    """15 + 28 + 15 + 15 + 28 + 15 = 116 beside 426 of bodies."""
    assert row_width(example(13), TRADE) == 426 + 116 == 542


def test_straight_plugs_make_it_1038():
    """75 with their bend: 77 + 152 + 77 + 77 + 152 + 77 = 612."""
    assert row_width(example(75), TRADE) == 426 + 612 == 1038


def test_a_drive_of_94_makes_it_563_and_an_offset_550():
    assert row_width(example(13, drive_b=94), TRADE) == 563
    assert row_width(example(13, drive_b=94, fuzz_at=105), TRADE) == 550
    assert row_width(example(13, drive_b=94, fuzz_at=104), TRADE) == 563


@pytest.mark.parametrize(
    ("right", "left", "gap"),
    [((), (), 4), ((13,), (), 15), ((), (1,), 4), ((13,), (20,), 35)],
)
def test_the_gap_between_two_bodies(right, left, gap):
    one = RowBody(50, (), tuple(SidePlug(reach, 40) for reach in right))
    other = RowBody(50, tuple(SidePlug(reach, 40) for reach in left), ())
    assert row_width([one, other], TRADE) == 100 + gap


def test_plugs_of_known_width_pass_each_other_as_the_findings_have_it():
    """Two of 22 need 11 + 11 + 2 between their centres."""
    plugs = [SidePlug(14, at, 22) for at in (80, 103, 104)]
    for number, gap in ((1, 30), (2, 16)):
        pair = [RowBody(50, (), (plugs[0],)), RowBody(50, (plugs[number],), ())]
        assert row_width(pair, TRADE) == 100 + gap


def test_jacks_15_mm_apart_in_height_pass_each_other():
    low, high = (Jack("IN", "in", "left", 80, height) for height in (20, 35))
    pair = [RowBody(50, (), (SidePlug(14, 80, 22, low),)), RowBody(50, (SidePlug(14, 80, 22, high),), ())]
    assert row_width(pair, TRADE) == 100 + 16


def test_no_body_has_no_width():
    assert row_width([], TRADE) == 0


def worked_board(width, drive_b=73):
    """The example as a board: each body where the row's width puts it, flat plugs of 13 x 22."""
    plug, x, pedals = plug_type("J1", reach=13), 15, []
    for n, (wide, gap) in enumerate(((73, 28), (120, 15), (60, 15), (drive_b, 28), (100, 0)), start=1):
        ends = ("rear", "rear") if n == 3 else ("right", "left")
        offsets = (45, 15) if n == 3 else (80, 80)
        jacks = tuple(Jack(*one) for one in zip(("IN", "OUT"), ("in", "out"), ends, offsets, strict=True))
        pedals.append(pedal(f"P{n}", at=(x, 0), width=wide, jacks=jacks, power=(), switches=()))
        x += wide + gap
    wires = chain("G1", *(p.ref for p in reversed(pedals)), "A1")
    return board(*pedals, links=wires, plugs=[plug], frame=frame(width, lid=None))


def test_the_worked_example_as_a_board():
    (row,) = measure_rows(worked_board(560))
    assert (row.needed_mm, row.spare_mm) == (542, 18)
    assert findings_of(worked_board(542), "L01", "L03", "L05", "L07", "L08") == []
    assert [f.rule for f in findings_of(worked_board(541), "L01", "L03", "L05", "L07", "L08")] == ["L08"]
    (row,) = measure_rows(worked_board(560, drive_b=94))
    assert (row.needed_mm, row.spare_mm) == (563, -3)


def plan_of(xs, width, **overrides):
    """Three pedals of 73 in a row, wired with flat plugs of 14 x 22, right to left."""
    pedals = [pedal(f"P{n}", at=(x, 0), power=(), **overrides) for n, x in enumerate(xs, start=1)]
    wires = chain("G1", *(p.ref for p in reversed(pedals)), "A1")
    return board(*pedals, links=wires, frame=frame(width, lid=None))


def test_a_row_of_a_board_is_as_wide_as_the_findings_allow():
    """16 + 73 + 30 + 73 + 30 + 73 + 16 = 311: placed so, no plug is short; a millimetre less, one is."""
    (row,) = measure_rows(plan_of((16, 119, 222), 311))
    assert (row.name, row.refs) == ("F", ("P1", "P2", "P3"))
    assert (row.needed_mm, row.room_mm, row.spare_mm) == (311, 311, 0)
    assert findings_of(plan_of((16, 119, 222), 311), "L05", "L07", "L08") == []
    for nearer in ((15, 119, 222), (16, 118, 222), (16, 119, 223)):
        assert findings_of(plan_of(nearer, 311), "L05", "L07", "L08") != []
    assert measure_rows(plan_of((16, 119, 222), 308))[0].spare_mm == -3


def test_a_turned_pedal_has_its_jacks_at_its_ends():
    """Turned by 90 the side jacks look to the front and the rear: nothing is beside it."""
    plan = plan_of((16, 119, 222), 400)
    turned = [replace(one, place=Place(one.place.x, 0, 90)) for one in plan.pedals]
    assert measure_rows(replace(plan, pedals=tuple(turned)))[0].needed_mm == 3 * 130 + 2 * 4


def test_what_is_not_known_is_named_and_no_width_is_guessed():
    plan = board(
        pedal("P1", at=(0, 0), power=()),
        pedal("P2", at=(200, 0), power=(), jacks=(Jack("IN", "in"), Jack("OUT", "out", "rear", 9))),
        links=[link("W1", "P1.OUT", "P2.IN", plug_from="J2"), link("W2", "P2.OUT", "A1.IN", plug_from=None)],
        plugs=[plug_type("J1"), plug_type("J2", reach=None)],
    )
    (row,) = measure_rows(plan)
    assert (row.needed_mm, row.spare_mm, row.lacks) == (None, None, ("P1.OUT", "P2.IN"))
