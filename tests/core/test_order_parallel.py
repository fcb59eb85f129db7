"""Stereo pairs and branches that meet in a mixer, drawn by hand."""

from math import isclose
from typing import Any

import pytest

from boardshop.core.order import compute_order
from boardshop.core.plan import BoardPlan, Jack, Pedal
from tests.core.builders import amp, board, pedal
from tests.core.order_wiring import links, with_jacks

IN, OUT = Jack("IN", "in", channels="mono"), Jack("OUT", "out", channels="mono")
STEREO_IN, STEREO_OUT = Jack("IN", "in", channels="stereo"), Jack("OUT", "out", channels="stereo")
LEFT_IN, RIGHT_IN = Jack("L", "in", channels="mono"), Jack("R", "in", channels="mono")
LEFT_OUT, RIGHT_OUT = Jack("LEFT", "out", channels="mono"), Jack("RIGHT", "out", channels="mono")


def told(plan: BoardPlan, rule: str) -> list[tuple[str, tuple[str, ...]]]:
    return [(f.severity, f.subjects) for f in compute_order(plan).findings if f.rule == rule]


def row(*jacks: tuple[Jack, ...], last: str = "other") -> BoardPlan:
    """G1 - P1 - P2 ... - A1, each by its first input and its first output."""
    pedals = [pedal(f"P{i}", "delay", jacks=own) for i, own in enumerate(jacks, 1)]
    ends, before = [], "G1.OUT"
    for one in pedals:
        ends.append(f"{before} > {one.ref}.{next(j.name for j in one.jacks if j.role == 'in')}")
        before = f"{one.ref}.{next(j.name for j in one.jacks if j.role == 'out')}"
    return board(*pedals, links=links(*ends, f"{before} > A1.IN"))


@pytest.mark.parametrize(
    ("plan", "expected"),
    [
        (row((IN, OUT), (IN, OUT)), []),
        (row((IN, STEREO_OUT)), []),
        (row((IN, STEREO_OUT), (STEREO_IN, STEREO_OUT)), []),
        (row((IN, STEREO_OUT), (IN, OUT)), [("caution", ("P1", "P2"))]),
        (row((IN, STEREO_OUT), (STEREO_IN, OUT), (IN, OUT)), [("caution", ("P1", "P2"))]),
        (row((IN, STEREO_OUT), (STEREO_IN, STEREO_OUT), (IN, OUT)), [("caution", ("P1", "P3"))]),
        (row((IN, STEREO_OUT), (Jack("IN", "in"), OUT)), [("unknown", ("P1", "P2"))]),
        (row((IN, STEREO_OUT), (STEREO_IN, Jack("OUT", "out")), (IN, OUT)), [("unknown", ("P1", "P2"))]),
        (row((IN, OUT), (IN, STEREO_OUT), (IN, OUT), (IN, OUT)), [("caution", ("P2", "P3"))]),
    ],
)
def test_stereo_by_one_jack(plan: BoardPlan, expected: list[Any]) -> None:
    assert told(plan, "R38") == expected


def two_sides(*ends: str, kind: str = "reverb") -> BoardPlan:
    """P1 splits into left and right, P2 takes both; P3 and P4 are mono pedals."""
    one = pedal("P1", "delay", jacks=(IN, LEFT_OUT, RIGHT_OUT))
    other = pedal("P2", kind, jacks=(LEFT_IN, RIGHT_IN, LEFT_OUT, RIGHT_OUT))
    pedals = one, other, pedal("P3"), pedal("P4")
    return board(*pedals, amps=(amp(), amp("A2")), links=links("G1.OUT > P1.IN", *ends))


BOTH = ("P1.LEFT > P2.L", "P1.RIGHT > P2.R")


@pytest.mark.parametrize(
    ("ends", "expected"),
    [
        ((*BOTH, "P2.LEFT > A1.IN", "P2.RIGHT > A2.IN"), []),
        ((*BOTH, "P2.LEFT > P3.IN", "P2.RIGHT > P4.IN"), []),
        ((*BOTH, "P2.LEFT > P3.IN", "P3.OUT > A1.IN"), [("caution", ("P1", "P2"))]),
        (("P1.LEFT > P3.IN", "P1.RIGHT > P4.IN", "P3.OUT > A1.IN", "P4.OUT > A2.IN"), []),
        (("P1.LEFT > P3.IN", "P3.OUT > A1.IN"), []),
    ],
)
def test_stereo_by_two_jacks(ends: tuple[str, ...], expected: list[Any]) -> None:
    assert told(two_sides(*ends), "R38") == expected


def test_mono_sum_in_a_mixer_is_deliberate() -> None:
    plan = two_sides(*BOTH, "P2.LEFT > P3.IN", "P3.OUT > A1.IN", kind="mixer")
    assert told(plan, "R38") == []


def branches(one: Pedal, other: Pedal | None = None) -> BoardPlan:
    """
    G1 - S1 -+- P1 -------------+- M1 - A1
             +- P2 (or nothing) +
    """
    splitter = with_jacks("S1", "splitter", IN="in", A="out", B="out")
    mixer = with_jacks("M1", "mixer", A="in", B="in", OUT="out")
    second = ("S1.B > P2.IN", "P2.OUT > M1.B") if other else ("S1.B > M1.B",)
    ends = ("G1.OUT > S1.IN", "S1.A > P1.IN", "P1.OUT > M1.A", *second, "M1.OUT > A1.IN")
    return board(splitter, one, *([other] if other else []), mixer, links=links(*ends))


def branch(ref: str, kind: str = "overdrive", **values: Any) -> Pedal:
    return pedal(ref, kind, **({"inverts": False, "kills_dry": False, "latency_ms": 0.0} | values))


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        (branch("P1"), branch("P2"), []),
        (branch("P1", inverts=True), branch("P2"), [("fault", ("P1", "M1"))]),
        (branch("P1", inverts=True), None, [("fault", ("P1", "M1"))]),
        (branch("P1", inverts=True), branch("P2", inverts=True), []),
        (branch("P1", inverts=True, kills_dry=True), branch("P2"), []),
        (branch("P1", inverts=None), branch("P2"), [("unknown", ("P1", "P2", "M1"))]),
    ],
)
def test_polarity_of_branches(one: Pedal, other: Pedal | None, expected: list[Any]) -> None:
    """Equal signals of opposite polarity sum to nothing: 1 + (-1)."""
    assert told(branches(one, other), "R40") == expected


@pytest.mark.parametrize(
    ("latency", "circuit", "expected"),
    [
        (1.5, "digital", [("fault", ("P1", "M1"))]),
        (0.05, "digital", [("fault", ("P1", "M1"))]),
        (0.049, "digital", []),
        (0.0, "digital", []),
        (None, "digital", [("unknown", ("P1", "P2", "M1"))]),
        (None, None, [("unknown", ("P1", "P2", "M1"))]),
        (None, "analog", []),
    ],
)
def test_late_branch_combs(latency: float | None, circuit: str | None, expected: list[Any]) -> None:
    plan = branches(branch("P1", latency_ms=latency, circuit=circuit), branch("P2"))
    assert told(plan, "R40") == expected


def test_first_gap_of_the_comb() -> None:
    """1.5 ms: 1 + exp(-j 2 pi f t) is first zero at f = 1 / 2t = 333 Hz."""
    (finding,) = compute_order(branches(branch("P1", latency_ms=1.5), branch("P2"))).findings
    assert "1.5 ms" in finding.message
    assert "333 Hz" in finding.message
    assert isclose(1 / (2 * 0.0015), 333, rel_tol=0.002)


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        (branch("P1", "reverb"), None, [("fault", ("P1", "M1"))]),
        (branch("P1", "delay"), branch("P2"), [("fault", ("P1", "M1"))]),
        (branch("P1", "delay", kills_dry=True), None, []),
        (branch("P1", "delay", kills_dry=None), None, [("unknown", ("P1", "M1"))]),
        (branch("P1", "delay"), branch("P2", "reverb"), []),
        (branch("P1", "chorus"), None, []),
    ],
)
def test_wet_branch_beside_a_dry_one(one: Pedal, other: Pedal | None, expected: list[Any]) -> None:
    assert told(branches(one, other), "R41") == expected


def test_branches_to_two_amps_do_not_meet() -> None:
    """Without a mixer nothing sums: no polarity, no comb, no doubled dry sound."""
    splitter = with_jacks("S1", "splitter", IN="in", A="out", B="out")
    ends = ("G1.OUT > S1.IN", "S1.A > P1.IN", "P1.OUT > A1.IN", "S1.B > A2.IN")
    one = branch("P1", "delay", inverts=True, latency_ms=3.0)
    assert compute_order(board(splitter, one, amps=(amp(), amp("A2")), links=links(*ends))).findings == ()
