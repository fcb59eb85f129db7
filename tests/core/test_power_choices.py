"""Every outlet as a choice for a jack, judged by the same rules as the feeds that are there."""

from dataclasses import replace

import pytest

from boardshop.core.plan import BoardPlan, OutletSetting
from boardshop.core.power import compute_power, is_wrongly_fed, judge_feed, list_choices, make_feeding
from tests.core.builders import board, draws, feed, outlet, pedal, supply
from tests.core.feeding_cases import drawing, fed_board, selectable, shared_board


def mixed_board() -> BoardPlan:
    """P2 waits; P1 has S1.1, S1.2 is the wrong way round, S1.3 has a switch, S1.4 is free and right."""
    outlets = [outlet("1"), outlet("2", polarity="centre-positive"), selectable("3"), outlet("4")]
    return board(
        drawing(60, "P1"),
        drawing(60, "P2", share="never"),
        supplies=[supply("S1", *outlets)],
        feeds=[feed("S1.1", "P1.DC")],
    )


def test_every_outlet_at_every_setting_with_its_verdict() -> None:
    choices = list_choices(mixed_board(), "P2.DC")
    assert [(c.outlet, c.setting_mv, c.verdict, c.load_percent) for c in choices] == [
        ("S1.1", 9000, "fault", 120.0),
        ("S1.2", 9000, "damage", 60.0),
        ("S1.3", 9000, "advice", 12.0),
        ("S1.3", 18000, "damage", 24.0),
        ("S1.4", 9000, "right", 60.0),
    ]


def test_a_reverser_changes_the_choices() -> None:
    turned = {c.outlet: c.verdict for c in list_choices(mixed_board(), "P2.DC", ("reverser",))}
    assert turned["S1.2"] == "right"
    assert turned["S1.4"] == "damage"


def test_the_outlet_that_feeds_the_jack_now_does_not_count_it_twice() -> None:
    first = list_choices(mixed_board(), "P1.DC")[0]
    assert (first.load_ma, first.verdict) == (60, "right")


def test_a_choice_names_the_other_jacks_that_its_outlet_feeds() -> None:
    assert [c.feeds for c in list_choices(mixed_board(), "P2.DC")] == [("P1.DC",), (), (), (), ()]
    assert list_choices(mixed_board(), "P1.DC")[0].feeds == ()


def test_a_choice_whose_load_leaves_out_a_draw_says_so() -> None:
    plan = replace(mixed_board(), pedals=(drawing(None, "P1"), drawing(60, "P2")))
    assert [(c.load_ma, c.is_partial) for c in list_choices(plan, "P2.DC")][:2] == [(60, True), (60, False)]


def test_an_outlet_in_use_keeps_its_setting() -> None:
    plan = replace(mixed_board(), feeds=(feed("S1.3", "P1.DC", 18000),))
    assert [c.setting_mv for c in list_choices(plan, "P2.DC") if c.outlet == "S1.3"] == [18000]


@pytest.mark.parametrize(("nominal", "offered"), [(5000, 6000), (9000, 9000), (15000, 12000), (None, 6000)])
def test_a_variable_outlet_is_offered_nearest_to_the_need(nominal: int | None, offered: int) -> None:
    variable = outlet("1", settings=(OutletSetting(6000, 12000, 100),))
    plan = board(draws(pedal("P1"), nominal=nominal, min=None, max=None), supplies=[supply("S1", variable)])
    assert [c.setting_mv for c in list_choices(plan, "P1.DC")] == [offered]


def test_choices_say_what_the_report_says_once_chosen() -> None:
    plan = mixed_board()
    for choice in list_choices(plan, "P2.DC"):
        chosen = replace(plan, feeds=(*plan.feeds, feed(choice.outlet, "P2.DC", choice.setting_mv)))
        told = compute_power(chosen).findings
        assert set(choice.findings) <= set(told)
        assert {f for f in told if "P2.DC" in f.subjects} <= set(choice.findings)


def test_judging_a_feed_says_what_the_report_says_of_its_jacks() -> None:
    plan = shared_board(draws(pedal("P1"), ground_pole="positive"), pedal("P2"), pedal("P3", "delay"))
    judged = judge_feed(plan, plan.feeds[0])
    told = {f for f in compute_power(plan).findings if {"P1.DC", "P1", "S1/A"} & set(f.subjects)}
    assert set(judged) == told


def wrong(plan: BoardPlan) -> bool | None:
    feeding = make_feeding(plan)
    return is_wrongly_fed(feeding, feeding.connections[0], feeding.connections[0].jacks[0])


@pytest.mark.parametrize(
    ("needs", "expected"),
    [
        ({}, False),
        ({"rated": 90}, False),  # above headroom is not wrong
        ({"rated": 101}, True),
        ({"polarity": "centre-positive"}, True),
        ({"current": "ac"}, True),
        ({"max": 8900, "nominal": 8500}, True),
        ({"min": 9100, "nominal": 9500}, True),
        ({"connector": "snap"}, True),
        ({"polarity": None}, None),
        ({"polarity": None, "rated": 101}, True),
    ],
)
def test_wrongly_fed(needs: dict[str, object], expected: bool | None) -> None:
    assert wrong(fed_board(draws(pedal("P1"), **needs))) is expected


@pytest.mark.parametrize(
    ("share", "expected"), [("ok", False), ("poor", True), ("never", True), (None, None)]
)
def test_sharing_without_standing_it_is_wrong(share: str | None, expected: bool | None) -> None:
    plan = fed_board(drawing(20, share=share))
    shared = replace(
        plan, pedals=(*plan.pedals, drawing(20, "P2")), feeds=(*plan.feeds, feed("S1.1", "P2.DC"))
    )
    assert wrong(shared) is expected
    assert wrong(plan) is False


def test_a_supply_past_its_power_is_wrong_for_all_it_feeds() -> None:
    plan = fed_board(drawing(50))
    assert wrong(replace(plan, supplies=(replace(plan.supplies[0], limit_mw=449),))) is True
    assert wrong(replace(plan, supplies=(replace(plan.supplies[0], limit_mw=450),))) is False


def test_unlike_ground_poles_are_wrong_for_both() -> None:
    plan = shared_board(pedal("P1"), draws(pedal("P2"), ground_pole="positive"))
    feeding = make_feeding(plan)
    assert [is_wrongly_fed(feeding, c, c.jacks[0]) for c in feeding.connections] == [True, True]
