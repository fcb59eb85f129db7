"""What disturbs is kept apart, just kept and just broken; basis: common practice."""

from dataclasses import replace

import pytest

from boardshop.core.plan import SupplyPlace
from tests.core.builders import board, frame, pedal, supply
from tests.core.layout_boards import PLAIN, findings_of

WIDE = frame(1200, 400)


def stood(conversion, x, kind="wah", y=0):
    """A pedal from x 0 to 73, y 0 to 130, and a supply on the frame at x."""
    unit = replace(supply(conversion=conversion), place=SupplyPlace(x, y))
    return board(pedal("P1", kind, at=(0, 0), **PLAIN), supplies=[unit], frame=WIDE)


def found_on(*given, **named):
    return findings_of(stood(*given, **named), "L45", "L46", "L47")


@pytest.mark.parametrize(
    ("kind", "conversion", "x", "expected"),
    [
        ("wah", "linear", 273, None), ("wah", "linear", 272, ("L45", "caution")),
        ("wah", "switch-mode", 100, None), ("wah", None, 272, ("L47", "unknown")), ("wah", None, 273, None),
        ("wireless-receiver", "switch-mode", 173, None),
        ("wireless-receiver", "switch-mode", 172, ("L46", "caution")),
        ("wireless-receiver", "linear", 100, None), ("wireless-receiver", None, 172, ("L47", "unknown")),
        ("overdrive", "linear", 80, None), ("overdrive", None, 80, None),
    ],
)  # fmt: skip
def test_each_is_as_far_from_a_supply_as_it_wants(kind, conversion, x, expected):
    found = found_on(conversion, x, kind)
    assert [(f.rule, f.severity) for f in found] == ([expected] if expected else [])


def test_the_millimetres_short_and_both_things_are_named():
    (finding,) = found_on("linear", 172)
    assert finding.subjects == ("P1", "S1")
    assert "P1 is 99 mm from the linear supply S1, 101 mm less than 200 mm" in finding.message


@pytest.mark.parametrize(("y", "told"), [(290, False), (289, True)])
def test_the_distance_is_the_straight_line(y, told):
    """120 across and 160 in depth are 200 (the 3-4-5 triangle)."""
    assert bool(found_on("linear", 193, y=y)) is told


def test_two_receivers_stand_300_apart():
    for x, short in ((373, None), (372, 1)):
        pair = [pedal(ref, "wireless-receiver", at=(at, 0), **PLAIN) for ref, at in (("P1", 0), ("P2", x))]
        found = findings_of(board(*pair, frame=WIDE), "L46")
        assert [f.subjects for f in found] == [("P1", "P2")] * (short is not None)
        assert all("1 mm less than 300 mm" in f.message for f in found)


def test_supplies_whose_kind_is_not_recorded_are_named_once():
    units = [replace(supply(f"S{n}"), place=SupplyPlace(100, 100 * n, under=True)) for n in (1, 2)]
    pedals = [pedal("P1", "wah", at=(0, 0), **PLAIN), pedal("P2", "wah", at=(270, 0), **PLAIN)]
    (finding,) = findings_of(board(*pedals, supplies=units, frame=WIDE), "L47")
    assert finding.subjects == ("S1", "S2")
    assert "S1 and S2 are linear" in finding.message
    assert "P1 and P2 are far enough" in finding.message
