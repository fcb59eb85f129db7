"""May this outlet feed this jack: each rule of a single pairing, and the value it needs taken away."""

from dataclasses import replace
from typing import Any

import pytest

from boardshop.core.plan import BoardPlan, OutletSetting
from boardshop.core.power.matching import PAIR_TESTS
from boardshop.core.power.rules import RULES
from boardshop.core.vocabulary import CONNECTORS, SEVERITIES
from tests.core.builders import draws, outlet, pedal
from tests.core.feeding_cases import drawing, fed_board, finding_of, found, said, selectable, shared_board

PAIR = ("S1.1", "P1.DC")


def needing(**needs: Any) -> BoardPlan:
    return fed_board(draws(pedal("P1"), **needs))


def giving(**outlet_values: Any) -> BoardPlan:
    return fed_board(an_outlet=outlet("1", **outlet_values))


# Worked example: polarity and ground pole are two facts (outlet 9 V DC centre-negative).


def test_negative_ground_centre_negative_on_an_isolated_outlet_is_right() -> None:
    assert said(fed_board()) == []


def test_positive_ground_alone_on_an_isolated_outlet_needs_no_reverser() -> None:
    assert said(needing(ground_pole="positive")) == []


def test_positive_ground_patched_to_negative_ground_on_one_return_is_destroyed() -> None:
    plan = shared_board(draws(pedal("P1"), ground_pole="positive"), pedal("P2"))
    assert found(plan, "P06") == [("damage", ("P1", "P2"))]


def test_centre_positive_without_reverser_is_destroyed_and_with_one_is_right() -> None:
    a_pedal = draws(pedal("P1"), ground_pole="positive", polarity="centre-positive")
    assert said(fed_board(a_pedal)) == [("P05", "damage")]
    assert said(fed_board(a_pedal, adapters=("reverser",))) == []


def test_reverser_for_a_negative_ground_pedal_on_a_shared_return_is_only_noted() -> None:
    plan = shared_board(draws(pedal("P1"), polarity="centre-positive"), pedal("P2"))
    turned = replace(plan.feeds[0], adapters=("reverser",))
    assert said(replace(plan, feeds=(turned, plan.feeds[1]))) == [("P07", "advice")]


def test_reverser_does_not_cure_unlike_ground_poles() -> None:
    plan = shared_board(draws(pedal("P1"), polarity="centre-positive", ground_pole="positive"), pedal("P2"))
    turned = replace(plan.feeds[0], adapters=("reverser",))
    assert said(replace(plan, feeds=(turned, plan.feeds[1]))) == [("P06", "damage")]


def test_unknown_ground_pole_on_a_shared_return_cannot_be_checked() -> None:
    plan = shared_board(draws(pedal("P1"), ground_pole=None), pedal("P2"))
    assert found(plan, "P06") == [("unknown", PAIR)]
    assert "sleeve" in finding_of(plan, "P06").cure


# The kind of current.


@pytest.mark.parametrize(
    ("given", "taken", "expected"),
    [
        ("ac", "dc", [("P01", "damage")]),
        ("dc", "ac", [("P02", "fault")]),
        ("dc", "dc", []),
        ("ac", "ac", []),
        (None, "dc", [("P01", "unknown")]),
        ("ac", None, [("P01", "unknown")]),
        (None, None, [("P01", "unknown")]),
        ("dc", None, [("P02", "unknown")]),
        (None, "ac", [("P02", "unknown")]),
    ],
)
def test_kind_of_current(given: str | None, taken: str | None, expected: list[Any]) -> None:
    plan = fed_board(draws(pedal("P1"), current=taken), outlet("1", current=given))
    assert [pair for pair in said(plan) if pair[0] in ("P01", "P02")] == expected


# Voltage: P03, P04, P28.


@pytest.mark.parametrize(("mv", "expected"), [(9599, []), (9600, []), (9601, [("damage", PAIR)])])
def test_voltage_at_the_most_a_pedal_stands(mv: int, expected: list[Any]) -> None:
    assert found(giving(mv=mv), "P03") == expected


@pytest.mark.parametrize(("mv", "expected"), [(8499, [("fault", PAIR)]), (8500, []), (8501, [])])
def test_voltage_at_the_least_a_pedal_needs(mv: int, expected: list[Any]) -> None:
    lossless = fed_board(drawing(0), outlet("1", mv=mv))
    assert found(lossless, "P04") == expected


@pytest.mark.parametrize(
    ("mv", "needs", "expected"),
    [
        (9000, {"min": None, "max": None}, []),
        (9000, {"min": None, "max": None, "nominal": None}, [("P03", "unknown"), ("P04", "unknown")]),
        (9100, {"max": None}, [("P03", "unknown")]),
        (9100, {"min": None}, []),
        (8900, {"min": None}, [("P04", "unknown")]),
        (8900, {"max": None}, []),
        (9700, {"min": None}, [("P03", "damage")]),
        (8000, {"max": None}, [("P04", "fault")]),
    ],
)
def test_only_the_bound_that_decides_is_asked_for(
    mv: int, needs: dict[str, Any], expected: list[Any]
) -> None:
    assert said(fed_board(draws(pedal("P1"), **needs), outlet("1", mv=mv))) == expected


@pytest.mark.parametrize(
    ("most", "expected"),
    [
        (11699, ("damage", PAIR)),  # 9 V unregulated gives at least 1.3 x 9 = 11.7 V without load
        (11700, ("unknown", PAIR)),
        (14399, ("unknown", PAIR)),
        (14400, None),  # and at most 1.6 x 9 = 14.4 V (common practice)
    ],
)
def test_an_unregulated_outlet_is_judged_by_its_volts_without_load(most: int, expected: Any) -> None:
    plan = fed_board(draws(pedal("P1"), max=most), outlet("1", regulated=False))
    assert found(plan, "P03") == ([expected] if expected else [])


def test_unknown_regulation_matters_only_where_the_pedal_does_not_stand_more() -> None:
    assert found(giving(regulated=None), "P03") == [("unknown", PAIR)]
    tolerant = fed_board(draws(pedal("P1"), max=18000), outlet("1", regulated=None))
    assert said(tolerant) == []


def test_a_switch_with_no_position_recorded_is_unknown_and_nothing_else_is_silenced() -> None:
    plan = fed_board(draws(pedal("P1"), polarity="centre-positive"), selectable())
    assert said(plan) == [("P05", "damage"), ("P28", "unknown"), ("P24", "advice")]


def test_a_switch_of_which_every_position_destroys_the_pedal_is_found_at_once() -> None:
    settings = (OutletSetting(12000, 12000, 100), OutletSetting(18000, 18000, 100))
    assert found(giving(settings=settings), "P03") == [("damage", PAIR)]


def test_the_chosen_setting_is_judged_with_its_own_limit() -> None:
    plan = fed_board(draws(pedal("P1"), nominal=18000, min=9000, max=18000, rated=260), selectable(), 18000)
    assert said(plan) == [("P08", "fault"), ("P24", "advice")]


def test_a_setting_that_the_outlet_lacks_is_a_fault() -> None:
    plan = fed_board(draws(pedal("P1"), max=12000), selectable(), 12000)
    assert found(plan, "P28") == [("fault", PAIR)]
    assert "9 V and 18 V, not the 12 V" in finding_of(plan, "P28").message


@pytest.mark.parametrize(("mv", "offered"), [(5999, False), (6000, True), (9000, True), (9001, False)])
def test_a_variable_outlet_offers_its_whole_range(mv: int, offered: bool) -> None:
    plan = fed_board(
        drawing(0, min=5000, max=9600), outlet("1", settings=(OutletSetting(6000, 9000, 100),)), mv
    )
    assert (found(plan, "P28") == []) is offered


def test_an_outlet_without_any_voltage_recorded_is_unknown() -> None:
    assert found(giving(settings=()), "P28") == [("unknown", PAIR)]


# Sag outlets.


@pytest.mark.parametrize(
    ("circuit", "asked", "expected"),
    [
        ("analog", True, [("advice", PAIR)]),
        ("analog", False, [("fault", PAIR)]),
        ("digital", True, [("fault", PAIR)]),
        ("clocked", True, [("fault", PAIR)]),
        (None, True, [("unknown", PAIR)]),
    ],
)
def test_starving_is_for_analog_pedals_whose_player_asks(
    circuit: str | None, asked: bool, expected: list[Any]
) -> None:
    starved = draws(pedal("P1", "fuzz", circuit=circuit), sag=asked, rated=0, peak=0)
    assert found(fed_board(starved, outlet("1", mv=6000, sag=True)), "P04") == expected


def test_a_digital_pedal_never_hangs_on_a_sag_outlet() -> None:
    digital = draws(pedal("P1", "delay", circuit="digital"), peak=20)
    assert found(fed_board(digital, outlet("1", sag=True)), "P04") == [("fault", PAIR)]


# Polarity, connectors, adapters.


@pytest.mark.parametrize("unknown", [{"outlet": None}, {"jack": None}, {"outlet": None, "jack": None}])
def test_unknown_polarity_is_never_a_pass(unknown: dict[str, None]) -> None:
    given, taken = unknown.get("outlet", "centre-negative"), unknown.get("jack", "centre-negative")
    plan = fed_board(draws(pedal("P1"), polarity=taken), outlet("1", polarity=given))
    assert said(plan) == [("P05", "unknown")]


def test_a_reverser_where_none_is_needed_reverses() -> None:
    assert said(fed_board(adapters=("reverser",))) == [("P05", "damage")]
    assert said(fed_board(adapters=("reverser", "reverser"))) == []


def test_plug_polarity_means_nothing_between_ac_and_ac() -> None:
    plan = fed_board(
        draws(pedal("P1"), current="ac", polarity=None), outlet("1", current="ac", polarity=None)
    )
    assert said(plan) == []


@pytest.mark.parametrize("plug", CONNECTORS)
@pytest.mark.parametrize("socket", CONNECTORS)
def test_only_like_connectors_mate(plug: str, socket: str) -> None:
    plan = fed_board(draws(pedal("P1"), connector=socket), outlet("1", connector=plug), lead=None)
    severity = "unknown" if plug == "captive" else "fault"
    mates = plug == socket and plug != "captive"
    assert found(plan, "P14") == ([] if mates else [(severity, PAIR)])


def test_the_lead_s_own_plug_is_what_meets_the_jack() -> None:
    plan = needing(connector="barrel 5.5/2.5")
    assert found(plan, "P14") == [("fault", PAIR)]
    right = replace(plan.feeds[0].lead, connector="barrel 5.5/2.5")  # type: ignore[type-var]
    assert found(replace(plan, feeds=(replace(plan.feeds[0], lead=right),)), "P14") == []


def test_a_converter_mates_anything_and_asks_for_its_own_wiring() -> None:
    plan = fed_board(draws(pedal("P1"), connector="snap"), adapters=("converter",))
    assert said(plan) == [("P26", "unknown")]


def test_two_usb_sides_need_no_polarity() -> None:
    usb = {"connector": "USB", "polarity": None}
    five = draws(pedal("P1"), nominal=5000, min=4750, max=5250, **usb)
    assert said(fed_board(five, outlet("1", mv=5000, **usb), lead=None)) == [("P29", "unknown")]


def test_unknown_draw_names_the_jack_and_what_to_plan_with() -> None:
    plan = fed_board(draws(pedal("P1", "looper"), rated=None))
    assert found(plan, "P27") == [("unknown", PAIR)]
    assert "500 mA" in finding_of(plan, "P27").cure


def test_measured_stands_before_rated() -> None:
    assert said(needing(rated=None, measured=80)) == []
    assert said(needing(rated=180, measured=80)) == []


# The table itself.


def test_every_rule_has_its_words_and_a_known_severity() -> None:
    assert {f"P{n:02}" for n in range(1, 29)} <= set(RULES)
    for rule in RULES.values():
        assert rule.severity in SEVERITIES
        assert all((rule.checks, rule.why, rule.cure, rule.basis))


def test_every_pair_rule_is_in_the_table() -> None:
    assert {rule_id for rule_id, _ in PAIR_TESTS} <= set(RULES)


@pytest.mark.parametrize("key", ["current", "polarity", "connector"])
@pytest.mark.parametrize("side", ["outlet", "jack"])
def test_taking_a_value_away_gives_one_unknown_about_it(key: str, side: str) -> None:
    plan = needing(**{key: None}) if side == "jack" else giving(**{key: None})
    if key == "connector":
        plan = replace(
            plan, feeds=(replace(plan.feeds[0], lead=replace(plan.feeds[0].lead, connector=None)),)
        )  # type: ignore[type-var]
    assert [severity for _, severity in said(plan)] == ["unknown"]


def test_messages_name_both_things_and_their_refs() -> None:
    plan = fed_board(draws(pedal("P1", name="Low Ember"), polarity="centre-positive"))
    message = finding_of(plan, "P05").message
    assert "S1.1" in message
    assert "Low Ember (P1.DC)" in message
