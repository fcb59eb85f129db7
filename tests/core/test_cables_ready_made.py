"""Finished cables for runs: the shortest that reaches, what fits nothing, and the cost of both ways."""

from dataclasses import replace
from decimal import Decimal

import pytest

from boardshop.core.cables.ready_made import ReadyMade, choose_ready_made
from boardshop.core.plan import Jack, Rules
from tests.core.builders import board, cable_type, link, pedal, plug_type
from tests.core.cable_boards import pair

TS = "6.35 TS"


def patch(mm: int, **facts) -> ReadyMade:
    return ReadyMade(f"patch {mm}", mm, **({"connector": TS, "far_connector": TS} | facts))


def in_a_row(*gaps: int):
    """Pedals 73 wide in one row, W1 from the first on; each run is a gap less two plugs of 14."""
    x, pedals = 2000, [pedal("P1", at=(2000, 100))]
    for n, gap in enumerate(gaps, start=2):
        x -= 73 + gap
        pedals.append(pedal(f"P{n}", at=(x, 100)))
    links = tuple(link(f"W{n}", f"P{n}.OUT", f"P{n + 1}.IN") for n in range(1, len(pedals)))
    plan = board(*pedals, links=links, rules=Rules(slack_min_mm=10, slack_percent=3))
    return replace(plan, frame=replace(plan.frame, width=2200))


def test_the_shortest_that_reaches_each_run_is_chosen_and_grouped():
    """Runs of 100, 130 and 172 mm need 110, 140 and 182 with their slack of 10."""
    answer = choose_ready_made(in_a_row(128, 158, 200), [patch(300), patch(200), patch(150)])
    assert [(c.ref, c.needed_mm) for c in answer.choices] == [("W1", 110), ("W2", 140), ("W3", 182)]
    assert [(use.offer.length, use.refs) for use in answer.uses] == [(150, ("W1", "W2")), (200, ("W3",))]


@pytest.mark.parametrize(("length", "why"), [(109, "too short"), (110, ""), (111, "")])
def test_it_reaches_when_it_is_as_long_as_the_run_with_its_slack(length, why):
    (choice,) = choose_ready_made(in_a_row(128), [patch(length)]).choices
    assert (choice.why, choice.offer is None) == (why, bool(why))


@pytest.mark.parametrize(("length", "why"), [(259, ""), (260, ""), (261, "too long")])
def test_it_may_have_so_much_to_spare(length, why):
    """110 mm needed: twice that is 220, and 150 to spare are 260."""
    (choice,) = choose_ready_made(in_a_row(128), [patch(length)]).choices
    assert choice.why == why


def test_what_fits_nothing_says_why():
    answer = choose_ready_made(in_a_row(128, 900), [patch(150), patch(200)])
    assert [(c.ref, c.why) for c in answer.choices] == [("W1", ""), ("W2", "too short")]


@pytest.mark.parametrize(
    ("connector", "far", "why"),
    [
        (TS, TS, ""),
        ("6.35 TRS", TS, ""),
        ("XLR", TS, "no such plugs"),
        ("3.5 mono", TS, "no such plugs"),
    ],
)
def test_its_plugs_go_into_the_jacks(connector, far, why):
    offer = patch(150, connector=connector, far_connector=far)
    (choice,) = choose_ready_made(in_a_row(128), [offer]).choices
    assert choice.why == why


def test_either_way_round():
    right = pedal("P1", at=(300, 100), jacks=(Jack("OUT", "out", "left", 86, 20, "3.5 TRS", "mono"),))
    left = pedal("P2", at=(100, 100))
    plan = board(right, left, links=(link("W1", "P1.OUT", "P2.IN", plug_from="J2"),),
                 plugs=(plug_type(), plug_type("J2", connector="3.5 mono")))  # fmt: skip
    offer = patch(150, connector=TS, far_connector="3.5 mono")
    (choice,) = choose_ready_made(plan, [offer]).choices
    assert choice.offer == offer


def test_a_stereo_run_takes_no_two_pole_plug():
    jacks = (Jack("OUT", "out", "left", 86, 20, "6.35 TRS", "stereo"),
             Jack("IN", "in", "right", 86, 20, "6.35 TRS", "stereo"))  # fmt: skip
    pedals = (pedal("P1", at=(300, 100), jacks=jacks), pedal("P2", at=(100, 100), jacks=jacks))
    plan = board(*pedals, links=(link("W1", "P1.OUT", "P2.IN"),))
    three = patch(160, connector="6.35 TRS", far_connector="6.35 TRS")
    (choice,) = choose_ready_made(plan, [patch(150), three]).choices
    assert choice.offer == three


def test_plugs_that_nobody_recorded_fit_nothing_and_are_named():
    answer = choose_ready_made(in_a_row(128), [patch(150, connector=None)])
    assert (answer.choices[0].why, answer.unknown_plugs) == ("no such plugs", ("patch 150",))


def test_a_run_without_a_length_gets_none():
    answer = choose_ready_made(pair(plugs=(plug_type(reach=None),)), [patch(150)])
    assert [(c.needed_mm, c.why) for c in answer.choices] == [(None, "unknown length")]


def test_of_equal_ones_that_with_less_capacitance_then_the_cheaper():
    offers = [patch(150, pf_per_m=None, price=1.0), patch(150, pf_per_m=130, price=1.0),
              patch(150, pf_per_m=90, price=3.0), patch(150, pf_per_m=90, price=2.0)]  # fmt: skip
    (choice,) = choose_ready_made(in_a_row(128), offers).choices
    assert choice.offer is not None
    assert (choice.offer.pf_per_m, choice.offer.price) == (90, 2.0)


def test_the_capacitance_of_both_is_compared():
    """Cut: 110 + 24 = 134, so 135 mm of 100 pF/m: 13.5 pF; bought: 150 mm of 130: 19.5 pF."""
    (choice,) = choose_ready_made(in_a_row(128), [patch(150, pf_per_m=130)]).choices
    assert (choice.cut_pf, choice.offer and choice.offer.pf, choice.more_pf) == (14, 20, 6)


def test_the_cost_of_both_ways_and_what_is_not_in_hand():
    """Cut: 135 and 165 mm of 2.00 a metre = 0.60, four plugs of 4.50 = 18.00."""
    plan = in_a_row(128, 158)
    plan = replace(plan, cables=(cable_type(price=2.0),), plugs=(plug_type(price=4.5),))
    answer = choose_ready_made(plan, [patch(150, price=7.25, count=1)])
    assert (answer.cut.known, answer.cut.unpriced) == (Decimal("18.60"), ())
    assert (answer.bought.known, answer.to_pay.known) == (Decimal("14.50"), Decimal("7.25"))
    assert answer.uses[0].to_buy == 1


def test_a_price_that_nobody_recorded_is_named():
    answer = choose_ready_made(in_a_row(128), [patch(150)])
    assert (answer.cut.unpriced, answer.bought.unpriced) == (("C1", "J1"), ("patch 150",))
    assert not answer.cut.is_whole
