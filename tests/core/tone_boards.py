"""Boards whose capacitance is plain to see, for the tests of tone."""

import random
from dataclasses import replace

from boardshop.core.tone import compute_tone
from boardshop.core.tone.circuit import PickupCircuit
from tests.core.builders import board, cable_type, chain, pedal

HOT_LEAD = cable_type("C2", pf_per_m=110)


def leads(*links, first_mm=6000, last_mm=9000):
    """The first and the last link as instrument and amp lead of 110 pF/m."""
    first, *middle, last = links
    return (replace(first, length=first_mm, cable="C2"), *middle, replace(last, length=last_mm, cable="C2"))


def wired(*pedals, each_mm=200, last_mm=9000, **overrides):
    """Guitar, 6 m lead, pedals with equal patches of 100 pF/m, 9 m lead, amp."""
    links = leads(*chain("G1", *(p.ref for p in pedals), "A1", length=each_mm), last_mm=last_mm)
    return board(*pedals, **({"links": links, "cables": (cable_type(), HOT_LEAD)} | overrides))


def lead_of(pf, *pedals, **overrides):
    """So much capacitance from the guitar to the first pedal (or to the amp), all else of no length."""
    first, *others = chain("G1", *(p.ref for p in pedals), "A1", length=0)
    links = (replace(first, length=pf * 10), *others)
    return board(*pedals, links=links, **overrides)


def tone_of(plan):
    return compute_tone(plan).sources[0]


def rules_of(plan):
    return [finding.rule for finding in compute_tone(plan).findings]


def findings_of(plan, rule):
    return [finding for finding in compute_tone(plan).findings if finding.rule == rule]


BYPASSED = tuple(pedal(f"P{number}") for number in range(1, 9))


def single_coil(run_pf: float, input_ohm: float | None = 1e6) -> PickupCircuit:
    return PickupCircuit(6_000, 2.5, 110, input_ohm, run_pf, 250e3, 250e3, 22)


def dual_coil(run_pf: float) -> PickupCircuit:
    return PickupCircuit(8_000, 4.5, 150, 1e6, run_pf, 500e3, 500e3, 22)


def random_circuit(chance: random.Random) -> PickupCircuit:
    return PickupCircuit(
        r_ohm=chance.randint(3_000, 18_000),
        l_h=round(chance.uniform(1, 10), 2),
        c_pf=chance.randint(50, 300),
        input_ohm=chance.choice([None, 10_000, 100_000, 500_000, 1_000_000]),
        run_pf=chance.randint(0, 4_000),
        volume_ohm=chance.choice([None, 250_000, 500_000]),
        tone_ohm=chance.choice([None, 1_000, 250_000, 500_000]),
        tone_nf=chance.choice([None, 2.2, 22, 100]),
    )
