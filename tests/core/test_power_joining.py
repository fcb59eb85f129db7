"""Two outlets joined for one jack: the worked example of doublers row by row, then each condition."""

from dataclasses import replace
from typing import Any

import pytest

from boardshop.core.plan import BoardPlan, Outlet, OutletSetting, Pedal
from boardshop.core.power import compute_power
from tests.core.builders import board, draws, feed, outlet, pedal, supply
from tests.core.feeding_cases import drawing, found, joined_board, said

BOTH = ("S1.1", "S1.2", "P1.DC")


def permitted(name: str, mv: int = 9000, max_ma: int | None = 100, **overrides: Any) -> Outlet:
    return outlet(name, mv, max_ma, **({"parallel_ok": True, "series_ok": True} | overrides))


def grouped(name: str, **overrides: Any) -> Outlet:
    return permitted(name, **({"group": "A", "group_max_ma": 100} | overrides))


def eighteen(load_ma: int, most: int = 18500) -> Pedal:
    return draws(pedal("P1"), nominal=18000, min=17000, max=most, rated=load_ma)


def rows(plan: BoardPlan) -> list[tuple[int, int | None, float | None]]:
    return [(row.load_ma, row.limit_ma, row.load_percent) for row in compute_power(plan).outlets]


# Worked example: doublers.  Isolated 9 V outlets whose maker permits parallel and series.


@pytest.mark.parametrize(
    ("need_ma", "percent", "expected"),
    [
        (150, 75.0, []),
        (160, 80.0, []),
        (161, 80.5, [("P08", "advice")]),
        (170, 85.0, [("P08", "advice")]),
        (200, 100.0, [("P08", "advice")]),
        (201, 100.5, [("P08", "fault")]),
        (210, 105.0, [("P08", "fault")]),
    ],
)
def test_two_equal_outlets_in_parallel_carry_half_each(need_ma: int, percent: float, expected: Any) -> None:
    plan = joined_board("parallel", drawing(need_ma, min=8000))
    half = (need_ma + 1) // 2  # printed half up
    assert rows(plan) == [(half, 100, percent), (half, 100, percent)]
    assert [pair for pair in said(plan) if pair[0] != "P29"] == expected


def test_unequal_limits_count_the_smaller_twice_and_are_not_permitted() -> None:
    plan = joined_board("parallel", drawing(260, min=8000), permitted("1"), permitted("2", max_ma=200))
    assert rows(plan) == [(130, 100, 130.0), (130, 100, 130.0)]
    assert found(plan, "P15") == [("fault", BOTH)]
    assert found(plan, "P08") == [("fault", BOTH)]


def test_parallel_in_one_group_gains_nothing() -> None:
    plan = joined_board("parallel", drawing(150), grouped("1"), grouped("2"))
    assert [row[2] for row in rows(plan)] == [150.0, 150.0]
    assert found(plan, "P17") == [("fault", BOTH)]
    assert found(plan, "P08") == [("fault", BOTH), ("fault", ("S1/A",))]
    (group,) = compute_power(plan).groups
    assert (group.load_ma, group.limit_ma, group.load_percent, group.load_mw) == (150, 100, 150.0, 1350)


def test_parallel_in_a_group_without_a_limit_of_its_own_has_the_smaller_outlet_s() -> None:
    plan = joined_board(
        "parallel", drawing(90), grouped("1", group_max_ma=None), grouped("2", group_max_ma=None, max_ma=60)
    )
    assert rows(plan) == [(90, 60, 150.0), (90, 60, 150.0)]


def test_parallel_at_unlike_voltages_destroys() -> None:
    plan = joined_board("parallel", drawing(150), permitted("1"), permitted("2", mv=12000))
    assert found(plan, "P16") == [("damage", BOTH)]


@pytest.mark.parametrize(
    ("load_ma", "percent", "expected"), [(70, 70.0, []), (80, 80.0, []), (90, 90.0, [("P08", "advice")])]
)
def test_series_adds_volts_under_one_limit(load_ma: int, percent: float, expected: Any) -> None:
    plan = joined_board("series", eighteen(load_ma))
    assert rows(plan) == [(load_ma, 100, percent), (load_ma, 100, percent)]
    assert said(plan) == expected


def test_series_above_what_the_pedal_stands_destroys() -> None:
    plan = joined_board("series", eighteen(70, most=18000), permitted("1"), permitted("2", mv=12000))
    assert found(plan, "P03") == [("damage", BOTH)]


def test_series_in_one_group_shorts_an_outlet() -> None:
    plan = joined_board("series", eighteen(70), grouped("1"), grouped("2"))
    assert found(plan, "P18") == [("damage", BOTH)]


# Each condition by itself.


@pytest.mark.parametrize(
    ("other", "expected"),
    [
        (permitted("2", parallel_ok=False), [("P15", "fault")]),
        (permitted("2", parallel_ok=None), [("P15", "unknown")]),
        (permitted("2", regulated=False), [("P16", "damage")]),
        (permitted("2", sag=True), [("P16", "damage"), ("P24", "advice")]),
        (permitted("2", polarity="centre-positive"), [("P05", "damage"), ("P16", "damage")]),
        (permitted("2", group="B"), [("P15", "fault")]),
        (permitted("2", settings=(OutletSetting(6000, 9000, 100),)), [("P28", "unknown"), ("P24", "advice")]),
    ],
)
def test_parallel_needs_every_condition(other: Outlet, expected: list[Any]) -> None:
    tolerant = drawing(80, max=18000)
    assert said(joined_board("parallel", tolerant, permitted("1"), other)) == expected


def test_unknown_regulation_of_a_parallel_outlet_is_unknown() -> None:
    plan = joined_board("parallel", drawing(80, max=18000), permitted("1"), permitted("2", regulated=None))
    assert said(plan) == [("P16", "unknown")]


def test_a_variable_outlet_is_not_fixed_even_at_the_same_voltage() -> None:
    plan = joined_board(
        "parallel", drawing(80), permitted("1"), permitted("2", settings=(OutletSetting(6000, 9000, 100),))
    )
    plan = replace(plan, feeds=(replace(plan.feeds[0], settings=(None, 9000)),))
    assert said(plan) == [("P15", "fault"), ("P24", "advice")]


def test_ac_in_parallel_asks_for_the_phase_and_ac_with_dc_destroys() -> None:
    ac = {"current": "ac", "regulated": False}
    taking_ac = drawing(80, current="ac", max=18000)
    plan = joined_board("parallel", taking_ac, permitted("1", **ac), permitted("2", **ac))
    assert said(plan) == [("P16", "unknown")]
    assert ("damage", BOTH) in found(joined_board("parallel", taking_ac, permitted("1", **ac)), "P16")


@pytest.mark.parametrize(
    ("models", "expected"),
    [
        (("Brick", "Brick"), []),
        (("Brick", "Slab"), [("P15", "fault")]),
        (("Brick", None), [("P15", "unknown")]),
        ((None, None), [("P15", "unknown")]),
    ],
)
def test_outlets_of_two_supplies_need_one_model(models: tuple[str | None, str | None], expected: Any) -> None:
    supplies = [supply(f"S{n}", permitted("1"), model=model) for n, model in enumerate(models, start=1)]
    feeds = [feed(["S1.1", "S2.1"], "P1.DC", adapters=("parallel",))]
    assert said(board(drawing(80), supplies=supplies, feeds=feeds)) == expected


@pytest.mark.parametrize(
    ("other", "expected"),
    [
        (permitted("2", series_ok=False), [("P18", "fault")]),
        (permitted("2", series_ok=None), [("P18", "unknown")]),
        (permitted("2", polarity="centre-positive"), [("P05", "damage"), ("P18", "fault")]),
        (permitted("2", group="B"), [("P18", "fault")]),
    ],
)
def test_series_needs_every_condition(other: Outlet, expected: list[Any]) -> None:
    assert said(joined_board("series", eighteen(70), permitted("1"), other)) == expected


def test_series_with_an_outlet_whose_group_feeds_another_pedal_destroys() -> None:
    outlets = [permitted("1"), permitted("2", group="B"), permitted("3", group="B")]
    feeds = [feed(["S1.1", "S1.2"], "P1.DC", adapters=("series",)), feed("S1.3", "P2.DC")]
    plan = board(eighteen(70), pedal("P2"), supplies=[supply("S1", *outlets)], feeds=feeds)
    assert found(plan, "P18") == [("damage", BOTH)]


def test_a_limit_that_hangs_on_an_unknown_permission_is_unknown() -> None:
    plan = joined_board("parallel", drawing(150), permitted("1"), permitted("2", parallel_ok=None))
    assert rows(plan) == [(75, None, None), (75, None, None)]


def test_two_outlets_without_an_adapter_and_an_adapter_without_a_second_outlet_are_unknown() -> None:
    assert found(joined_board("", drawing(50)), "P15") == [("unknown", BOTH)]
    lone = board(drawing(50), supplies=[supply()], feeds=[feed("S1.1", "P1.DC", adapters=("parallel",))])
    assert found(lone, "P15") == [("unknown", ("S1.1", "P1.DC"))]


def test_three_outlets_are_more_than_a_doubler_joins() -> None:
    outlets = [permitted(str(n)) for n in range(1, 4)]
    feeds = [feed(["S1.1", "S1.2", "S1.3"], "P1.DC", adapters=("parallel",))]
    plan = board(drawing(50), supplies=[supply("S1", *outlets)], feeds=feeds)
    assert found(plan, "P15") == [("fault", ("S1.1", "S1.2", "S1.3", "P1.DC"))]


@pytest.mark.parametrize("adapter", ["parallel", "series"])
def test_a_supply_s_power_does_not_depend_on_how_outlets_are_joined(adapter: str) -> None:
    a_pedal = eighteen(70) if adapter == "series" else drawing(70)
    (row,) = compute_power(joined_board(adapter, a_pedal)).supplies
    assert row.load_mw == (18000 if adapter == "series" else 9000) * 70 // 1000
