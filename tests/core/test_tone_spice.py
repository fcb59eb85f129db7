"""The response against a circuit simulator, against published decks, and its peak against SciPy.

`ngspice` comes with the Debian package of that name; without it on the machine its tests are skipped, and the
complex nodal analysis of `networks.py` still stands against the same circuits.
"""

import random
import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import minimize_scalar

from boardshop.core.tone.circuit import (
    PickupCircuit,
    corner_frequency,
    find_resonance,
    frequency_response,
    parallel,
)
from boardshop.core.tone.later import first_order_db
from tests.core.networks import nodal_db, parts_of
from tests.core.tone_boards import dual_coil, random_circuit, single_coil

SIMULATOR = shutil.which("ngspice")
simulated = pytest.mark.skipif(SIMULATOR is None, reason="no ngspice on this machine")
POINTS_PER_DECADE = 40


def write_deck(circuits: list[PickupCircuit], out: Path) -> str:
    """All circuits side by side on one source of 1 V, swept from 100 Hz to 20 kHz."""
    lines = ["pickups into cable", "V1 in 0 AC 1"]
    for number, circuit in enumerate(circuits):
        names = {0: "0", 1: "in"}
        for at, (kind, one, other, value) in enumerate(parts_of(circuit)):
            a, b = (names.get(node, f"n{number}_{node}") for node in (one, other))
            lines.append(f"{kind}{number}_{at} {a} {b} {value!r}")
    probes = " ".join(f"v(n{number}_3)" for number in range(len(circuits)))
    lines += [".control", f"ac dec {POINTS_PER_DECADE} 100 20k", "set numdgt=12", "set wr_singlescale"]
    lines += [f"wrdata {out} {probes}", ".endc", ".end"]
    return "\n".join(lines) + "\n"


def simulate(circuits: list[PickupCircuit], folder: Path) -> tuple[list[float], list[list[float]]]:
    """Frequencies, and for each circuit the level in dB re the pickup's own voltage."""
    deck, out = folder / "deck.cir", folder / "out.txt"
    deck.write_text(write_deck(circuits, out))
    done = subprocess.run(
        [str(SIMULATOR), "-b", str(deck)], capture_output=True, text=True, cwd=folder, timeout=120
    )
    assert out.exists(), done.stdout + done.stderr
    table = np.loadtxt(out)
    volts = table[:, 1::2] + 1j * table[:, 2::2]
    return list(table[:, 0]), (20 * np.log10(np.abs(volts))).T.tolist()


@simulated
def test_the_response_is_the_simulators(tmp_path: Path) -> None:
    """Within 0.01 dB at 93 frequencies, over the usual pickups and 60 drawn by lot."""
    chance = random.Random(20)
    circuits = [make(pf) for make in (single_coil, dual_coil) for pf in (0, 500, 700, 1950)]
    circuits += [random_circuit(chance) for _ in range(60)]
    frequencies, levels = simulate(circuits, tmp_path)
    assert len(frequencies) > 90
    assert (frequencies[0], frequencies[-1]) == pytest.approx((100, 20_000), rel=0.06)
    for circuit, simulated_db in zip(circuits, levels, strict=True):
        ours = frequency_response(circuit, frequencies, reference_hz=None)
        assert np.max(np.abs(np.subtract(ours, simulated_db))) < 0.01


@simulated
def test_the_corner_of_a_driver_is_the_simulators(tmp_path: Path) -> None:
    """A driver of 10 kohm into 1000 pF and 1 Mohm is a pickup without coil: 16.07 kHz, 3 dB down there."""
    driver = PickupCircuit(10_000, 1e-9, 0, 1e6, 1_000)
    corner = corner_frequency(parallel((10_000, 1e6)), 1_000)
    assert corner == pytest.approx(16_074.7, abs=0.1)
    frequencies, (levels,) = simulate([driver], tmp_path)
    ours = [first_order_db(hz, corner) for hz in frequencies]
    assert np.subtract(levels, levels[0]) == pytest.approx(np.subtract(ours, ours[0]), abs=0.01)
    assert first_order_db(corner, corner) == pytest.approx(-3.0103, abs=1e-4)


@pytest.mark.parametrize("seed", range(60))
def test_the_response_is_that_of_a_complex_nodal_analysis(seed: int) -> None:
    circuit = random_circuit(random.Random(5000 + seed))
    frequencies = list(np.geomspace(100, 20_000, 60))
    ours = frequency_response(circuit, frequencies, reference_hz=None)
    assert ours == pytest.approx([nodal_db(circuit, hz) for hz in frequencies], abs=1e-6)


@pytest.mark.parametrize("seed", range(30))
def test_the_peak_is_where_an_optimiser_finds_it_on_the_network(seed: int) -> None:
    """SciPy's bounded search on the nodal analysis, around the highest of 400 points."""
    circuit = random_circuit(random.Random(7000 + seed))
    scan = np.geomspace(100, 20_000, 400)
    highest = int(np.argmax([nodal_db(circuit, hz) for hz in scan]))
    found = find_resonance(circuit)
    if highest in (0, len(scan) - 1):
        assert found is None
        return
    best = minimize_scalar(
        lambda hz: -nodal_db(circuit, hz),
        bounds=(scan[highest - 1], scan[highest + 1]),
        method="bounded",
        options={"xatol": 1e-6},
    )
    assert found == pytest.approx(best.x, abs=0.2)
    assert frequency_response(circuit, [found], None)[0] == pytest.approx(-best.fun, abs=1e-6)


# T. R. Kuphaldt, Lessons In Electric Circuits, volume II (AC), chapter "Filters" (Design Science License):
# R = 500 ohm, C = 7 uF, with a load of 1 kohm and without; volts with four digits, as printed there.
LOADED = {61.58: 0.4948, 74.21: 0.4511, 86.84: 0.4118, 99.47: 0.3770, 112.1: 0.3465, 124.7: 0.3199}
UNLOADED = {40.00: 0.7508, 45.26: 0.7087, 45.79: 0.7046, 50.00: 0.6728}


@pytest.mark.parametrize(("load", "rows"), [(1_000, LOADED), (None, UNLOADED)])
def test_the_closed_form_gives_published_volts(load: int | None, rows: dict[float, float]) -> None:
    """A pickup without coil over 7 uF is that low-pass; the printed frequencies are rounded to 4 digits."""
    low_pass = PickupCircuit(500, 0.0, 7_000_000, load)
    levels = frequency_response(low_pass, rows, reference_hz=None)
    assert [10 ** (db / 20) for db in levels] == pytest.approx(list(rows.values()), rel=7e-4)


def test_the_corner_is_the_published_one() -> None:
    """The book's 45.473 Hz without load; with it, 68.209 Hz from 500 ohm beside 1 kohm (calculation)."""
    assert corner_frequency(500, 7_000_000) == pytest.approx(45.473, abs=5e-4)
    assert corner_frequency(parallel((500, 1_000)), 7_000_000) == pytest.approx(68.209, abs=1e-3)
