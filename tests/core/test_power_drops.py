"""What leads lose: published wire values, a worked example of three leads, a nodal solution of a chain."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from boardshop.core.plan import BoardPlan, DcLead, Pedal, Rules, Tail
from boardshop.core.power import compute_power
from boardshop.core.power.wire import (
    AWG_STEP,
    awg_diameter_mm,
    conductor_ohm_per_m,
    loop_resistance_ohm,
    voltage_drop_mv,
)
from tests.core.builders import board, draws, feed, outlet, pedal, supply
from tests.core.feeding_cases import drawing, fed_board, found, joined_board, said

FOOT_M = 0.3048
INCH_MM = 25.4
PAIR = ("S1.1", "P1.DC")


def drop_row(plan: BoardPlan, number: int = 0) -> Any:
    return compute_power(plan).drops[number]


def led(a_pedal: Pedal, mv: int, **lead: Any) -> BoardPlan:
    return fed_board(a_pedal, outlet("1", mv=mv, max_ma=2000), lead=DcLead(**lead))


# Published values.


def test_successive_gauges_have_one_ratio() -> None:
    """NBS Handbook 100; ASTM B258."""
    assert pytest.approx(1.1229322, abs=5e-8) == AWG_STEP
    assert awg_diameter_mm(36) == pytest.approx(0.0050 * INCH_MM)
    assert awg_diameter_mm(-3) == pytest.approx(0.4600 * INCH_MM)


@pytest.mark.parametrize(
    ("awg", "ohm_per_1000_ft"),
    [(16, 4.016), (18, 6.385), (20, 10.15), (22, 16.14), (24, 25.67), (26, 40.81), (28, 64.9), (30, 103.2)],
)
def test_gauges_at_20_c(awg: int, ohm_per_1000_ft: float) -> None:
    """HyperPhysics, wire gauge table, from Floyd."""
    per_m = conductor_ohm_per_m(awg=awg)
    assert per_m is not None
    assert per_m * 1000 * FOOT_M == pytest.approx(ohm_per_1000_ft, rel=1e-3)


@pytest.mark.parametrize(
    ("mm2", "most_ohm_per_km"), [(0.5, 39.0), (0.75, 26.0), (1.0, 19.5), (1.5, 13.3), (2.5, 7.98)]
)
def test_real_flexible_copper_lies_above_the_ideal_area(mm2: float, most_ohm_per_km: float) -> None:
    """IEC 60228, class 5, plain copper."""
    per_m = conductor_ohm_per_m(mm2=mm2)
    assert per_m is not None
    assert 0.85 * most_ohm_per_km < per_m * 1000 < most_ohm_per_km


def test_a_two_way_drop() -> None:
    """NEC chapter 9 table 8 example: 2 x 100 ft of 4.99 ohm per 1000 ft at 4 A lose 3.99 V."""
    ohm = loop_resistance_ohm(round(100 * FOOT_M * 1000), 4.99 / (1000 * FOOT_M))
    assert voltage_drop_mv(4000, ohm) / 1000 == pytest.approx(3.99, abs=0.005)


@pytest.mark.parametrize(("load_ohm", "amps", "volts"), [(10.0, 1.188, 11.88), (0.5, 20.0, 10.0)])
def test_a_source_with_a_resistance_in_its_way(load_ohm: float, amps: float, volts: float) -> None:
    """OpenStax, College Physics, 21.2: 12.0 V behind 0.100 ohm."""
    current_ma = 12_000 / (load_ohm + 0.100)
    assert current_ma / 1000 == pytest.approx(amps, abs=5e-4)
    assert (12_000 - voltage_drop_mv(current_ma, 0.100)) / 1000 == pytest.approx(volts, abs=5e-3)


# Worked example: three leads (contacts 0.04 ohm included in the loop, not in the lead).


def test_a_short_thin_lead_passes() -> None:
    plan = led(drawing(500), 9000, length=600, awg=24)
    row = drop_row(plan)
    assert (row.from_, row.to, row.loop_ohm, row.drop_mv) == ("S1.1", "P1.DC", 0.1411, 71)
    assert said(plan) == []


def twelve_volts() -> Pedal:
    return draws(pedal("P1"), nominal=12000, min=11400, max=12600, rated=1200)


def test_three_metres_of_thin_wire_fail() -> None:
    plan = led(twelve_volts(), 12000, length=3000, awg=26)
    row = drop_row(plan)
    assert (row.loop_ohm, row.drop_mv, row.at_pedal_mv) == (0.8434, 1012, 10988)
    assert said(plan) == [("P04", "fault"), ("P29", "advice")]


def test_three_metres_of_thick_wire_pass() -> None:
    plan = led(twelve_volts(), 12000, length=3000, awg=20)
    row = drop_row(plan)
    assert (row.loop_ohm, row.drop_mv, row.at_pedal_mv) == (0.2399, 288, 11712)
    assert said(plan) == []


def test_an_area_in_mm2_uses_the_same_copper() -> None:
    row = drop_row(led(drawing(500), 9000, length=600, mm2=0.2047))
    assert row.loop_ohm == 0.1411  # 0.2047 mm2 is AWG 24


# Chains: the trunk carries the sum and each tail its own.
#
#   S1.1 ===trunk=== + --tail 1-- P1
#                    + --tail 2-- P2


def chain_of(loads: list[int], tails: tuple[Tail, ...]) -> BoardPlan:
    pedals = [drawing(ma, f"P{n}") for n, ma in enumerate(loads, start=1)]
    lead = DcLead(800, awg=22, tails=tails)
    feeds = [feed("S1.1", [f"{p.ref}.DC" for p in pedals], lead=lead)]
    return board(*pedals, supplies=[supply("S1", outlet("1", max_ma=1000))], feeds=feeds)


def solve_chain(loads: list[int], trunk_ohm: float, tails_ohm: list[float]) -> np.ndarray:
    """Drops by nodal analysis: node 0 joins trunk and tails, node n is jack n."""
    size = len(loads) + 1
    conductance = np.zeros((size, size))
    conductance[0, 0] = 1 / trunk_ohm
    for n, ohm in enumerate(tails_ohm, start=1):
        conductance[[0, n], [0, n]] += 1 / ohm
        conductance[[0, n], [n, 0]] -= 1 / ohm
    return np.linalg.solve(conductance, np.array([0, *loads]))[1:]


def test_a_chain_agrees_with_nodal_analysis() -> None:
    loads, lengths = [120, 45, 300], [150, 250, 100]
    plan = chain_of(loads, tuple(Tail(length, awg=26) for length in lengths))
    per_m = conductor_ohm_per_m(awg=26)
    trunk = loop_resistance_ohm(800, conductor_ohm_per_m(awg=22) or 0) + Rules().contact_ohm
    expected = solve_chain(loads, trunk, [2 * length / 1000 * (per_m or 0) for length in lengths])
    assert [row.drop_mv for row in compute_power(plan).drops] == [round(v) for v in expected]


def test_pedals_with_leads_of_their_own_do_not_load_each_other_s_lead() -> None:
    plan = fed_board(drawing(50))
    more = replace(
        plan, pedals=(*plan.pedals, drawing(400, "P2")), feeds=(*plan.feeds, feed("S1.1", "P2.DC"))
    )
    assert drop_row(plan) == drop_row(more)


def test_a_series_lead_starts_from_the_sum_and_names_both_outlets() -> None:
    row = drop_row(joined_board("series", draws(pedal("P1"), nominal=18000, min=17000, max=18500, rated=70)))
    assert (row.from_, row.at_pedal_mv) == (("S1.1", "S1.2"), 17990)


# Boundaries and what is not known.


@pytest.mark.parametrize(("percent", "expected"), [(0, 1), (1, 0)])
def test_the_drop_is_judged_by_the_shop_s_percentage_of_the_nominal(percent: int, expected: int) -> None:
    plan = replace(led(drawing(500), 9000, length=600, awg=24), rules=Rules(drop_percent=percent))
    assert len(found(plan, "P29")) == expected  # 0.8 %


@pytest.mark.parametrize(
    ("lead", "what"),
    [
        (None, "lead"),
        (DcLead(None, awg=24), "length"),
        (DcLead(600), "conductor"),
        (DcLead(600, awg=24, tails=(Tail(None, awg=24),)), "tail"),
    ],
)
def test_an_unrecorded_lead_gives_no_numbers_and_one_unknown(lead: DcLead | None, what: str) -> None:
    plan = fed_board(lead=lead)
    row = drop_row(plan)
    assert (row.loop_ohm, row.drop_mv, row.at_pedal_mv) == (None, None, None)
    (finding,) = compute_power(plan).findings
    assert (finding.rule, finding.severity, finding.subjects) == ("P29", "unknown", PAIR)
    assert what in finding.message


def test_a_chain_without_tails_recorded_is_unknown_for_each_jack() -> None:
    assert [severity for severity, _ in found(chain_of([10, 20], ()), "P29")] == ["unknown", "unknown"]


def test_an_unknown_draw_leaves_the_loop_but_not_the_drop() -> None:
    row = drop_row(fed_board(drawing(None)))
    assert (row.loop_ohm, row.drop_mv, row.at_pedal_mv) == (0.1411, None, None)


def test_one_unknown_draw_in_a_chain_hides_every_drop_on_its_trunk() -> None:
    plan = chain_of([10, 20], (Tail(100, awg=24), Tail(100, awg=24)))
    plan = replace(plan, pedals=(plan.pedals[0], drawing(None, "P2")))
    assert [row.drop_mv for row in compute_power(plan).drops] == [None, None]


def test_a_long_lead_asks_for_an_unknown_least_voltage() -> None:
    plan = led(
        replace(twelve_volts(), power=(replace(twelve_volts().power[0], min=None),)),
        12000,
        length=3000,
        awg=26,
    )
    assert found(plan, "P04") == [("unknown", PAIR)]
