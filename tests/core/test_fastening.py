"""What holds a pedal on its frame; basis: common practice, worked out by hand."""

import pytest

from boardshop.core.fastening import area_for, judge_fastening, list_fastenings
from tests.core.builders import board, frame, pedal


@pytest.mark.parametrize(("weight", "area"), [(250, 25), (450, 44), (1600, 157)])
def test_the_trades_own_figures(weight, area):
    """1 N/cm2 at ten times the weight: 24.5, 44.1 and 156.9 cm2."""
    fastening = judge_fastening(pedal("P1", weight=weight, width=100, depth=255), 2)
    assert fastening.needed_cm2 == area
    assert abs(float(area_for(weight)) - weight * 0.0980665) < 1e-9


def test_half_of_the_base_is_covered_where_the_weight_asks_for_less():
    """73 x 130 are 94.9 cm2."""
    light = judge_fastening(pedal("P1", weight=350), 2)
    assert (light.base_cm2, light.needed_cm2, light.cover_cm2, light.cover_percent) == (95, 34, 47, 50)
    assert (light.does_fit, light.wants_stop) == (True, False)


@pytest.mark.parametrize(
    ("weight", "fits", "stop", "percent"),
    [(509, True, False, 50), (510, True, True, 51), (1019, True, True, 100), (1020, False, True, 101)],
)
def test_more_than_half_wants_a_stop_and_more_than_the_base_does_not_fit(weight, fits, stop, percent):
    """100 cm2 hold 1019.7 g."""
    found = judge_fastening(pedal("P1", weight=weight, width=100, depth=100), 2)
    assert (found.does_fit, found.wants_stop, found.cover_percent) == (fits, stop, percent)


def test_a_treadle_wants_a_stop_whatever_it_weighs():
    assert judge_fastening(pedal("P1", "wah", weight=None, treadle=True), None).wants_stop is True
    assert judge_fastening(pedal("P1", weight=None), None).wants_stop is None


@pytest.mark.parametrize(("screw", "plate", "longest"), [(8, 3, 11), (8, None, None), (None, 3, None)])
def test_a_screw_is_longer_by_the_plate_and_no_more(screw, plate, longest):
    assert judge_fastening(pedal("P1", screw_length=screw), plate).longest_screw_mm == longest


def test_what_is_not_recorded_is_named():
    found = judge_fastening(pedal("P1", weight=None), None)
    assert found.lacks == ("weight", "bottom screws", "thickness of the plate")
    assert (found.needed_cm2, found.cover_cm2, found.cover_percent, found.does_fit) == (None,) * 4


def test_every_pedal_is_listed_placed_or_not():
    plan = board(pedal("P2"), pedal("P1", at=(0, 0), screw_length=8), frame=frame(plate_thickness=2))
    assert [(one.ref, one.longest_screw_mm) for one in list_fastenings(plan)] == [("P2", None), ("P1", 10)]
