"""The pickup's response against published decks and an independent solution of the same network."""

import random

import numpy as np
import pytest

from boardshop.core.tone.circuit import (
    PickupCircuit,
    corner_frequency,
    find_resonance,
    frequency_response,
    ideal_frequency,
    parallel,
)
from tests.core.networks import nodal_db, solve_nodes
from tests.core.tone_boards import dual_coil, random_circuit, single_coil

# T. R. Kuphaldt, Lessons In Electric Circuits, volume II (AC), chapters "Resonance" and "Filters": decks
# and the output printed there, frequency and magnitude with four digits.
LOADED_LOW_PASS = (("R", 1, 2, 500), ("C", 2, 0, 7e-6), ("R", 2, 0, 1000))
LOW_PASS = (("R", 1, 2, 500), ("C", 2, 0, 7e-6))
LOADED_SWEEP = (
    "61.58 0.4948 67.89 0.4725 74.21 0.4511 80.53 0.4309 86.84 0.4118 93.16 0.3938 99.47 0.3770 105.8 0.3613 "
    "112.1 0.3465 118.4 0.3327 124.7 0.3199 131.1 0.3078 137.4 0.2965 143.7 0.2859 150.0 0.2760"
)
LOW_PASS_SWEEP = "40.00 0.7508 45.26 0.7087 45.79 0.7046 50.00 0.6728"
SHUNT_TANK = (("C", 1, 0, 10e-6), ("R", 1, 2, 100), ("L", 2, 0, 0.1))
SHUNT_TANK_MA = (
    "100.0 7.387 115.8 7.007 126.3 6.859 131.6 6.823 136.8 6.813 142.1 6.830 157.9 7.044 200.0 8.616"
)
SERIES_TANK = (("R", 1, 2, 1), ("C", 2, 3, 10e-6), ("R", 2, 3, 100), ("L", 3, 0, 0.1))
SERIES_TANK_MA = "100.0 13.36 136.8 14.50 157.9 14.05 200.0 11.55"
HIGH_PASS = (("C", 1, 2, 0.5e-6), ("R", 2, 0, 1000))
HIGH_PASS_SWEEP = "1.000 0.003142 32.42 0.1013 105.7 0.3152 200.0 0.5320"


def table(text: str) -> list[tuple[float, float]]:
    values = [float(word) for word in text.split()]
    return list(zip(values[::2], values[1::2], strict=True))


def sweep_step(frequency: float, start: float, stop: float, count: int = 20) -> float:
    """The book prints the sweep's frequencies rounded to four digits: the step that was meant."""
    return min(np.linspace(start, stop, count), key=lambda f: abs(f - frequency))


@pytest.mark.parametrize(
    ("deck", "rows", "sweep"),
    [
        (LOADED_LOW_PASS, LOADED_SWEEP, (30, 150)),
        (LOW_PASS, LOW_PASS_SWEEP, (40, 50)),
        (HIGH_PASS, HIGH_PASS_SWEEP, (1, 200)),
    ],
)
def test_reference_solver_gives_the_published_node_voltages(deck, rows, sweep):
    for frequency, printed in table(rows):
        volts = abs(solve_nodes(deck, sweep_step(frequency, *sweep))[1])
        assert volts == pytest.approx(printed, rel=5e-4)  # four printed digits


@pytest.mark.parametrize(("deck", "rows"), [(SHUNT_TANK, SHUNT_TANK_MA), (SERIES_TANK, SERIES_TANK_MA)])
def test_reference_solver_gives_the_published_source_currents(deck, rows):
    for frequency, printed_ma in table(rows):
        current = abs(solve_nodes(deck, sweep_step(frequency, 100, 200))[-1])
        assert current * 1000 == pytest.approx(printed_ma, rel=5e-4)  # four printed digits


# Our response against that reference.


@pytest.mark.parametrize("seed", range(40))
def test_response_is_that_of_the_network(seed):
    circuit = random_circuit(random.Random(seed))
    frequencies = [20, 100, 440, 1000, 2345, 5000, 8000, 20_000]
    ours = frequency_response(circuit, frequencies, reference_hz=None)
    assert ours == pytest.approx([nodal_db(circuit, f) for f in frequencies], abs=1e-6)


def test_response_is_relative_to_100_hz_by_default():
    level = frequency_response(single_coil(700), [100, 1000])
    assert level[0] == 0
    assert level[1] == pytest.approx(
        nodal_db(single_coil(700), 1000) - nodal_db(single_coil(700), 100), abs=1e-6
    )


@pytest.mark.parametrize("seed", range(40))
def test_resonance_is_the_highest_point_of_a_fine_scan(seed):
    circuit = random_circuit(random.Random(1000 + seed))
    scan = np.geomspace(100, 20_000, 20_001)
    levels = frequency_response(circuit, scan)
    highest = int(np.argmax(levels))
    found = find_resonance(circuit)
    if found is None:
        assert highest in (0, len(scan) - 1)
    else:
        assert found == pytest.approx(scan[highest], rel=6e-4)
        assert frequency_response(circuit, [found])[0] >= levels[highest]


def test_no_resonance_where_the_level_only_falls():
    assert find_resonance(PickupCircuit(6_000, 2.5, 110, 10_000, 5_000)) is None


def test_no_resonance_below_100_hz_or_above_20_khz():
    assert find_resonance(PickupCircuit(10, 100.0, 0, None, 100_000)) is None  # 50.3 Hz
    assert find_resonance(PickupCircuit(10, 0.001, 0, None, 10_000)) is None  # 50.3 kHz


# Reference table of usual pickups (calculation; values of the parts are common practice): into 1 Mohm,
# peak by scanning, dB against the same pickup with 500 pF.
SINGLE_COIL = (
    (0, 9597, 2660, -3.4, -1.1),
    (300, 4971, 4300, -1.4, 1.5),
    (500, 4076, 3710, 0, 0),
    (700, 3537, 3295, 1.3, -2.7),
    (1000, 3021, 2865, 2.2, -6.2),
    (1500, 2509, 2410, -0.1, -10.4),
    (2000, 2191, 2120, -3.5, -13.2),
)
DUAL_COIL = (
    (0, 6126, 4835, -4.9, 7.8),
    (300, 3537, 3300, -1.0, 4.2),
    (500, 2943, 2805, 0, 0),
    (700, 2573, 2480, -1.7, -3.0),
    (1000, 2212, 2145, -5.6, -6.2),
    (1500, 1847, 1805, -10.4, -9.9),
    (2000, 1618, 1585, -13.6, -12.5),
)


@pytest.mark.parametrize(
    ("make", "row"), [*((single_coil, r) for r in SINGLE_COIL), *((dual_coil, r) for r in DUAL_COIL)]
)
def test_usual_pickups_with_more_and_more_cable(make, row):
    run_pf, f0, peak, at_3k, at_5k = row
    circuit = make(run_pf)
    against_500 = np.subtract(
        frequency_response(circuit, [3000, 5000], None), frequency_response(make(500), [3000, 5000], None)
    )
    assert ideal_frequency(circuit) == pytest.approx(f0, abs=1)
    assert find_resonance(circuit) == pytest.approx(peak, abs=10)
    assert against_500 == pytest.approx([at_3k, at_5k], abs=0.0501)  # the table prints one decimal


@pytest.mark.parametrize(("ohm", "loss"), [(500_000, -0.6), (250_000, -1.7), (100_000, -4.4)])
def test_a_low_input_costs_level_at_3_khz(ohm, loss):
    usual, low = (frequency_response(single_coil(700, z), [3000], None)[0] for z in (1e6, ohm))
    assert low - usual == pytest.approx(loss, abs=0.05)


def test_one_kilohm_into_ten_loses_0_828_db():
    """Published level table: 1 k into 10 k = -0.828 dB; a pickup without coil is that divider."""
    divider = PickupCircuit(1_000, 0.0, 0, 10_000)
    assert frequency_response(divider, [1000], None)[0] == pytest.approx(-0.828, abs=5e-4)


def test_a_load_of_nothing_is_refused():
    with pytest.raises(ValueError, match="0 ohm"):
        frequency_response(PickupCircuit(6_000, 2.5, 110, 1e6, volume_ohm=0), [1000])


def test_corner_of_a_driver_into_cable():
    assert corner_frequency(1_000, 2_000) == pytest.approx(79_577, abs=1)  # 1 k into 2000 pF: 79.6 kHz
    assert corner_frequency(10_000, 1_000) == pytest.approx(15_915, abs=1)
    assert corner_frequency(0, 1_000) is None
    assert corner_frequency(1_000, 0) is None


def test_ideal_frequency_needs_coil_and_capacitance():
    assert ideal_frequency(PickupCircuit(6_000, 0.0, 110, 1e6)) is None
    assert ideal_frequency(PickupCircuit(6_000, 2.5, 0, 1e6)) is None


def test_parallel_resistors():
    assert parallel([1e6, 1e6]) == 500_000
    assert parallel([10_000]) == 10_000
    assert parallel([0, 10_000]) == 0
