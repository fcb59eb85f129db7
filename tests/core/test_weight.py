"""What a board weighs, and the lifting bands at their limits."""

import pytest

from boardshop.core.weight import compute_weight, lifting_band
from tests.core.builders import board, frame, pedal, supply


def test_frame_pedals_and_supplies_add_up():
    section = compute_weight(
        board(pedal("P1", weight=400), pedal("P2", weight=350), supplies=[supply(weight=700)])
    )
    assert section.board_g == 3000 + 400 + 350 + 700
    assert section.counted == ("frame", "P1", "P2", "S1")
    assert (section.unknown, section.findings) == ((), ())


def test_an_unknown_weight_is_named_once_and_not_counted():
    section = compute_weight(board(pedal("P1", weight=None), pedal("P2"), frame=frame(weight=None)))
    assert (section.board_g, section.unknown) == (350, ("frame", "P1"))
    (finding,) = section.findings
    assert (finding.rule, finding.severity, finding.subjects) == ("M01", "unknown", ("frame", "P1"))


@pytest.mark.parametrize(
    ("grams", "rule"),
    [
        (14_999, None), (15_000, None), (15_001, "M02"), (22_999, "M02"), (23_000, "M02"), (23_001, "M03"),
        (32_000, "M03"), (32_001, "M04"),
    ],
)  # fmt: skip
def test_lifting_bands_begin_above_their_limit(grams, rule):
    # 23 kg: NIOSH 94-110 load constant; 15 and 32 kg: common practice.
    findings = compute_weight(board(frame=frame(weight=grams))).findings
    assert [finding.rule for finding in findings] == ([rule] if rule else [])
    assert all("Local rules" in finding.cure for finding in findings)


def test_worked_example_three_cases():
    # Parts in kg; one person close, one person easily, two people (calculation).
    pedals = [0.40, 0.38, 0.45, 1.65, 0.52, 0.30, 0.42, 0.55, 0.33, 0.35]
    assert sum(pedals) == pytest.approx(5.35)
    cases = [
        ([9.8, 3.2, 1.1, *pedals, 0.9, 0.4], 20_750, "M02"),
        ([7.4, 2.3, 0.8, 3.6, 0.6], 14_700, None),
        ([8.9, 2.75, 6.4, 4.8, 2.2, 0.65, 1.9], 27_600, "M03"),
    ]
    for parts, total, rule in cases:
        first, *others = (round(1000 * kilograms) for kilograms in parts)
        plan = board(*(pedal(f"P{n}", weight=g) for n, g in enumerate(others)), frame=frame(weight=first))
        band = lifting_band(compute_weight(plan).board_g)
        assert compute_weight(plan).board_g == total
        assert (band.rule if band else None) == rule


def test_a_sum_with_unknown_parts_is_a_least_weight():
    plan = board(pedal("P1", weight=None), frame=frame(weight=24_000))
    assert "at least 24.00 kg" in compute_weight(plan).findings[-1].message
