"""Proposed feeds: worked examples, what is never proposed, what stays."""

from dataclasses import astuple, replace
from itertools import permutations

import pytest

from boardshop.core.feeds import propose_feeds
from boardshop.core.feeds.problem import make_problem
from boardshop.core.feeds.score import score_feeds
from boardshop.core.plan import BoardPlan, OutletSetting
from boardshop.core.power import compute_power, is_wrongly_fed, make_feeding
from tests.core.builders import board, draws, feed, outlet, pedal, supply, wired_board

NINE_OR_EIGHTEEN = (OutletSetting(9000, 9000, 500), OutletSetting(18000, 18000, 250))


def seven_pedals(**of_boost) -> tuple:
    """Worked example of the trade: seven loads on an invented supply, one of them at 180 %."""
    loads = (
        ("P1", "tuner", 45, "digital"),
        ("P2", "overdrive", 18, "analog"),
        ("P3", "delay", 180, "digital"),
        ("P4", "chorus", 60, "analog"),
        ("P5", "fuzz", 4, "analog"),
        ("P6", "reverb", 230, "digital"),
    )
    shares = {"P2": "ok", "P4": "ok"}
    pedals = [
        draws(pedal(ref, kind, circuit=circuit), rated=ma, peak=ma, share=shares.get(ref, "never"))
        for ref, kind, ma, circuit in loads
    ]
    at = {"nominal": 18000, "min": 18000, "max": 18000, "share": "ok"} | of_boost
    return (*pedals, draws(pedal("P7", "boost"), rated=12, **at))


def worked_board(feeds: str = "ABCDEFG", *more, **of_boost) -> BoardPlan:
    """P1 on the first named outlet and so on; A to D 9 V 100 mA, E and F 300 mA, G 9 V 500 or 18 V 250 mA."""
    outlets = [outlet(name) for name in "ABCD"]
    outlets += [outlet("E", max_ma=300), outlet("F", max_ma=300), outlet("G", settings=NINE_OR_EIGHTEEN)]
    boost_mv = of_boost.get("nominal", 18000)
    fed = [
        feed(f"S1.{name}", f"P{n}.DC", boost_mv if n == 7 else 9000, lead=None)
        for n, name in enumerate(feeds, start=1)
    ]
    pedals = (*seven_pedals(**of_boost), *more)
    return wired_board(*pedals, supplies=[supply("S1", *outlets, limit_mw=12_000)], feeds=fed)


def plugs(plan: BoardPlan) -> dict[str, str]:
    """Jack and outlet of the proposal, without what they have in common."""
    return {
        end.removesuffix(".DC"): "+".join(f.outlets).replace("S1.", "")
        for f in propose_feeds(plan).feeds
        for end in f.jacks
    }


def test_the_worked_example_moves_two_leads():
    """Worked example: C at 180 %; delay to E and fuzz to C are the fewest changes, and the only such pair."""
    proposal = propose_feeds(worked_board())
    assert plugs(worked_board()) == dict(
        zip(("P1", "P2", "P5", "P4", "P3", "P6", "P7"), "ABCDEFG", strict=True)
    )
    assert (proposal.optimal, proposal.unfed) == (True, ())
    # 45 18 4 60 60.0 76.7 4.8 %
    assert proposal.score == (0, 0, 0, 0, 0, 76.7, 2, 15466)


def after(plan: BoardPlan) -> tuple[list[float | None], int, float | None]:
    """With the proposal taken: the outlets' percents, and the supply's mW and percent."""
    power = compute_power(replace(plan, feeds=propose_feeds(plan).feeds))
    (whole,) = power.supplies
    return [row.load_percent for row in power.outlets], whole.load_mw, whole.load_percent


def test_the_worked_examples_loads_are_those_of_the_report():
    """Worked example: A 45, B 18, C 4, D 60, E 60.0, F 76.7, G 4.8 %; 5.049 W = 42.1 % of 12 W."""
    assert after(worked_board()) == ([45.0, 18.0, 4.0, 60.0, 60.0, 76.7, 4.8], 5049, 42.1)


def test_forty_eight_choices_keep_the_headroom():
    """Worked example: 48 assignments pass the 80 % rule; here each is tried."""
    problem = make_problem(worked_board())
    fitting = {
        (way.jack, problem.ports[way.port].outlets)
        for way in problem.ways
        if (problem.jacks[way.jack].load_ma or 0) * 100 <= 80 * (problem.ports[way.port].limit_ma or 0)
    }
    outlets = [(f"s1.{name}",) for name in "abcdefg"]
    choices = (enumerate(chosen) for chosen in permutations(outlets))
    assert sum(all(pair in fitting for pair in choice) for choice in choices) == 48


def test_an_eighth_pedal_fits_no_more_while_the_boost_takes_18_v():
    """Worked example: with the boost at 18 V there is no solution."""
    pitch = draws(pedal("P8", "pitch-shifter", circuit="digital"), rated=320, peak=320, share="never")
    assert propose_feeds(worked_board("ABEDCFG", pitch)).unfed == ("P8.DC",)


def test_at_9_v_the_boost_shares_with_the_drive_and_the_eighth_is_fed():
    """Worked example: pitch to G (64 %), boost beside drive (30 %) or chorus (72 %); drive wins."""
    pitch = draws(pedal("P8", "pitch-shifter", circuit="digital"), rated=320, peak=320, share="never")
    plan = worked_board("ABEDCFG", pitch, nominal=9000, min=9000, max=18000)
    proposal = propose_feeds(plan)
    assert [plugs(plan)[ref] for ref in ("P8", "P7", "P2")] == ["G", "B", "B"]
    # 7.821 W = 65.2 %
    assert after(plan)[1:] == (7821, 65.2)
    # nothing unfed, two share an outlet, nothing above headroom; one lead moved and one new
    assert (*proposal.score[:5], proposal.score[6]) == (0, 0, 2, 0, 0, 2)


@pytest.mark.parametrize(
    ("needs", "is_fed"),
    [
        ({}, True),
        ({"current": "ac"}, False),
        ({"nominal": 12000, "min": 12000, "max": 12000}, False),
        ({"nominal": 4500, "min": 3000, "max": 6000}, False),
        ({"polarity": None}, False),
        ({"connector": None}, False),
        ({"ground_pole": None}, True),
        ({"rated": None}, False),
        ({"rated": 100}, True),
        ({"rated": 101}, False),
        ({"rated": 300, "measured": 90}, True),
        ({"nominal": 9000, "min": None, "max": None}, True),
        ({"nominal": 8000, "min": None, "max": None}, False),
    ],
)
def test_only_what_is_known_to_be_right_is_proposed(needs, is_fed):
    plan = board(draws(pedal("P1"), **needs), supplies=[supply("S1", outlet("1"))])
    assert bool(propose_feeds(plan).feeds) is is_fed


def test_an_outlet_whose_regulation_is_not_recorded_counts_as_printed():
    plan = board(pedal("P1"), supplies=[supply("S1", outlet("1", regulated=None))])
    assert propose_feeds(plan).unfed == ()


@pytest.mark.parametrize(
    ("needs", "adapters"),
    [
        ({"polarity": "centre-positive"}, ("reverser",)),
        ({"connector": "3.5 mono"}, ("converter",)),
        ({"polarity": "centre-positive", "connector": "3.5 mono"}, ("reverser", "converter")),
    ],
)
def test_an_adapter_is_named_where_one_is_needed(needs, adapters):
    plan = board(draws(pedal("P1"), **needs), supplies=[supply("S1", outlet("1"))])
    (only,) = propose_feeds(plan).feeds
    assert only.adapters == adapters


@pytest.mark.parametrize(
    ("joining", "needs", "permitted", "is_fed"),
    [
        ("parallel", {"rated": 150}, True, True),
        ("parallel", {"rated": 200}, True, True),
        ("parallel", {"rated": 201}, True, False),
        ("parallel", {"rated": 150}, None, False),
        ("series", {"nominal": 18000, "min": 18000, "max": 18000}, True, True),
        ("series", {"nominal": 18000, "min": 18000, "max": 18000}, False, False),
    ],
)
def test_outlets_are_joined_where_the_maker_permits_it(joining, needs, permitted, is_fed):
    outlets = [outlet(name, **{f"{joining}_ok": permitted}) for name in "12"]
    plan = board(draws(pedal("P1"), **needs), supplies=[supply("S1", *outlets)])
    found = [(f.outlets, f.adapters) for f in propose_feeds(plan).feeds]
    assert found == ([(("S1.1", "S1.2"), (joining,))] if is_fed else [])


def test_pinned_feeds_stay_and_take_their_part_of_the_limit():
    plan = board(
        draws(pedal("P1"), rated=80),
        draws(pedal("P2"), rated=30),
        supplies=[supply("S1", outlet("1"))],
        feeds=[feed("S1.1", "P1.DC", 9000, pinned=True)],
    )
    proposal = propose_feeds(plan)
    assert (proposal.feeds, proposal.unfed) == (plan.feeds, ("P2.DC",))


def test_a_wrong_feed_that_is_pinned_stays_and_nothing_joins_it():
    plan = board(
        draws(pedal("P1"), rated=130),
        draws(pedal("P2"), rated=0),
        supplies=[supply("S1", outlet("1"))],
        feeds=[feed("S1.1", "P1.DC", 9000, pinned=True)],
    )
    assert propose_feeds(plan).unfed == ("P2.DC",)


def test_what_is_plugged_in_and_merely_unknown_stays():
    plan = board(
        draws(pedal("P1"), rated=None),
        supplies=[supply("S1", outlet("1"), outlet("2"))],
        feeds=[feed("S1.2", "P1.DC", 9000)],
    )
    assert propose_feeds(plan).feeds == plan.feeds


def test_an_outlet_whose_switch_is_not_recorded_is_to_be_set():
    plan = board(
        pedal("P1"),
        supplies=[supply("S1", outlet("1", settings=NINE_OR_EIGHTEEN), outlet("2"))],
        feeds=[feed("S1.1", "P1.DC", None)],
    )
    (only,) = propose_feeds(plan).feeds
    assert (only.outlets, only.settings) == (("S1.1",), (9000,))


def test_nothing_new_comes_to_an_outlet_with_an_unknown_draw():
    plan = board(
        draws(pedal("P1"), rated=None),
        pedal("P2"),
        supplies=[supply("S1", outlet("1"))],
        feeds=[feed("S1.1", "P1.DC", 9000)],
    )
    assert propose_feeds(plan).unfed == ("P2.DC",)


def test_unlike_ground_poles_are_kept_apart_where_screens_join_them():
    pedals = (pedal("P1"), draws(pedal("P2"), ground_pole="positive"))
    supplies = [supply("S1", outlet("1", group="A"), outlet("2", group="A"))]
    assert len(propose_feeds(wired_board(*pedals, supplies=supplies)).unfed) == 1
    assert propose_feeds(board(*pedals, supplies=supplies)).unfed == ()


def test_a_group_and_a_supply_are_never_asked_for_more_than_they_give():
    three = [draws(pedal(f"P{n}"), rated=60) for n in (1, 2, 3)]
    grouped = [outlet(name, group="A", group_max_ma=120) for name in "123"]
    assert len(propose_feeds(board(*three, supplies=[supply("S1", *grouped)])).unfed) == 1
    one_by_one = supply("S1", *(outlet(name) for name in "123"))
    # 540 mW each
    for limit_mw, unfed in ((1079, 2), (1080, 1), (1619, 1), (1620, 0)):
        plan = board(*three, supplies=[replace(one_by_one, limit_mw=limit_mw)])
        assert len(propose_feeds(plan).unfed) == unfed


def test_two_ac_pedals_never_share():
    ac = {"current": "ac", "polarity": None}
    plan = board(
        draws(pedal("P1"), **ac),
        draws(pedal("P2"), **ac),
        supplies=[supply("S1", outlet("1", current="ac", polarity=None, max_ma=1000))],
    )
    assert len(propose_feeds(plan).unfed) == 1


def test_a_variable_outlet_is_set_to_what_the_pedal_is_labelled_for():
    plan = board(
        draws(pedal("P1"), nominal=12000, min=9000, max=18000),
        supplies=[supply("S1", outlet("1", settings=(OutletSetting(4000, 18000, 100),)))],
    )
    (only,) = propose_feeds(plan).feeds
    assert only.settings == (12000,)


def test_the_lead_goes_along_with_its_pedal():
    plan = board(
        draws(pedal("P1"), rated=150),
        supplies=[supply("S1", outlet("1"), outlet("2", max_ma=200))],
        feeds=[feed("S1.1", "P1.DC", 9000)],
    )
    (only,) = propose_feeds(plan).feeds
    assert (only.outlets, only.lead) == (("S1.2",), plan.feeds[0].lead)


def test_a_lead_with_an_adapter_stays_behind():
    plan = board(
        draws(pedal("P1"), rated=150, polarity="centre-positive"),
        supplies=[supply("S1", outlet("1"), outlet("2", max_ma=200))],
        feeds=[feed("S1.1", "P1.DC", 9000, adapters=("reverser",))],
    )
    (only,) = propose_feeds(plan).feeds
    assert (only.outlets, only.adapters, only.lead) == (("S1.2",), ("reverser",), None)


def test_without_pedals_or_outlets_there_is_nothing_to_propose():
    assert propose_feeds(board()).feeds == ()
    alone = propose_feeds(board(pedal("P1")))
    assert (alone.feeds, alone.unfed, alone.optimal) == ((), ("P1.DC",), True)


def test_the_score_of_the_proposal_is_that_of_its_feeds():
    plan = worked_board()
    proposal = propose_feeds(plan)
    assert score_feeds(plan, proposal.feeds, proposal.jacks) == proposal.exact
    assert astuple(proposal.exact)[0] == 0


def test_with_no_work_at_all_nothing_is_claimed():
    proposal = propose_feeds(worked_board(), work=0.0)
    assert not proposal.optimal


def test_no_proposed_feed_is_wrong():
    plan = worked_board()
    feeding = make_feeding(plan, propose_feeds(plan).feeds)
    assert all(
        is_wrongly_fed(feeding, connection, fed) is False
        for connection in feeding.connections
        for fed in connection.jacks
    )
