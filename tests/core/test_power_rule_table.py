"""The table of rules against what the checks say: each rule speaks in each of its severities, and no other.

The boards are the least ones that break a rule; conditions are common practice, as the rules are.
"""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

import pytest

from boardshop.core.plan import BoardPlan, DcLead, Jack, Mains, OutletSetting, Pedal, Tail, Venue
from boardshop.core.power import compute_power
from boardshop.core.power.conditions import (
    BOTH_WAYS,
    CHAIN_CONDITIONS,
    PARALLEL_CONDITIONS,
    SERIES_CONDITIONS,
    JoiningCondition,
)
from boardshop.core.power.connectors import CONNECTOR_NOTES, MISMATCHES
from boardshop.core.power.joining import FORBIDDING, judge_equal_limits
from boardshop.core.power.mains_notes import MAINS_CAUTIONS, MAINS_CHECKS, REGIONS
from boardshop.core.power.matching import PAIR_TESTS
from boardshop.core.power.rules import RULES
from boardshop.core.power.sharing import CHAIN_JACKS, CHAIN_PERCENT
from boardshop.core.power.voltage import NO_LOAD_LEAST_TENTHS, NO_LOAD_MOST_TENTHS
from boardshop.core.vocabulary import CONNECTORS, SEVERITIES
from tests.core.builders import (
    board,
    chain,
    computer,
    draws,
    feed,
    link,
    outlet,
    pedal,
    power_jack,
    supply,
)
from tests.core.feeding_cases import (
    chained_board,
    drawing,
    fed_board,
    joined_board,
    said,
    selectable,
    shared_board,
)

AC = {"current": "ac", "polarity": None}


def circuit(ref: str, kind: str, of: str | None, **needs: Any) -> Pedal:
    return draws(pedal(ref, kind, circuit=of), **({"peak": 20} | needs))


def positive(ref: str = "P1") -> Pedal:
    return draws(pedal(ref), ground_pole="positive")


def unlinked(plan: BoardPlan) -> BoardPlan:
    return replace(plan, links=())


def at_venue(mains: Mains, mv: int, hz: int) -> BoardPlan:
    return board(supplies=[supply("S1", mains=mains)], venue=Venue(mv, hz))


def turned(plan: BoardPlan) -> BoardPlan:
    first, *others = plan.feeds
    return replace(plan, feeds=(replace(first, adapters=("reverser",)), *others))


def limited(load_ma: int, limit_mw: int) -> BoardPlan:
    return board(
        drawing(load_ma),
        supplies=[supply("S1", outlet("1"), limit_mw=limit_mw)],
        feeds=[feed("S1.1", "P1.DC")],
    )


def with_tails(number: int) -> BoardPlan:
    lead = DcLead(300, awg=22, tails=tuple(Tail(100, awg=24) for _ in range(number)))
    feeds = [feed("S1.1", ["P1.DC", "P2.DC"], lead=lead)]
    return board(pedal("P1"), pedal("P2"), supplies=[supply()], feeds=feeds)


def by_usb() -> BoardPlan:
    needs = power_jack("V", connector="USB", nominal=5000, min=4750, max=5250)
    a_pedal = pedal("P1", jacks=(Jack("USB", "usb"),), power=(needs,))
    return board(a_pedal, computers=[computer()], links=[link("W1", "M1.USB", "P1.USB", carries="usb")])


def permitted(name: str, **values: Any) -> Any:
    return outlet(name, **({"parallel_ok": True, "series_ok": True} | values))


def grouped(name: str, group: str = "A", **values: Any) -> Any:
    return permitted(name, group=group, **values)


def both(one: Any = None, other: Any = None, way: str = "parallel", mv: int = 18_000) -> BoardPlan:
    stands = draws(pedal("P1"), nominal=9000, min=8000, max=mv * 2, rated=60)
    return joined_board(way, stands, one or permitted("1"), other or permitted("2"))


ONLY_60 = Mains(108_000, 132_000, (60,))
ONLY_50 = Mains(207_000, 253_000, (50,))
STARVED = draws(pedal("P1", "fuzz"), sag=True)

LEDGER: list[tuple[str, str, BoardPlan]] = [
    ("P01", "damage", fed_board(an_outlet=outlet("1", **AC))),
    ("P02", "fault", fed_board(draws(pedal("P1"), **AC))),
    ("P03", "damage", fed_board(an_outlet=outlet("1", mv=9601))),
    ("P04", "fault", fed_board(an_outlet=outlet("1", mv=8499))),
    ("P04", "advice", fed_board(STARVED, outlet("1", mv=6000, sag=True))),
    ("P05", "damage", fed_board(an_outlet=outlet("1", polarity="centre-positive"))),
    ("P06", "damage", shared_board(positive(), pedal("P2"))),
    ("P06", "caution", unlinked(shared_board(positive(), pedal("P2")))),
    ("P07", "advice", turned(shared_board(draws(pedal("P1"), polarity="centre-positive"), pedal("P2")))),
    ("P08", "fault", fed_board(drawing(101))),
    ("P08", "advice", fed_board(drawing(81))),
    ("P09", "fault", fed_board(drawing(50, peak=101))),
    ("P10", "fault", limited(50, 449)),
    ("P10", "advice", limited(50, 562)),
    ("P11", "caution", shared_board(circuit("P1", "delay", "digital"), pedal("P2", "fuzz"))),
    ("P12", "caution", shared_board(circuit("P1", "chorus", "clocked"), circuit("P2", "delay", "clocked"))),
    ("P13", "caution", chained_board(drawing(10, share="poor"), drawing(10, "P2"))),
    ("P13", "fault", chained_board(drawing(10, share="never"), drawing(10, "P2"))),
    ("P13", "advice", chained_board(drawing(40), drawing(41, "P2"))),
    ("P14", "fault", fed_board(draws(pedal("P1"), connector="barrel 5.5/2.5"))),
    ("P15", "fault", both(other=permitted("2", max_ma=99))),
    ("P16", "damage", both(other=permitted("2", mv=12_000))),
    ("P17", "fault", both(grouped("1"), grouped("2"))),
    ("P18", "fault", both(other=permitted("2", series_ok=False), way="series")),
    ("P18", "damage", both(grouped("1"), grouped("2"), way="series")),
    ("P19", "fault", with_tails(3)),
    ("P20", "damage", at_venue(ONLY_60, 230_000, 60)),
    ("P20", "damage", at_venue(ONLY_60, 120_000, 50)),
    ("P20", "fault", at_venue(ONLY_50, 115_000, 50)),
    ("P20", "caution", at_venue(ONLY_50, 230_000, 60)),
    ("P21", "danger", board(supplies=[supply("S1", protection_class="I", earthed=False)])),
    ("P22", "caution", by_usb()),
    ("P23", "damage", chained_board(drawing(10, **AC), drawing(10, "P2", **AC), **AC)),
    ("P24", "advice", fed_board(an_outlet=selectable(), setting=9000)),
    ("P25", "advice", board(pedal("P1", battery=True, power=()), links=chain("G1", "P1"))),
    ("P26", "unknown", fed_board(adapters=("converter",))),
    ("P27", "unknown", fed_board(drawing(None))),
    ("P28", "fault", fed_board(an_outlet=selectable(), setting=12_000)),
    ("P29", "advice", fed_board(drawing(80), lead=DcLead(9000, awg=28))),
    ("P30", "fault", board(pedal("P1"))),
]


@pytest.mark.parametrize(("rule", "severity", "plan"), LEDGER, ids=[f"{r}-{s}" for r, s, _ in LEDGER])
def test_each_rule_speaks_in_each_of_its_severities(rule: str, severity: str, plan: BoardPlan) -> None:
    assert (rule, severity) in said(plan)


def test_the_table_tells_every_severity_that_a_rule_speaks_in() -> None:
    told = {(rule.id, rule.severity) for rule in RULES.values()}
    told |= {(rule.id, grade.severity) for rule in RULES.values() for grade in rule.also}
    assert told == {(rule, severity) for rule, severity, _ in LEDGER}
    loud = {pair for _, _, plan in LEDGER for pair in said(plan) if pair[1] != "unknown"}
    assert loud - told == set()


def test_every_rule_has_all_its_words() -> None:
    for rule in RULES.values():
        assert rule.severity in SEVERITIES
        assert all((rule.when, rule.checks, rule.why, rule.cure, rule.basis))
        assert not any(words.endswith(".") for words in (rule.when, rule.unless, rule.checks))
        assert all(grade.when and grade.severity in SEVERITIES for grade in rule.also)


def test_figures_in_words_are_those_of_the_checks() -> None:
    assert f"more than {CHAIN_JACKS} pedals" in RULES["P13"].when
    assert f"more than {CHAIN_PERCENT} %" in RULES["P13"].also[1].when
    span = f"{NO_LOAD_LEAST_TENTHS / 10} to {NO_LOAD_MOST_TENTHS / 10} times"
    assert span in RULES["P03"].when


# Conditions of joining, one by one.

EIGHTEEN = draws(pedal("P1"), nominal=18_000, min=17_000, max=36_000, rated=60)
THREE = board(
    drawing(60),
    supplies=[supply("S1", *(permitted(str(n)) for n in (1, 2, 3)))],
    feeds=[feed(["S1.1", "S1.2", "S1.3"], "P1.DC", adapters=("parallel",))],
)
VARIABLE = permitted("2", settings=(OutletSetting(9000, 9000, 100), OutletSetting(6000, 12_000, 100)))


def series(one: Any = None, other: Any = None) -> BoardPlan:
    return joined_board("series", EIGHTEEN, one or permitted("1"), other or permitted("2"))


def of_two_supplies(way: str, *models: str) -> BoardPlan:
    supplies = [supply(f"S{n}", permitted("1"), model=model) for n, model in enumerate(models, start=1)]
    jack = EIGHTEEN if way == "series" else drawing(60)
    return board(jack, supplies=supplies, feeds=[feed(["S1.1", "S2.1"], "P1.DC", adapters=(way,))])


def set_to(plan: BoardPlan, *settings: int | None) -> BoardPlan:
    return replace(plan, feeds=(replace(plan.feeds[0], settings=settings),))


def knob() -> BoardPlan:
    knob_only = permitted("2", settings=(OutletSetting(6000, 12_000, 100),))
    return set_to(both(other=knob_only), 9000, 9000)


def switched() -> tuple[Any, Any]:
    return selectable("1", parallel_ok=True), selectable("2", parallel_ok=True)


BROKEN: dict[str, BoardPlan] = {
    "judge_number": THREE,
    "judge_isolation": both(other=grouped("2", "B")),
    "judge_model": of_two_supplies("parallel", "Brick", "Slab"),
    "judge_fixed_setting": knob(),
    "judge_parallel_permission": both(other=permitted("2", parallel_ok=False)),
    "judge_equal_limits": both(other=permitted("2", max_ma=200)),
    "judge_equal_volts": set_to(both(*switched()), 9000, 18_000),
    "judge_regulation": both(other=permitted("2", regulated=False)),
    "judge_sag": both(other=permitted("2", sag=True)),
    "judge_kinds": both(other=permitted("2", **AC)),
    "judge_opposed": both(other=permitted("2", polarity="centre-positive")),
    "judge_one_group": both(grouped("1"), grouped("2")),
    "judge_series_isolation": series(grouped("1"), grouped("2")),
    "judge_series": series(other=permitted("2", polarity="centre-positive")),
    "judge_series_model": of_two_supplies("series", "Brick", "Slab"),
    "judge_series_permission": series(other=permitted("2", series_ok=False)),
}
JOINING = (*PARALLEL_CONDITIONS, *SERIES_CONDITIONS)


@pytest.mark.parametrize("condition", JOINING, ids=[one.test.__name__ for one in JOINING])
def test_each_condition_of_joining_is_found_when_it_is_broken(condition: JoiningCondition) -> None:
    plan = BROKEN[condition.test.__name__]
    assert (condition.rule, condition.severity or RULES[condition.rule].severity) in said(plan)


def test_with_every_condition_kept_nothing_is_said() -> None:
    assert said(both()) == said(series()) == []
    assert said(of_two_supplies("parallel", "Brick", "Brick")) == []


def test_the_conditions_are_the_tests_that_the_checks_walk() -> None:
    walked = [(one.rule, one.test) for one in (*BOTH_WAYS, *JOINING)]
    assert [pair for pair in PAIR_TESTS if pair in walked] == walked
    assert {test for _, test in walked} == {
        *FORBIDDING,
        judge_equal_limits,
    }  # the smaller limit then counts twice


# Conditions of a chain.

BAD_CHAINS: dict[str, tuple[str, BoardPlan]] = {
    "One voltage": (
        "P04",
        chained_board(drawing(9), drawing(9, "P2", nominal=12_000, min=11_000, max=13_000)),
    ),
    "All jacks": ("P05", chained_board(drawing(9), drawing(9, "P2", polarity="centre-positive"))),
    "No positive": ("P06", chained_board(drawing(9), drawing(9, "P2", ground_pole="positive"))),
    "Each of": ("P13", chained_board(drawing(9), drawing(9, "P2", share="poor"))),
    "Together": ("P13", chained_board(drawing(40), drawing(41, "P2"))),
    "There are": ("P13", chained_board(*(drawing(9, f"P{n}") for n in range(1, 7)))),
    "No digital": ("P11", chained_board(circuit("P1", "delay", "digital"), pedal("P2", "fuzz"))),
    "The outlet": ("P23", chained_board(drawing(9, **AC), drawing(9, "P2", **AC), **AC)),
    "No plug": ("P19", with_tails(3)),
}


@pytest.mark.parametrize("condition", CHAIN_CONDITIONS, ids=[one.wants for one in CHAIN_CONDITIONS])
def test_each_condition_of_a_chain_is_found_when_it_is_broken(condition: Any) -> None:
    (rule, plan) = next(case for begins, case in BAD_CHAINS.items() if condition.wants.startswith(begins))
    assert rule in condition.rules
    assert {pair[0] for pair in said(plan)} - {"P08"} == {rule}  # an outlet above 80 % is P08, too


def test_a_chain_that_keeps_them_all_is_right() -> None:
    assert said(chained_board(*(drawing(16, f"P{n}") for n in range(1, 6)))) == []  # five, 80 of 100 mA


# The other tables of the page.


def test_connectors_are_known_ones() -> None:
    assert set(CONNECTOR_NOTES) <= set(CONNECTORS)
    assert {name for pair in MISMATCHES for name in pair} <= set(CONNECTOR_NOTES)


def test_mains_notes_have_their_basis_and_never_call_anything_safe() -> None:
    assert all(one.basis for one in (*MAINS_CHECKS, *REGIONS))
    words: Iterable[str] = [*MAINS_CAUTIONS, *(f"{one.look} {one.wanted}" for one in MAINS_CHECKS)]
    assert not any(" safe" in sentence for sentence in words)


@pytest.mark.parametrize(
    ("plug", "socket", "says"),
    [
        ("barrel 5.5/2.1", "barrel 5.5/2.5", "does not go over the 2.5 mm pin"),
        ("barrel 5.5/2.5", "barrel 5.5/2.1", "sits loose on the 2.1 mm pin and cuts out"),
        ("snap", "barrel 5.5/2.1", "the two do not mate"),
    ],
)
def test_the_two_bores_fail_each_in_its_own_way(plug: str, socket: str, says: str) -> None:
    plan = fed_board(draws(pedal("P1"), connector=socket), lead=DcLead(600, awg=24, connector=plug))
    (found,) = [one for one in compute_power(plan).findings if one.rule == "P14"]
    assert (found.severity, says in found.message) == ("fault", True)


# What a value that nobody recorded leaves open.


def test_a_pedal_of_unknown_circuit_on_a_sag_outlet_is_asked_for() -> None:
    """A digital one there is a fault, so that not knowing is no pass."""
    plan = fed_board(circuit("P1", "delay", None), outlet("1", sag=True))
    assert ("P04", "unknown") in said(plan)


def test_a_series_outlet_that_feeds_another_jack_too_is_shorted_through_the_screens() -> None:
    """Kirchhoff's voltage law: the upper outlet's minus stands as high as the lower outlet's plus."""
    feeds = [feed(["S1.1", "S1.2"], "P1.DC", adapters=("series",)), feed("S1.2", "P2.DC")]
    plan = board(
        EIGHTEEN,
        pedal("P2"),
        supplies=[supply("S1", permitted("1"), permitted("2"))],
        feeds=feeds,
        links=chain("G1", "P1", "P2", "A1"),
    )
    assert ("P18", "damage") in said(plan)


def test_what_a_computer_powers_over_usb_does_not_wait_for_a_feed() -> None:
    assert said(by_usb()) == [("P22", "caution")]
    assert compute_power(by_usb()).unfed == ("P1.V",)


def test_more_than_a_usb_port_gives_is_told() -> None:
    """USB 2.0: 500 mA at most."""
    plan = by_usb()
    first = plan.pedals[0]

    def message(load_ma: int) -> str:
        (found,) = compute_power(replace(plan, pedals=(draws(first, rated=load_ma),))).findings
        return found.message

    assert "draws 501 mA" in message(501)
    assert "draws" not in message(500)


def test_a_missing_highest_voltage_names_the_charge_pump() -> None:
    plan = fed_board(draws(pedal("P1", circuit="clocked"), max=None), outlet("1", mv=12_000))
    (found,) = [one for one in compute_power(plan).findings if one.rule == "P03"]
    assert found.severity == "unknown"
    assert "charge pump" in found.cure
