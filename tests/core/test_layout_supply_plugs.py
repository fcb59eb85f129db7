"""Room for plugs at supplies under the frame, just kept and just broken; basis: common practice."""

from dataclasses import replace

import pytest

from boardshop.core.plan import Mains, SupplyPlace, Under
from tests.core.builders import board, frame, supply, under_frame
from tests.core.layout_boards import findings_of

HIGH = frame(under=Under(80, 80))
"""600 x 320."""


def unit(ref="S1", x=200, y=100, turn=0, outlets="front", inlet="left", **overrides):
    """160 x 90, its mains inlet a C8."""
    return under_frame(supply(ref, outlet_side=outlets, inlet_side=inlet, **overrides), x, y, turn)


def found_on(*units, rules=("L41", "L42", "L43")):
    return findings_of(board(frame=HIGH, supplies=units), *rules)


@pytest.mark.parametrize(
    ("side", "at", "short"),
    [("front", (200, 15), None), ("front", (200, 14), 1), ("rear", (200, 215), None), ("rear", (200, 216), 1),
     ("left", (15, 100), None), ("left", (14, 100), 1),
     ("right", (425, 100), None), ("right", (426, 100), 1)],
)  # fmt: skip
def test_dc_plugs_have_15_mm_to_the_edge(side, at, short):
    found = found_on(unit(x=at[0], y=at[1], outlets=side), rules=("L41",))
    assert [(f.severity, f.subjects) for f in found] == [("caution", ("S1",))] * (short is not None)
    assert all("there are 14 mm to the frame's edge, 1 mm short" in f.message for f in found)


def test_the_side_turns_with_the_supply():
    """Turned by 90 the front looks to the right: from x 200 + 90 on."""
    assert found_on(unit(x=495, y=0, turn=90), rules=("L41",)) == []
    assert len(found_on(unit(x=496, y=0, turn=90), rules=("L41",))) == 1


@pytest.mark.parametrize(("x", "short"), [(375, None), (374, 1), (361, 14)])
def test_dc_plugs_have_15_mm_to_another_supply(x, short):
    """S1 from 200 to 360."""
    found = found_on(unit(outlets="right"), unit("S2", x=x, inlet="rear"), rules=("L41",))
    assert [f.subjects for f in found] == [("S1", "S2")] * (short is not None)
    assert all(f"{short} mm too near for the 15 mm" in f.message for f in found)


@pytest.mark.parametrize(
    ("inlet", "room"), [("C14", 60), ("C6", 50), ("C8", 45), ("captive", 25), (None, 60)]
)
def test_a_mains_plug_goes_in_beside_another_supply(inlet, room):
    mains = Mains(90_000, 264_000, (50,), inlet)
    first = unit(x=0, inlet="right", mains=mains)
    for short in (0, 1):
        found = found_on(first, unit("S2", x=160 + room - short, inlet="rear"), rules=("L42",))
        assert [(f.severity, f.subjects) for f in found] == [("caution", ("S1", "S2"))] * short
        assert all(f"1 mm too near for the {room} mm" in f.message for f in found)


def test_a_mains_plug_may_stand_out_at_the_frames_edge():
    assert found_on(unit(x=0, inlet="left")) == []


def test_what_is_on_the_frame_or_sticks_out_of_it_is_not_judged_here():
    on_top = replace(unit(x=0), place=SupplyPlace(0, 0))
    assert found_on(on_top) == []
    assert found_on(unit(x=-5, outlets="left"), rules=("L41",)) == []


def test_a_side_is_asked_for_once_and_only_where_it_matters():
    blind = {"outlets": None, "inlet": None}
    assert found_on(unit(**blind)) == []
    (finding,) = found_on(unit(y=14, **blind))
    assert (finding.rule, finding.severity, finding.subjects) == ("L43", "unknown", ("S1",))
    assert "the side of the outlets of S1 is not recorded" in finding.message
    (finding,) = found_on(unit(**blind), unit("S2", x=370, **blind))
    assert finding.subjects == ("S1", "S2")
    assert "the outlets of S1 and S2 and the mains inlet of S1 and S2" in finding.message


def test_without_outlets_or_mains_nothing_is_asked():
    assert found_on(replace(unit(y=0, outlets=None, inlet=None), outlets=(), mains=None)) == []


@pytest.mark.parametrize(("height", "rule"), [(70, None), (71, "L44"), (77, "L44"), (78, "L15")])
def test_vents_want_10_mm_of_air_where_it_fits_at_all(height, rule):
    """80 mm under the frame, 3 of them needed."""
    found = findings_of(board(frame=HIGH, supplies=[unit(height=height)]), "L15", "L44")
    assert [f.rule for f in found] == [rule] * (rule is not None)


def test_air_is_counted_at_the_lower_edge():
    """50 at the front, 82 at the rear: 60 over the front edge at y 100, 58.9 at y 89."""
    sloping = frame(under=Under(50, 82))
    for y, told in ((100, False), (89, True)):
        found = findings_of(board(frame=sloping, supplies=[unit(y=y, height=50)]), "L44")
        assert [f.severity for f in found] == ["advice"] * told
        assert all("1.1 mm less than the 10 mm" in f.message for f in found)
