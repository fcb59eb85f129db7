"""Pedals on one return or one outlet: ground poles, noise between them, chains."""

from dataclasses import replace
from typing import Any

import pytest

from boardshop.core.plan import BoardPlan, DcLead, Jack, Pedal, Tail
from tests.core.builders import board, draws, feed, link, outlet, pedal, power_jack, supply, wired_board
from tests.core.feeding_cases import chained_board, drawing, found, said, shared_board


def grounded(ref: str, pole: str | None, **values: Any) -> Pedal:
    return draws(pedal(ref, **values), ground_pole=pole)


def apart(*pedals: Pedal, links: Any = (), **values: Any) -> BoardPlan:
    return replace(shared_board(*pedals, wired=False), links=tuple(links), **values)


# P06: what joins two screens.
#
#   P1 (+) --- P2 --- P3 (-)      all three on S1/A


def test_unlike_poles_are_joined_through_a_third_pedal() -> None:
    plan = shared_board(grounded("P1", "positive"), grounded("P2", "floating"), grounded("P3", "negative"))
    assert found(plan, "P06") == [("damage", ("P1", "P3"))]


def test_unlike_poles_that_no_link_joins_are_a_caution() -> None:
    plan = apart(grounded("P1", "negative"), grounded("P2", "positive"))
    assert found(plan, "P06") == [("caution", ("P1", "P2"))]


def test_a_link_with_an_isolated_screen_joins_nothing() -> None:
    pedals = grounded("P1", "negative"), grounded("P2", "positive")
    plan = apart(*pedals, links=[link("W1", "P1.OUT", "P2.IN", screen="isolated")])
    assert found(plan, "P06") == [("caution", ("P1", "P2"))]


@pytest.mark.parametrize(
    ("connector", "severity"), [("DIN 5", "caution"), ("3.5 TRS", "damage"), (None, "damage")]
)
def test_midi_joins_screens_unless_it_is_din(connector: str | None, severity: str) -> None:
    midi = (Jack("TX", "midi-out", connector=connector), Jack("RX", "midi-in", connector=connector))
    pedals = grounded("P1", "negative", jacks=midi), grounded("P2", "positive", jacks=midi)
    cord = link("W1", "P1.TX", "P2.RX", carries="midi", plug_from=None, plug_to=None)
    assert found(apart(*pedals, links=[cord]), "P06") == [(severity, ("P1", "P2"))]


def test_screens_meet_in_an_amp_too() -> None:
    pedals = grounded("P1", "negative"), grounded("P2", "positive")
    to_amp = [link("W1", "P1.OUT", "A1.IN"), link("W2", "P2.OUT", "A1.IN")]
    assert found(apart(*pedals, links=to_amp), "P06") == [("damage", ("P1", "P2"))]


def test_unlike_poles_on_isolated_outlets_are_right() -> None:
    pedals = grounded("P1", "positive"), grounded("P2", "negative")
    feeds = [feed("S1.1", "P1.DC"), feed("S1.2", "P2.DC")]
    assert said(wired_board(*pedals, supplies=[supply()], feeds=feeds)) == []


def test_two_pedals_on_one_isolated_outlet_share_its_return() -> None:
    assert ("P06", "damage") in said(chained_board(grounded("P1", "positive"), grounded("P2", "negative")))


def test_isolated_outlets_that_a_doubler_joins_are_one_return() -> None:
    able = {"parallel_ok": True, "max_ma": 200}
    feeds = [feed(["S1.1", "S1.2"], "P1.DC", adapters=("parallel",)), feed("S1.2", "P2.DC")]
    outlets = supply("S1", outlet("1", **able), outlet("2", **able))
    pedals = grounded("P1", "positive"), grounded("P2", "negative")
    plan = wired_board(*pedals, supplies=[outlets], feeds=feeds)
    assert found(plan, "P06") == [("damage", ("P1", "P2"))]


@pytest.mark.parametrize(("one", "other"), [("positive", "positive"), ("negative", "floating")])
def test_poles_that_do_not_contradict_may_share(one: str, other: str) -> None:
    assert found(shared_board(grounded("P1", one), grounded("P2", other)), "P06") == []


def test_an_unknown_pole_is_asked_for_once_and_only_where_it_could_matter() -> None:
    three = shared_board(grounded("P1", None), grounded("P2", "negative"), grounded("P3", "negative"))
    assert found(three, "P06") == [("unknown", ("S1.1", "P1.DC"))]
    floating = shared_board(grounded("P1", None), grounded("P2", "floating"))
    assert found(floating, "P06") == []
    assert found(shared_board(grounded("P1", None)), "P06") == []


def test_two_jacks_of_one_pedal_can_contradict_each_other() -> None:
    jacks = (power_jack("DC1"), power_jack("DC2", ground_pole="positive"))
    feeds = [feed("S1.1", "P1.DC1"), feed("S1.2", "P1.DC2")]
    outlets = supply("S1", outlet("1", group="A"), outlet("2", group="A"))
    plan = board(pedal("P1", power=jacks), supplies=[outlets], feeds=feeds)
    assert found(plan, "P06") == [("damage", ("P1.DC1", "P1.DC2"))]


# P11 and P12: noise through a shared return.


def circuits(*pairs: tuple[str, str | None]) -> BoardPlan:
    return shared_board(
        *(
            draws(pedal(f"P{n}", kind, circuit=circuit), peak=20)
            for n, (kind, circuit) in enumerate(pairs, start=1)
        )
    )


@pytest.mark.parametrize(
    ("pairs", "expected"),
    [
        ((("delay", "digital"), ("fuzz", "analog")), [("P11", "caution")]),
        ((("delay", "digital"), ("preamp", "tube")), [("P11", "caution")]),
        ((("delay", "digital"), ("chorus", "analog")), []),
        ((("delay", "digital"), ("reverb", "digital")), []),
        ((("chorus", "clocked"), ("delay", "clocked")), [("P12", "caution")]),
        ((("chorus", "clocked"), ("fuzz", "analog")), []),
        ((("delay", "digital"), ("fuzz", None)), [("P11", "unknown")]),
        ((("delay", None), ("fuzz", "analog")), [("P11", "unknown")]),
        ((("chorus", None), ("delay", "clocked")), [("P12", "unknown")]),
        ((("chorus", None), ("chorus", "analog")), []),
    ],
)
def test_noise_between_circuits_on_one_return(pairs: Any, expected: list[Any]) -> None:
    assert said(circuits(*pairs)) == expected


def test_every_noisy_pair_is_named_by_both_refs() -> None:
    plan = circuits(("fuzz", "analog"), ("delay", "digital"), ("overdrive", "analog"))
    assert found(plan, "P11") == [("caution", ("P1", "P2")), ("caution", ("P2", "P3"))]


# P13 and P23: chains.


@pytest.mark.parametrize(
    ("share", "expected"),
    [
        ("ok", []),
        ("poor", [("caution", ("S1.1", "P1.DC"))]),
        ("never", [("fault", ("S1.1", "P1.DC"))]),
        (None, [("unknown", ("S1.1", "P1.DC"))]),
    ],
)
def test_whether_a_pedal_stands_sharing(share: str | None, expected: list[Any]) -> None:
    assert found(chained_board(drawing(10, "P1", share=share), drawing(10, "P2")), "P13") == expected
    assert found(chained_board(drawing(10, "P1", share=share)), "P13") == []


@pytest.mark.parametrize(("number", "expected"), [(4, 0), (5, 0), (6, 1)])
def test_five_pedals_at_most_on_one_outlet(number: int, expected: int) -> None:
    plan = chained_board(*(drawing(5, f"P{n}") for n in range(number)))
    assert len(found(plan, "P13")) == expected


@pytest.mark.parametrize(
    ("each_ma", "expected"), [(39, []), (40, []), (41, [("advice", ("S1.1", "P1.DC", "P2.DC"))])]
)
def test_a_chain_takes_eighty_percent_of_the_limit(each_ma: int, expected: list[Any]) -> None:
    assert found(chained_board(drawing(each_ma, "P1"), drawing(each_ma, "P2")), "P13") == expected


def test_a_single_pedal_may_take_more_than_a_chain() -> None:
    assert found(chained_board(drawing(90, "P1")), "P13") == []


def test_two_pedals_on_one_ac_outlet_destroy() -> None:
    taking_ac = {"current": "ac", "polarity": None}
    plan = chained_board(drawing(10, "P1", **taking_ac), drawing(10, "P2", **taking_ac), current="ac")
    assert said(plan) == [("P23", "damage")]


@pytest.mark.parametrize(("tails", "expected"), [(2, []), (3, [("fault", ("S1.1", "P1.DC", "P2.DC"))])])
def test_an_open_tail_of_a_chain(tails: int, expected: list[Any]) -> None:
    lead = DcLead(300, awg=22, tails=tuple(Tail(100, awg=24) for _ in range(tails)))
    feeds = [feed("S1.1", ["P1.DC", "P2.DC"], lead=lead)]
    plan = board(pedal("P1"), pedal("P2"), supplies=[supply()], feeds=feeds)
    assert found(plan, "P19") == expected
