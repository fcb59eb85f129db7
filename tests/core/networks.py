"""An independent reference: nodal analysis of any network with one voltage source, with complex numbers."""

from collections.abc import Iterable

import numpy as np

from boardshop.core.tone.circuit import PickupCircuit

type Part = tuple[str, int, int, float]
"""Kind (R, L, C), node, node, value in SI units; node 0 is ground."""


def solve_nodes(parts: Iterable[Part], frequency: float, driven: int = 1) -> np.ndarray:
    """Complex node voltages with 1 V between node ``driven`` and ground, by modified nodal analysis."""
    parts = list(parts)
    count = max(max(a, b) for _, a, b, _ in parts)
    matrix = np.zeros((count + 1, count + 1), dtype=complex)
    s = 2j * np.pi * frequency
    for kind, a, b, value in parts:
        y = {"R": lambda v: 1 / v, "L": lambda v: 1 / (s * v), "C": lambda v: s * v}[kind](value)
        for node, other in ((a, b), (b, a)):
            if node:
                matrix[node - 1, node - 1] += y
                if other:
                    matrix[node - 1, other - 1] -= y
    matrix[count, driven - 1] = matrix[driven - 1, count] = 1
    known = np.zeros(count + 1, dtype=complex)
    known[count] = 1
    return np.linalg.solve(matrix, known)


def parts_of(circuit: PickupCircuit) -> list[Part]:
    """The pickup between node 1 and its output, node 3, with all that hangs there."""
    parts: list[Part] = [
        ("R", 1, 2, max(circuit.r_ohm, 1e-6)),
        ("L", 2, 3, circuit.l_h),
        ("C", 3, 0, (circuit.c_pf + circuit.run_pf) * 1e-12),
    ]
    parts += [("R", 3, 0, ohm) for ohm in (circuit.volume_ohm, circuit.input_ohm) if ohm is not None]
    if circuit.tone_ohm is not None and circuit.tone_nf is not None:
        parts += [("R", 3, 4, circuit.tone_ohm), ("C", 4, 0, circuit.tone_nf * 1e-9)]
    return parts


def nodal_db(circuit: PickupCircuit, frequency: float) -> float:
    """Level at the cable in dB re the pickup's own voltage."""
    return float(20 * np.log10(abs(solve_nodes(parts_of(circuit), frequency)[2])))
