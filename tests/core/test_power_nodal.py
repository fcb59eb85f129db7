"""Drops along leads against nodal analysis of the whole circuit, with wire from a published table.

Both conductors of every lead are resistors of their own, every jack draws its current from one to the other,
and the outlet is an ideal source; G v = i is solved by numpy.  Wire: HyperPhysics, wire gauge table, from
Floyd, ohm per 1000 ft at 20 C, to four digits.
"""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boardshop.core.plan import BoardPlan, DcLead, Rules, Tail
from boardshop.core.power import compute_power
from tests.core.builders import board, feed, outlet, supply
from tests.core.feeding_cases import drawing

OHM_PER_1000_FT = {16: 4.016, 18: 6.385, 20: 10.15, 22: 16.14, 24: 25.67, 26: 40.81, 28: 64.9, 30: 103.2}
MM_PER_1000_FT = 304_800
TABLE_ERROR = 1e-3
"""The table's last digit."""

GAUGE = st.sampled_from(sorted(OHM_PER_1000_FT))
PIECE = st.tuples(st.integers(50, 4000), GAUGE)
LOADS = st.lists(st.tuples(st.integers(0, 600), PIECE), min_size=1, max_size=6)


def conductor_ohm(piece: tuple[int, int]) -> float:
    """One conductor of a piece of so many mm and this gauge."""
    length_mm, awg = piece
    return OHM_PER_1000_FT[awg] * length_mm / MM_PER_1000_FT


def solve_leads(chains: list[tuple[tuple[int, int], list[tuple[int, tuple[int, int]]]]]) -> list[float]:
    """Volts lost, in mV, at each jack of each chain: trunk first, then (mA, tail) for each jack.

         + ==trunk==+==tail==(jack
    source          |
         - ==trunk==+==tail==jack)

    Unknown are the potentials of all nodes but the source's two, which stand at 0: only what is lost counts.
    """
    resistors: list[tuple[int, int, float]] = []
    currents: dict[int, float] = {}
    pairs: list[tuple[int, int]] = []
    size = 0
    for trunk, jacks in chains:
        plus, minus, size = size, size + 1, size + 2
        contact = Rules().contact_ohm
        resistors += [(-1, plus, conductor_ohm(trunk) + contact), (-1, minus, conductor_ohm(trunk))]
        for ma, tail in jacks:
            one, other, size = size, size + 1, size + 2
            resistors += [(plus, one, conductor_ohm(tail)), (minus, other, conductor_ohm(tail))]
            currents |= {one: -float(ma), other: float(ma)}
            pairs.append((one, other))
    conductance = np.zeros((size, size))
    for a, b, ohm in resistors:
        for node in (a, b):
            if node >= 0:
                conductance[node, node] += 1 / ohm
        if a >= 0:
            conductance[a, b] -= 1 / ohm
            conductance[b, a] -= 1 / ohm
    injected = np.array([currents.get(node, 0.0) for node in range(size)])
    potential = np.linalg.solve(conductance, injected)
    return [float(potential[other] - potential[one]) for one, other in pairs]


def chained(chains: list[tuple[tuple[int, int], list[tuple[int, tuple[int, int]]]]]) -> BoardPlan:
    """Each chain a lead of its own from the same outlet."""
    pedals, feeds = [], []
    for (length, awg), jacks in chains:
        refs = [f"P{len(pedals) + at}" for at in range(1, len(jacks) + 1)]
        pedals += [drawing(ma, ref) for ref, (ma, _) in zip(refs, jacks, strict=True)]
        tails = tuple(Tail(mm, awg=gauge) for _, (mm, gauge) in jacks)
        lead = DcLead(length, awg=awg, connector="barrel 5.5/2.1", tails=tails)
        feeds.append(feed("S1.1", [f"{ref}.DC" for ref in refs], lead=lead))
    return board(*pedals, supplies=[supply("S1", outlet("1", max_ma=9000))], feeds=feeds)


@settings(max_examples=60, deadline=None)
@given(st.lists(st.tuples(PIECE, LOADS), min_size=1, max_size=3))
def test_drops_of_any_chains_agree_with_nodal_analysis(
    chains: list[tuple[tuple[int, int], list[tuple[int, tuple[int, int]]]]],
) -> None:
    rows = compute_power(chained(chains)).drops
    for row, expected in zip(rows, solve_leads(chains), strict=True):
        assert row.drop_mv == pytest.approx(expected, abs=0.5 + TABLE_ERROR * expected)
        assert row.at_pedal_mv == pytest.approx(9000 - expected, abs=0.5 + TABLE_ERROR * expected)


def test_a_chain_of_two_by_hand() -> None:
    """1 m of AWG 22 (0.05295 ohm each way) with 0.3 A, then 0.5 m of AWG 26 (0.06695 ohm) with 0.1 and 0.2 A.

    Trunk: 0.3 A x (2 x 0.05295 + 0.04) ohm = 43.8 mV; tails: 0.1 A x 0.1339 = 13.4 and 0.2 A x 0.1339 = 26.8.
    """
    chains = [((1000, 22), [(100, (500, 26)), (200, (500, 26))])]
    assert [row.drop_mv for row in compute_power(chained(chains)).drops] == [57, 71]
    assert solve_leads(chains) == pytest.approx([57.2, 70.6], abs=0.1)
