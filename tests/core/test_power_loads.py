"""What outlets, groups and supplies carry: worked examples, boundaries and conservation of the sums."""

from dataclasses import replace
from itertools import permutations
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boardshop.core.plan import BoardPlan, Feed, Outlet, Pedal, Rules
from boardshop.core.power import compute_power, is_wrongly_fed, judge_feed, make_feeding
from boardshop.core.printing import as_json
from tests.core.builders import board, draws, feed, outlet, pedal, supply
from tests.core.feeding_cases import (
    chained_board,
    drawing,
    fed_board,
    finding_of,
    found,
    said,
    selectable,
    shared_board,
)

SEVEN = (  # ref, kind, mA, outlet as first wired
    ("P1", "tuner", 45, "A"),
    ("P2", "overdrive", 18, "B"),
    ("P3", "delay", 180, "C"),
    ("P4", "chorus", 60, "D"),
    ("P5", "fuzz", 4, "E"),
    ("P6", "reverb", 230, "F"),
)


def ten_volt_supply() -> Any:
    outlets = [outlet(name, max_ma=100) for name in "ABCD"]
    outlets += [outlet(name, max_ma=300) for name in "EF"]
    return supply("S1", *outlets, selectable("G"), limit_mw=12000)


def boost(nominal: int = 18000) -> Pedal:
    return draws(pedal("P7", "boost"), nominal=nominal, min=8500, max=18000, rated=12)


def seven_pedals(outlets: str = "ABCDEF", *more: Feed, others: tuple[Pedal, ...] = ()) -> BoardPlan:
    """Six pedals at 9 V on the named outlets, the boost at 18 V on G unless other feeds say so."""
    pedals = [drawing(ma, ref) for ref, _, ma, _ in SEVEN]
    feeds = [feed(f"S1.{name}", f"P{n}.DC") for n, name in enumerate(outlets, start=1)]
    feeds += more or (feed("S1.G", "P7.DC", 18000),)
    return board(*pedals, boost(), *others, supplies=[ten_volt_supply()], feeds=feeds)


def percents(plan: BoardPlan) -> dict[str, float | None]:
    return {row.ref: row.load_percent for row in compute_power(plan).outlets}


# Worked example: seven pedals, one outlet overloaded.


def test_the_delay_overloads_its_outlet_and_nothing_else_is_wrong() -> None:
    plan = seven_pedals()
    assert percents(plan)["S1.C"] == 180.0
    assert said(plan) == [("P08", "fault"), ("P24", "advice")]
    assert found(plan, "P08") == [("fault", ("S1.C", "P3.DC"))]


def test_two_lead_moves_cure_it() -> None:
    plan = seven_pedals("ABEDCF")
    assert percents(plan) == {
        "S1.A": 45.0,
        "S1.B": 18.0,
        "S1.C": 4.0,
        "S1.D": 60.0,
        "S1.E": 60.0,
        "S1.F": 76.7,
        "S1.G": 4.8,
    }
    (row,) = compute_power(plan).supplies
    assert (row.load_mw, row.limit_mw, row.load_percent) == (5049, 12000, 42.1)
    assert said(plan) == [("P24", "advice")]


def test_forty_eight_assignments_keep_the_headroom() -> None:
    kept = [
        names for names in permutations("ABCDEF") if said(seven_pedals("".join(names))) == [("P24", "advice")]
    ]
    assert len(kept) == 48
    moves = sorted(sum(a != b for a, b in zip(names, "ABCDEF", strict=True)) for names in kept)
    assert moves[:2] == [2, 3]  # the cure with two moves is the only one


# Worked example: an eighth pedal, two of the others on one outlet.


@pytest.mark.parametrize(("shared", "percent"), [("B", 30.0), ("D", 72.0)])
def test_the_eighth_pedal_takes_g_and_the_boost_shares(shared: str, percent: float) -> None:
    pitch = drawing(320, "P8")
    moved = (feed(f"S1.{shared}", "P7.DC"), feed("S1.G", "P8.DC", 9000))
    plan = seven_pedals("ABEDCF", *moved, others=(pitch,))
    assert percents(plan)["S1.G"] == 64.0
    assert percents(plan)[f"S1.{shared}"] == percent
    (row,) = compute_power(plan).supplies
    assert (row.load_mw, row.load_percent) == (7821, 65.2)
    assert said(plan) == [("P24", "advice")]


# Boundaries.


@pytest.mark.parametrize(
    ("load_ma", "expected"),
    [
        (79, []),
        (80, []),
        (81, ["advice"]),
        (99, ["advice"]),
        (100, ["advice"]),
        (101, ["fault"]),
    ],
)
def test_headroom_and_limit_of_an_outlet(load_ma: int, expected: list[str]) -> None:
    plan = fed_board(drawing(load_ma))
    assert found(plan, "P08") == [(severity, ("S1.1", "P1.DC")) for severity in expected]


@pytest.mark.parametrize(("load_ma", "expected"), [(69, 0), (70, 0), (71, 1)])
def test_headroom_is_the_shop_s_rule(load_ma: int, expected: int) -> None:
    plan = replace(fed_board(drawing(load_ma)), rules=Rules(headroom_percent=30))
    assert len(found(plan, "P08")) == expected


@pytest.mark.parametrize(
    ("limit_mw", "expected"), [(179, ["fault"]), (180, ["advice"]), (224, ["advice"]), (225, []), (226, [])]
)
def test_headroom_and_limit_of_a_supply(limit_mw: int, expected: list[str]) -> None:
    plan = fed_board(drawing(20))  # 180 mW
    plan = replace(plan, supplies=(replace(plan.supplies[0], limit_mw=limit_mw),))
    assert found(plan, "P10") == [(severity, ("S1",)) for severity in expected]


@pytest.mark.parametrize(
    ("group_max", "expected"), [(39, ["fault"]), (40, ["advice"]), (49, ["advice"]), (50, []), (None, [])]
)
def test_headroom_and_limit_of_a_group(group_max: int | None, expected: list[str]) -> None:
    plan = shared_board(drawing(20, "P1"), drawing(20, "P2"), group_max_ma=group_max)
    assert found(plan, "P08") == [(severity, ("S1/A",)) for severity in expected]


@pytest.mark.parametrize(("peak", "expected"), [(99, []), (100, []), (101, [("fault", ("S1.1", "P1.DC"))])])
def test_a_peak_above_the_limit(peak: int, expected: list[Any]) -> None:
    assert found(fed_board(drawing(20, peak=peak)), "P09") == expected


def test_peaks_that_only_together_pass_the_limit() -> None:
    plan = chained_board(drawing(20, "P1", peak=60), drawing(20, "P2", peak=60))
    assert found(plan, "P09") == [("fault", ("S1.1", "P1.DC", "P2.DC"))]
    assert found(plan, "P08") == []


def test_the_boot_peak_of_a_digital_pedal_is_asked_for() -> None:
    digital = pedal("P1", "delay", circuit="digital")
    assert said(fed_board(digital)) == [("P09", "unknown")]
    assert said(fed_board(draws(digital, peak=40))) == []


# What is not known, and what is not limited.


def test_an_unknown_limit_gives_no_percentage_and_is_reported_once() -> None:
    plan = fed_board(drawing(50), outlet("1", max_ma=None))
    assert percents(plan) == {"S1.1": None}
    assert said(plan) == [("P08", "unknown")]


def test_an_unknown_draw_leaves_the_sum_of_the_known() -> None:
    plan = chained_board(drawing(50, "P1"), drawing(None, "P2"))
    assert percents(plan) == {"S1.1": 50.0}
    assert found(plan, "P27") == [("unknown", ("S1.1", "P2.DC"))]


def partial(plan: BoardPlan) -> dict[str, tuple[bool, bool]]:
    """Whether the mA and the mW of each group and supply leave something out."""
    section = compute_power(plan)
    return {row.ref: (row.is_partial, row.is_mw_partial) for row in (*section.groups, *section.supplies)}


def test_a_sum_that_leaves_out_an_unknown_draw_says_so() -> None:
    plan = chained_board(drawing(50, "P1"), drawing(None, "P2"))
    assert partial(plan) == {"S1": (True, True)}
    assert [row.is_partial for row in compute_power(plan).outlets] == [True]


def test_a_sum_of_milliwatts_that_leaves_out_a_load_at_an_unknown_voltage_says_so() -> None:
    plan = fed_board(drawing(50), selectable("1"), setting=None)
    (row,) = compute_power(plan).supplies
    assert (row.load_ma, row.load_mw) == (50, 0)
    assert partial(plan) == {"S1": (False, True)}


def test_a_load_of_nothing_is_nothing_at_any_voltage() -> None:
    assert partial(fed_board(drawing(0), selectable("1"), setting=None)) == {"S1": (False, False)}


def test_a_sum_that_counts_everything_says_so() -> None:
    plan = shared_board(drawing(20, "P1"), drawing(20, "P2"))
    assert partial(plan) == {"S1/A": (False, False), "S1": (False, False)}
    assert not any(row.is_partial for row in compute_power(plan).outlets)


def test_only_the_group_with_the_unknown_draw_is_partial() -> None:
    outlets = [outlet("1", group="A"), outlet("2", group="B")]
    feeds = [feed("S1.1", "P1.DC"), feed("S1.2", "P2.DC")]
    plan = board(drawing(20, "P1"), drawing(None, "P2"), supplies=[supply("S1", *outlets)], feeds=feeds)
    assert partial(plan) == {"S1/A": (False, False), "S1/B": (True, True), "S1": (True, True)}


def test_an_overload_of_a_partial_sum_is_called_the_least_it_can_be() -> None:
    plan = chained_board(drawing(120, "P1"), drawing(None, "P2"))
    assert "carries at least 120 mA of 100 mA" in finding_of(plan, "P08").message


def test_what_the_report_prints_has_the_format_s_keys_and_no_others() -> None:
    # The board-file format fixes them: outlets without mW, groups and supplies with it.
    printed = as_json(compute_power(chained_board(drawing(50, "P1"), drawing(None, "P2"))))
    outlets = ["ref", "setting_mv", "load_ma", "limit_ma", "load_percent", "feeds"]
    assert list(printed["outlets"][0]) == outlets
    assert list(printed["supplies"][0]) == [*outlets, "load_mw", "limit_mw"]


def test_a_supply_with_no_power_limit_stated_has_no_percentage_and_no_finding() -> None:
    plan = fed_board()
    assert compute_power(plan).supplies[0].load_percent is None
    assert said(plan) == []


def test_an_outlet_that_feeds_nothing_has_neither_setting_nor_limit() -> None:
    row = compute_power(board(supplies=[supply()])).outlets[0]
    assert (row.setting_mv, row.load_ma, row.limit_ma, row.load_percent, row.feeds) == (
        None,
        0,
        None,
        None,
        (),
    )


def test_an_outlet_that_may_give_nothing_is_overloaded_by_anything() -> None:
    assert found(fed_board(drawing(1), outlet("1", max_ma=0)), "P08") == [("fault", ("S1.1", "P1.DC"))]
    assert found(fed_board(drawing(0), outlet("1", max_ma=0)), "P08") == []


def test_the_setting_recorded_on_one_feed_holds_for_all_of_the_outlet() -> None:
    plan = board(
        drawing(100, "P1", max=18000),
        drawing(100, "P2", max=18000),
        supplies=[supply("S1", selectable("1"))],
        feeds=[feed("S1.1", "P1.DC"), feed("S1.1", "P2.DC", 18000)],
    )
    row = compute_power(plan).outlets[0]
    assert (row.setting_mv, row.limit_ma, row.load_percent) == (18000, 250, 80.0)


def test_an_overload_says_which_setting_its_limit_belongs_to() -> None:
    plan = fed_board(drawing(300, max=18000, nominal=18000), selectable(), 18000)
    assert "300 mA of 250 mA at 18 V, 120.0 %" in finding_of(plan, "P08").message


# Conservation.


@given(st.lists(st.tuples(st.integers(0, 400), st.integers(0, 5)), max_size=12))
def test_loads_of_outlets_groups_and_supplies_are_the_loads_of_the_jacks(
    draws_at: list[tuple[int, int]],
) -> None:
    outlets: list[Outlet] = [outlet(str(n), group="A" if n < 3 else None) for n in range(6)]
    pedals = [drawing(ma, f"P{n}") for n, (ma, _) in enumerate(draws_at)]
    feeds = [feed(f"S1.{where}", f"P{n}.DC") for n, (_, where) in enumerate(draws_at)]
    section = compute_power(board(*pedals, supplies=[supply("S1", *outlets)], feeds=feeds))
    total = sum(ma for ma, _ in draws_at)
    assert sum(row.load_ma for row in section.outlets) == section.supplies[0].load_ma == total
    assert section.groups[0].load_ma == sum(ma for ma, where in draws_at if where < 3)
    assert section.supplies[0].load_mw == total * 9
    assert sum(len(row.feeds) for row in section.outlets) == len(draws_at)


def test_a_group_is_passed_by_three_small_loads_and_each_is_wrongly_fed() -> None:
    plan = shared_board(*(drawing(40, f"P{n}") for n in (1, 2, 3)), group_max_ma=100)
    feeding = make_feeding(plan)
    assert all(is_wrongly_fed(feeding, c, c.jacks[0]) for c in feeding.connections)
    assert "120 mA of 100 mA" in finding_of(plan, "P08").message


def test_judging_a_feed_shows_the_load_it_would_make() -> None:
    plan = fed_board(drawing(60))
    plan = replace(plan, pedals=(*plan.pedals, drawing(60, "P2")))
    tried = judge_feed(plan, feed("S1.1", "P2.DC"))
    assert ("P08", "fault", ("S1.1", "P1.DC", "P2.DC")) in [(f.rule, f.severity, f.subjects) for f in tried]
