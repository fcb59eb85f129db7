"""Levels against no cable and against 500 pF, and the curves that are drawn."""

from dataclasses import replace
from itertools import pairwise

import pytest

from boardshop.core.plan import Pickup, Scene
from boardshop.core.tone.circuit import frequency_response
from boardshop.core.tone.comparing import (
    COMPARED_HZ,
    DRAWN_POINTS,
    REFERENCE_PF,
    TABLE_HZ,
    compare_levels,
    log_frequencies,
    plot_responses,
)
from boardshop.core.tone.states import list_states, pickup_circuit
from tests.core.builders import active_source, amp, cable_type, guitar, pedal
from tests.core.networks import nodal_db
from tests.core.test_tone_circuit import DUAL_COIL, SINGLE_COIL
from tests.core.tone_boards import BYPASSED, lead_of, tone_of, wired

DUAL = guitar(pickup=Pickup(8_000, 4.5, 150), volume_ohm=500_000, tone_ohm=500_000)


def against(plan, state=0):
    return compare_levels(plan.sources[0], list_states(plan)["G1"][state].first)


@pytest.mark.parametrize(
    ("source", "row"), [*((guitar(), row) for row in SINGLE_COIL), *((DUAL, row) for row in DUAL_COIL)]
)
def test_against_500_pf_at_3_and_5_khz(source, row):
    """Reference table of usual pickups (calculation), printed with one decimal."""
    run_pf, _f0, _peak, at_3k, at_5k = row
    found = against(lead_of(run_pf, sources=(source,)))
    assert [one.hz for one in found] == [3000, 5000]
    assert [one.reference_db for one in found] == pytest.approx([at_3k, at_5k], abs=0.0501)


def test_the_worked_example_against_no_cable():
    """Worked example (calculation): 1950 pF, then 670 pF; +0.26 and -11.85, +4.49 and -1.17 dB."""
    for pf, wanted in ((1950, [0.26, -11.85]), (670, [4.49, -1.17])):
        assert [one.no_cable_db for one in against(lead_of(pf))] == pytest.approx(wanted, abs=0.006)


def test_they_are_those_of_an_independent_analysis():
    """A complex nodal analysis of the three networks."""
    circuit = pickup_circuit(guitar(), list_states(wired(*BYPASSED))["G1"][0].first)
    for one in against(wired(*BYPASSED)):
        own, bare, usual = (nodal_db(replace(circuit, run_pf=pf), one.hz) for pf in (1950, 0, 500))
        assert (one.no_cable_db, one.reference_db) == pytest.approx((own - bare, own - usual), abs=5.1e-4)


def test_they_differ_by_hundredths_from_what_the_report_holds_against_100_hz():
    plan = wired(*BYPASSED)
    state = tone_of(plan).all_bypassed
    for one in against(plan):
        key = str(one.hz)
        assert one.no_cable_db == pytest.approx(state.db_at[key] - state.no_cable.db_at[key], abs=0.03)


def test_the_reference_against_itself_is_nothing():
    assert [one.reference_db for one in against(lead_of(REFERENCE_PF))] == [0, 0]
    assert [one.no_cable_db for one in against(lead_of(0))] == [0, 0]


def test_at_3_khz_more_cable_is_first_louder_and_then_softer():
    """Why no single figure is called the loss: the peak moves into the band and out of it."""
    levels = [against(lead_of(pf))[0].reference_db for pf in (300, 700, 1000, 1500, 2000)]
    assert levels[0] < 0 < levels[1] < levels[2]
    assert levels[2] > levels[3] > levels[4]


@pytest.mark.parametrize(
    "lacking",
    [
        {"amps": (amp(input_ohm=None),)},
        {"cables": (cable_type(pf_per_m=None),)},
        {"sources": (guitar(pickup=None),)},
        {"sources": (active_source(),)},
        {"amps": (amp(input_ohm=0),)},
    ],
)
def test_what_cannot_be_computed_is_none_and_draws_no_curve(lacking):
    plan = lead_of(500, **lacking)
    assert against(plan) is None
    assert plot_responses(plan, plan.sources[0]).curves == ()


def test_frequencies_are_spread_evenly_on_a_log_axis():
    frequencies = log_frequencies(DRAWN_POINTS)
    assert (len(frequencies), frequencies[0], frequencies[-1]) == (DRAWN_POINTS, 100, 20_000)
    ratios = [b / a for a, b in pairwise(frequencies)]
    assert ratios == pytest.approx([ratios[0]] * len(ratios))


def test_states_that_load_alike_are_one_curve():
    scenes = (Scene("clean"), Scene("solo", ("P2",)), Scene("dirty", ("P2",)))
    plan = wired(*(pedal(f"P{n}") for n in range(1, 4)), scenes=scenes)
    curves = plot_responses(plan, plan.sources[0]).curves
    assert [(c.kind, [s.name for s in c.states]) for c in curves] == [
        ("state", ["all_bypassed", "as_used", "clean"]),
        ("state", ["solo", "dirty"]),
        ("no cable", []),
        ("reference", []),
    ]
    assert [curve.pf for curve in curves] == [660 + 60 + 40 + 990, 660 + 20 + 20, 0, 500]


def test_curves_and_their_values_are_those_of_the_circuit():
    plan = wired(*BYPASSED)
    plot = plot_responses(plan, plan.sources[0])
    circuit = pickup_circuit(plan.sources[0], list_states(plan)["G1"][0].first)
    own, bare, reference = plot.curves
    assert own.db == frequency_response(circuit, plot.drawn_hz)
    for curve, pf in ((own, 1950), (bare, 0), (reference, 500)):
        exact = frequency_response(replace(circuit, run_pf=pf), TABLE_HZ)
        assert curve.values == pytest.approx(exact, abs=5.1e-4)
    levels = dict(zip(TABLE_HZ, own.values, strict=True))
    assert set(COMPARED_HZ) <= set(TABLE_HZ)
    assert levels[3000] == tone_of(plan).all_bypassed.db_at["3000"]
