"""Rules of whole units: the venue's mains, protective earth, USB, batteries, and what waits for a feed."""

from dataclasses import replace
from typing import Any

import pytest

from boardshop.core.plan import BoardPlan, EndJack, Jack, Mains, Venue
from boardshop.core.power import compute_power
from tests.core.builders import board, computer, draws, feed, link, pedal, power_jack, supply, wired_board
from tests.core.feeding_cases import fed_board, found, said

WIDE = Mains(90_000, 264_000, (50, 60))
AMERICAN = Mains(108_000, 132_000, (60,))
EUROPEAN = Mains(207_000, 253_000, (50,))


def at(venue: Venue | None, mains: Mains | None) -> BoardPlan:
    return board(supplies=[supply("S1", mains=mains)], venue=venue)


@pytest.mark.parametrize(
    ("mains", "mv", "hz", "expected"),
    [
        (WIDE, 230_000, 50, []),
        (AMERICAN, 230_000, 60, ["damage"]),
        (EUROPEAN, 120_000, 50, ["fault"]),
        (AMERICAN, 120_000, 50, ["damage"]),  # the core is overdriven by 60/50
        (AMERICAN, 110_000, 50, ["caution"]),  # 132 V at 60 Hz is the ratio of 110 V at 50 Hz
        (AMERICAN, 110_001, 50, ["damage"]),
        (EUROPEAN, 230_000, 60, ["caution"]),
        (AMERICAN, 132_000, 60, []),
        (AMERICAN, 132_001, 60, ["damage"]),
        (AMERICAN, 108_000, 60, []),
        (AMERICAN, 107_999, 60, ["fault"]),
    ],
)
def test_a_supply_at_a_venue(mains: Mains, mv: int, hz: int, expected: list[str]) -> None:
    assert found(at(Venue(mv, hz), mains), "P20") == [(severity, ("S1",)) for severity in expected]


@pytest.mark.parametrize(
    ("mains", "venue", "unknowns"),
    [
        (None, None, 0),
        (Mains(), None, 0),
        (None, Venue(230_000, 50), 2),
        (Mains(None, 264_000, (50,)), Venue(230_000, 50), 1),
        (Mains(90_000, 264_000), Venue(230_000, 50), 1),
        (WIDE, Venue(230_000), 1),
        (WIDE, Venue(None, 50), 1),
    ],
)
def test_mains_are_unknown_only_where_a_venue_is_given(mains: Any, venue: Any, unknowns: int) -> None:
    assert found(at(venue, mains), "P20") == [("unknown", ("S1",))] * unknowns


@pytest.mark.parametrize(
    ("kind", "earthed", "severity"),
    [("I", False, "danger"), ("I", None, "unknown"), (None, None, "unknown"), (None, False, "unknown")],
)
def test_the_earth_of_a_supply(kind: str | None, earthed: bool | None, severity: str) -> None:
    plan = board(supplies=[supply("S1", protection_class=kind, earthed=earthed)])
    assert found(plan, "P21") == [(severity, ("S1",))]


@pytest.mark.parametrize(("kind", "earthed"), [("I", True), ("II", False), ("II", None)])
def test_other_supplies_need_no_earth_or_have_it(kind: str, earthed: bool | None) -> None:
    assert said(board(supplies=[supply("S1", protection_class=kind, earthed=earthed)])) == []


USB_PEDAL = pedal(
    "P1",
    jacks=(Jack("USB", "usb"),),
    power=(power_jack("V", connector="USB", nominal=5000, min=4750, max=5250),),
)


def test_power_over_usb_from_a_computer_is_noise() -> None:
    plan = board(USB_PEDAL, computers=[computer("M1")], links=[link("W1", "M1.USB", "P1.USB", carries="usb")])
    assert found(plan, "P22") == [("caution", ("P1", "M1"))]


def test_usb_power_from_a_supply_is_not() -> None:
    plan = board(USB_PEDAL, computers=[computer("M1")], links=[link("W1", "M1.USB", "P1.USB", carries="usb")])
    fed = replace(plan, supplies=(supply(),), feeds=(feed("S1.1", "P1.V"),))
    assert found(fed, "P22") == []
    assert found(replace(plan, links=()), "P22") == []


def test_a_battery_with_a_lead_in_drains() -> None:
    plan = wired_board(pedal("P1", battery=True, power=()))
    assert said(plan) == [("P25", "advice")]
    assert said(replace(plan, links=())) == []


# What waits for a feed.


def test_jacks_without_a_feed_wait_in_the_plan_s_order() -> None:
    two = pedal("P3", power=(power_jack("A"), power_jack("B")))
    plan = board(pedal("P1"), pedal("P2"), two, supplies=[supply()], feeds=[feed("S1.1", "P2.DC")])
    assert compute_power(plan).unfed == ("P1.DC", "P3.A", "P3.B")


@pytest.mark.parametrize(
    ("values", "unfed", "unknown"),
    [
        ({"battery": True}, (), False),
        ({"power": (), "circuit": "passive"}, (), False),
        ({"power": (), "kind": "expression", "jacks": ()}, (), False),
        ({"power": ()}, ("P1.DC",), True),
        ({"power": (), "jacks": ()}, (), True),
    ],
)
def test_pedals_without_power_data(values: dict[str, Any], unfed: tuple[str, ...], unknown: bool) -> None:
    plan = board(pedal("P1", **values))
    assert compute_power(plan).unfed == unfed
    assert found(plan, "P27") == ([("unknown", ("P1",))] if unknown else [])


def test_a_feed_into_a_jack_of_which_nothing_is_known_is_all_unknown() -> None:
    plan = fed_board(pedal("P1", power=()))
    assert {severity for _, severity in said(plan)} == {"unknown"}
    assert {"P02", "P03", "P04", "P05", "P14", "P27"} <= {rule for rule, _ in said(plan)}


def test_an_amp_s_jacks_take_no_feed() -> None:
    hub = computer("M1", jacks=(EndJack("USB", "usb"),))
    assert compute_power(board(computers=[hub])).unfed == ()


def test_needs_of_a_second_power_jack_are_judged_by_themselves() -> None:
    two = pedal("P1", power=(power_jack("A"), power_jack("B", polarity="centre-positive")))
    feeds = [feed("S1.1", "P1.A"), feed("S1.2", "P1.B")]
    plan = board(two, supplies=[supply()], feeds=feeds)
    assert found(plan, "P05") == [("damage", ("S1.2", "P1.B"))]
    assert draws(two, rated=1).power[1].rated == 20
