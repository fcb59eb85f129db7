"""What a meter reading says: boundary triples, the unknowns, and the cases that destroy gear."""

import json
from collections import Counter
from itertools import product
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings

from boardshop.core.boardfile import load_plan_text
from boardshop.core.plan import BoardPlan
from boardshop.core.power import compute_power
from boardshop.core.power.first_power import PowerStep, list_power_steps
from boardshop.core.power.readings import (
    AS_PLANNED,
    CANNOT_BE_TOLD,
    DO_NOT_PLUG,
    NOT_METERED,
    OFF_PLAN,
    PUT_RIGHT,
    READ_AS,
    STATES,
    Reading,
    judge_load,
    judge_plug,
    judge_reading,
    name_state,
)
from tests.core.builders import board, draws, feed, outlet, pedal, supply
from tests.core.feeding_cases import chained_board, fed_board, joined_board, selectable, shared_board
from tests.core.random_boards import documents

NEGATIVE, POSITIVE = "centre-negative", "centre-positive"


def step_of(plan: BoardPlan, end: str = "P1.DC") -> PowerStep:
    (step,) = [one for one in list_power_steps(plan, compute_power(plan).findings) if one.end == end]
    return step


def at_plug(plan: BoardPlan, mv: int | None, polarity: str | None = NEGATIVE) -> list[tuple[str, str]]:
    return [(one.rule, one.severity) for one in judge_plug(step_of(plan), Reading(mv, polarity))]


def needing(**needs: Any) -> BoardPlan:
    return fed_board(draws(pedal("P1"), **needs))


def giving(**values: Any) -> BoardPlan:
    return fed_board(an_outlet=outlet("1", **values))


def state(plan: BoardPlan, mv: int | None, polarity: str | None = NEGATIVE) -> str:
    return name_state(judge_plug(step_of(plan), Reading(mv, polarity)), is_read=mv is not None)


# The words.


def test_nothing_read_is_not_metered_and_says_nothing() -> None:
    assert judge_reading(step_of(fed_board()), Reading()) == ()
    assert state(fed_board(), None) == NOT_METERED


def test_the_right_reading_is_as_planned() -> None:
    assert at_plug(fed_board(), 9000) == []
    assert state(fed_board(), 9000) == AS_PLANNED


def test_no_word_calls_anything_safe() -> None:
    assert not any("safe" in word or "ok" in word.split() for word in STATES)


def test_a_plug_that_the_plan_bars_is_not_plugged_before_it_is_metered() -> None:
    assert state(needing(polarity=POSITIVE), None) == DO_NOT_PLUG


# Polarity and kind of current at the plug: what destroys gear.


def test_wrong_polarity_is_damage() -> None:
    assert at_plug(fed_board(), 9000, POSITIVE) == [("P05", "damage")]
    assert state(fed_board(), 9000, POSITIVE) == DO_NOT_PLUG


def test_a_reverser_that_nobody_recorded_cures_a_planned_fault_and_is_told() -> None:
    assert at_plug(needing(polarity=POSITIVE), 9000, POSITIVE) == [("P05", "caution")]
    assert state(needing(polarity=POSITIVE), 9000, POSITIVE) == OFF_PLAN


def test_the_meter_counts_after_the_adapters() -> None:
    plan = fed_board(draws(pedal("P1"), polarity=POSITIVE), adapters=("reverser",))
    assert at_plug(plan, 9000, POSITIVE) == []
    assert at_plug(plan, 9000, NEGATIVE) == [("P05", "damage")]


def test_a_converter_is_settled_by_the_meter() -> None:
    plan = fed_board(draws(pedal("P1"), connector="3.5 mono"), adapters=("converter",))
    assert at_plug(plan, 9000, NEGATIVE) == []
    assert at_plug(plan, 9000, POSITIVE) == [("P05", "damage")]


def test_ac_at_a_dc_pedal_is_damage() -> None:
    assert at_plug(fed_board(), 9000, "ac") == [("P01", "damage")]


def test_dc_at_an_ac_pedal_is_a_fault() -> None:
    plan = fed_board(draws(pedal("P1"), current="ac"), outlet("1", current="ac"))
    assert at_plug(plan, 9000, "ac") == []
    assert at_plug(plan, 9000, NEGATIVE) == [("P02", "fault")]


def test_unlike_ground_poles_bar_the_plug_whatever_the_meter_reads() -> None:
    plan = shared_board(draws(pedal("P1"), ground_pole="positive"), pedal("P2"))
    assert at_plug(plan, 9000) == [("P06", "damage")]


# Unknown is unknown.


def test_a_polarity_that_was_not_read_cannot_be_told() -> None:
    assert at_plug(fed_board(), 9000, None) == [("P05", "unknown")]
    assert state(fed_board(), 9000, None) == CANNOT_BE_TOLD


def test_a_keyed_plug_needs_no_polarity() -> None:
    plan = fed_board(
        draws(pedal("P1"), connector="USB", polarity=None, nominal=5000, min=4750, max=5250),
        outlet("1", mv=5000, connector="USB", polarity=None),
        lead=None,
    )
    assert at_plug(plan, 5000, None) == []


def test_a_jack_of_unknown_polarity_cannot_be_told() -> None:
    assert at_plug(needing(polarity=None), 9000) == [("P05", "unknown")]


def test_a_jack_of_unknown_current_cannot_be_told_either_way() -> None:
    assert at_plug(needing(current=None), 9000, "ac")[0] == ("P01", "unknown")
    assert at_plug(needing(current=None), 9000, NEGATIVE) == [("P02", "unknown")]


def test_without_a_recorded_setting_nobody_can_say_that_it_is_as_planned() -> None:
    plan = fed_board(an_outlet=selectable())
    assert at_plug(plan, 9000) == [("P28", "unknown")]
    assert at_plug(plan, 18_000) == [("P03", "damage"), ("P28", "unknown")]


def test_outlets_joined_in_an_unknown_way_cannot_be_told() -> None:
    assert at_plug(joined_board("", pedal("P1")), 9000) == [("P15", "unknown")]


# What the jack allows, 8.5 to 9.6 V: below, at, above.


@pytest.mark.parametrize(
    ("mv", "expected"),
    [
        (9599, ("P28", "caution")),
        (9600, ("P28", "caution")),
        (9601, ("P03", "damage")),
        (8501, ("P28", "caution")),
        (8500, ("P28", "caution")),
        (8499, ("P04", "fault")),
    ],
)
def test_the_jacks_own_range(mv: int, expected: tuple[str, str]) -> None:
    assert at_plug(fed_board(), mv)[0] == expected


def test_too_little_is_put_right_first() -> None:
    assert state(fed_board(), 8000) == PUT_RIGHT


def test_no_voltage_at_all_is_a_fault_of_its_own() -> None:
    assert at_plug(fed_board(), 0, None) == [("P30", "fault")]


# 5 % off 9 V is 8.55 to 9.45 V (common practice for regulated outlets).


@pytest.mark.parametrize(
    ("mv", "expected"),
    [
        (8549, [("P28", "caution")]),
        (8550, []),
        (8551, []),
        (9449, []),
        (9450, []),
        (9451, [("P28", "caution")]),
    ],
)
def test_the_tolerance_around_the_setting(mv: int, expected: list[tuple[str, str]]) -> None:
    assert at_plug(fed_board(), mv) == expected


def test_off_the_setting_of_a_switch_asks_for_the_switch() -> None:
    plan = fed_board(draws(pedal("P1"), max=18_000), selectable(), setting=9000)
    assert at_plug(plan, 18_000) == [("P24", "caution")]


# Only the label is known, 9 V: within its tolerance it is the label, beyond it nobody knows.


@pytest.mark.parametrize(
    ("mv", "expected"), [(9449, []), (9450, []), (9451, [("P03", "unknown"), ("P28", "caution")])]
)
def test_above_the_label_of_a_pedal_without_a_recorded_most(mv: int, expected: list[tuple[str, str]]) -> None:
    assert at_plug(needing(max=None), mv) == expected


@pytest.mark.parametrize(
    ("mv", "expected"), [(8551, []), (8550, []), (8549, [("P04", "unknown"), ("P28", "caution")])]
)
def test_below_the_label_of_a_pedal_without_a_recorded_least(
    mv: int, expected: list[tuple[str, str]]
) -> None:
    assert at_plug(needing(min=None), mv) == expected


# Not regulated: 9 V reads 11.7 to 14.4 V without load (common practice), and the most still holds.


def test_an_unregulated_outlet_reads_high_and_is_still_compared_with_the_most() -> None:
    plan = giving(regulated=False)
    assert at_plug(plan, 12_000) == [("P03", "damage")]


@pytest.mark.parametrize(
    ("mv", "expected"),
    [
        # 11 700 less 5 % is 11 115, 14 400 and 5 % is 15 120.
        (11_114, [("P28", "caution")]),
        (11_115, []),
        (11_116, []),
        (15_119, []),
        (15_120, []),
        (15_121, [("P28", "caution")]),
    ],
)
def test_the_usual_range_of_an_unregulated_outlet(mv: int, expected: list[tuple[str, str]]) -> None:
    plan = fed_board(draws(pedal("P1"), max=18_000), outlet("1", regulated=False))
    assert at_plug(plan, mv) == expected


def test_where_nobody_knows_whether_it_is_regulated_both_readings_are_usual() -> None:
    plan = fed_board(draws(pedal("P1"), max=18_000), outlet("1", regulated=None))
    assert at_plug(plan, 9000) == at_plug(plan, 14_400) == []


def test_a_series_sum_is_what_is_expected() -> None:
    plan = joined_board("series", draws(pedal("P1"), nominal=18_000, min=17_000, max=18_500))
    assert at_plug(plan, 18_000) == []
    assert at_plug(plan, 9000)[0] == ("P04", "fault")


def test_a_pedal_starved_on_purpose_is_no_fault() -> None:
    plan = fed_board(draws(pedal("P1"), sag=True), outlet("1", mv=6000, sag=True))
    assert at_plug(plan, 6000) == [("P04", "advice")]
    assert state(plan, 6000) == AS_PLANNED


# The load, on an outlet of 100 mA.


def loaded(plan: BoardPlan, ma: int, **others: int) -> list[tuple[str, str]]:
    read = {f"{ref}.DC": value for ref, value in others.items()}
    return [(one.rule, one.severity) for one in judge_load(step_of(plan), ma, read)]


@pytest.mark.parametrize(
    ("ma", "expected"),
    [(80, []), (81, [("P08", "advice")]), (100, [("P08", "advice")]), (101, [("P08", "fault")])],
)
def test_a_load_against_the_outlets_limit(ma: int, expected: list[tuple[str, str]]) -> None:
    assert loaded(needing(rated=500), ma) == expected


@pytest.mark.parametrize(("ma", "expected"), [(19, []), (20, []), (21, [("P27", "caution")])])
def test_a_load_against_the_label(ma: int, expected: list[tuple[str, str]]) -> None:
    assert loaded(fed_board(), ma) == expected


def test_a_pedal_without_a_label_is_not_compared_with_one() -> None:
    assert loaded(needing(rated=None), 50) == []


def test_a_limit_that_nobody_recorded_leaves_the_load_open() -> None:
    assert loaded(giving(max_ma=None), 10) == [("P08", "unknown")]
    assert loaded(fed_board(an_outlet=selectable()), 10) == [("P08", "unknown")]


def test_others_on_the_outlet_count_as_read_then_as_recorded() -> None:
    plan = chained_board(*(draws(pedal(ref), rated=60) for ref in ("P1", "P2")))
    assert loaded(plan, 41) == [("P08", "fault")]
    assert loaded(plan, 41, P2=39) == []


def test_an_unknown_draw_on_the_same_outlet_leaves_the_sum_open() -> None:
    plan = chained_board(pedal("P1"), draws(pedal("P2"), rated=None))
    assert loaded(plan, 20) == [("P08", "unknown")]
    assert loaded(plan, 101)[0] == ("P08", "fault")


def test_halves_of_joined_outlets_are_judged_together() -> None:
    plan = joined_board("parallel", draws(pedal("P1"), rated=500))
    assert loaded(plan, 160) == []
    assert loaded(plan, 201) == [("P08", "fault")]


def test_a_groups_limit_and_the_supplys_power_count_as_well() -> None:
    plan = shared_board(pedal("P1"), draws(pedal("P2"), rated=60), group_max_ma=100)
    assert ("P08", "fault") in loaded(plan, 50)
    weak = board(
        draws(pedal("P1"), rated=500), supplies=[supply(limit_mw=450)], feeds=[feed("S1.1", "P1.DC")]
    )
    assert loaded(weak, 51) == [("P10", "fault")]


def test_a_pedal_that_draws_nothing_is_told() -> None:
    assert loaded(fed_board(), 0) == [("P30", "caution")]


def test_both_readings_together_come_worst_first() -> None:
    found = judge_reading(step_of(fed_board()), Reading(9000, POSITIVE, 101))
    assert [(one.rule, one.severity) for one in found] == [
        ("P05", "damage"),
        ("P08", "fault"),
        ("P27", "caution"),
    ]
    assert all(one.cure and one.basis for one in found)


# Any board that the format allows.


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
@given(documents())
def test_any_plug_of_any_board_can_be_judged(document: dict[str, object]) -> None:
    plan = load_plan_text(json.dumps(document))
    steps = list_power_steps(plan, compute_power(plan).findings)
    fed = sorted(jack.casefold() for feed in plan.feeds for jack in feed.jacks)
    assert sorted(step.end.casefold() for step in steps) == fed
    for step in steps:
        for seen in (None, *READ_AS):
            reading = Reading(step.expected_mv or 9000, seen, 100)
            found = judge_reading(step, reading)
            assert all(one.message and one.cure and one.basis for one in found)


# Every mix of what plan, jack and meter may say, against the plain sentence of what "as planned" means.


def test_as_planned_is_said_where_all_is_known_and_agrees_and_nowhere_else() -> None:
    words: Counter[str] = Counter()
    jacks = product(("dc", "ac", None), (NEGATIVE, POSITIVE, None), (9600, 8999, None), (8500, 9001, None))
    for current, polarity, most, least in jacks:
        if None not in (most, least) and least > most:
            continue
        for given_current, given_polarity in product(("dc", "ac", None), (NEGATIVE, None)):
            plan = fed_board(
                draws(pedal("P1"), current=current, polarity=polarity, max=most, min=least),
                outlet("1", current=given_current, polarity=given_polarity),
            )
            for seen in (None, *READ_AS):
                agrees = seen == "ac" if current == "ac" else current == "dc" and seen == polarity
                kind = "ac" if seen == "ac" else "dc"
                planned = given_current in (None, kind)
                planned = planned and (given_current == "ac" or given_polarity in (None, seen))
                wanted = agrees and seen is not None and most != 8999 and least != 9001
                said_word = state(plan, 9000, seen)
                assert (said_word == AS_PLANNED) == (wanted and planned), (plan, seen)
                words[said_word] += 1
    assert min(words[word] for word in (AS_PLANNED, OFF_PLAN, CANNOT_BE_TOLD, PUT_RIGHT, DO_NOT_PLUG)) > 5
