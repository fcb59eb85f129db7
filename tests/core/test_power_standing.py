"""The word for how a load stands to its limit, and what it leaves; by hand: spare = limit - load."""

import pytest

from boardshop.core.power import compute_power
from boardshop.core.printing import as_json
from boardshop.core.shop_rules import Rules
from tests.core.builders import board, feed, outlet, supply
from tests.core.feeding_cases import drawing, fed_board, selectable


@pytest.mark.parametrize(
    ("load", "spare", "excess", "standing"),
    [
        (79, 21, 0, "within"),
        (80, 20, 0, "within"),
        (81, 19, 0, "above"),
        (100, 0, 0, "above"),
        (101, -1, 1, "over"),
    ],
)
def test_an_outlet_of_100_ma_planned_to_80(load: int, spare: int, excess: int, standing: str) -> None:
    (row,) = compute_power(fed_board(drawing(load))).outlets
    assert (row.spare_ma, row.excess_ma, row.standing) == (spare, excess, standing)


def test_an_outlet_that_feeds_nothing_is_free() -> None:
    (row,) = compute_power(board(drawing(10), supplies=[supply("S1", outlet("1"))])).outlets
    assert (row.spare_ma, row.standing) == (None, "free")


def test_a_draw_that_nobody_recorded_is_never_within() -> None:
    (row,) = compute_power(fed_board(drawing(None))).outlets
    assert (row.spare_ma, row.standing) == (100, "unknown")


def test_what_is_known_may_be_too_much_already() -> None:
    plan = board(
        drawing(101, "P1"),
        drawing(None, "P2"),
        supplies=[supply("S1", outlet("1"))],
        feeds=[feed("S1.1", "P1.DC"), feed("S1.1", "P2.DC")],
    )
    assert compute_power(plan).outlets[0].standing == "over"


def test_without_a_limit_there_is_nothing_to_stand_to() -> None:
    (row,) = compute_power(fed_board(drawing(10), outlet("1", max_ma=None))).outlets
    assert (row.spare_ma, row.standing) == (None, "unlimited")


@pytest.mark.parametrize(
    ("limit", "spare", "standing"), [(899, -1, "over"), (900, 0, "above"), (1125, 225, "within")]
)
def test_a_supply_in_mw(limit: int, spare: int, standing: str) -> None:
    """100 mA at 9 V are 900 mW; 80 % of 1125 mW are 900 mW."""
    plan = board(
        drawing(100),
        supplies=[supply("S1", outlet("1", max_ma=500), limit_mw=limit)],
        feeds=[feed("S1.1", "P1.DC")],
    )
    (row,) = compute_power(plan).supplies
    assert (row.spare, row.standing) == (spare, standing)


def test_a_supply_of_unknown_voltage_is_unknown() -> None:
    plan = board(
        drawing(100), supplies=[supply("S1", selectable("1"), limit_mw=9000)], feeds=[feed("S1.1", "P1.DC")]
    )
    assert compute_power(plan).supplies[0].standing == "unknown"


def test_a_group_in_ma() -> None:
    outlets = [outlet(str(n), max_ma=500, group="A", group_max_ma=300) for n in (1, 2)]
    plan = board(
        drawing(200, "P1"),
        drawing(130, "P2"),
        supplies=[supply("S1", *outlets)],
        feeds=[feed("S1.1", "P1.DC"), feed("S1.2", "P2.DC")],
    )
    (row,) = compute_power(plan).groups
    assert (row.load_ma, row.spare, row.excess, row.standing) == (330, -30, 30, "over")


def test_the_printed_report_keeps_its_keys() -> None:
    printed = as_json(compute_power(fed_board(drawing(50))))
    assert isinstance(printed, dict)
    assert set(printed["outlets"][0]) == {  # type: ignore[index,call-overload,arg-type]
        "ref",
        "setting_mv",
        "load_ma",
        "limit_ma",
        "load_percent",
        "feeds",
    }


def test_what_is_planned_is_all_but_the_headroom() -> None:
    assert Rules(headroom_percent=25).planned_percent == 75
