"""What a proposal changes, and what would feed those that it leaves out."""

from dataclasses import replace

import pytest

from boardshop.core.feeds import propose_feeds
from boardshop.core.feeds.changes import list_feed_changes, with_changes
from boardshop.core.feeds.cures import explain_unfed
from boardshop.core.plan import BoardPlan, DrawerItem
from boardshop.core.power import compute_power
from tests.core.builders import board, draws, feed, outlet, pedal, supply


def said(plan: BoardPlan) -> list[str]:
    return [change.message for change in list_feed_changes(plan, propose_feeds(plan))]


def cures(plan: BoardPlan) -> list[str]:
    return [cure.message for unfed in explain_unfed(plan, propose_feeds(plan)) for cure in unfed.cures]


def delay(rated: int = 180, **needs):
    return draws(pedal("P1", "delay", name="Otter"), rated=rated, **needs)


TWO = supply("S1", outlet("3"), outlet("5", max_ma=300))
EIGHTEEN = {"nominal": 18000, "min": 18000, "max": 18000}


def test_a_change_names_both_outlets_and_both_loads():
    plan = board(delay(), supplies=[TWO], feeds=[feed("S1.3", "P1.DC", 9000)])
    assert said(plan) == ["Otter (P1.DC) from S1.3 to S1.5: 180.0 % to 60.0 %"]


def test_a_first_feed_and_a_pulled_plug_are_told():
    assert said(board(delay(), supplies=[TWO])) == ["Otter (P1.DC) to S1.5: 60.0 %"]
    plan = board(delay(rated=400), supplies=[TWO], feeds=[feed("S1.3", "P1.DC", 9000)])
    assert said(plan) == ["Otter (P1.DC) from S1.3: no outlet is right for it, so the plug is pulled."]


def test_nothing_to_change_is_nothing_said():
    plan = board(delay(), supplies=[TWO], feeds=[feed("S1.5", "P1.DC", 9000)])
    assert said(plan) == []


def test_an_adapter_and_another_voltage_are_noted():
    plan = board(delay(polarity="centre-positive", max=18000, nominal=12000), supplies=[TWO])
    (change,) = list_feed_changes(plan, propose_feeds(plan))
    assert change.message == "Otter (P1.DC) to S1.5 by reverser: 60.0 %"
    assert change.note == (
        "It is labelled 12 V and gets 9 V: ask the player. Label the reversed lead at both ends."
    )


def swapped() -> BoardPlan:
    """Each on the other's outlet."""
    return board(
        delay(),
        draws(pedal("P2", "fuzz"), rated=4, share="poor"),
        supplies=[supply("S1", outlet("3"), outlet("5", max_ma=200))],
        feeds=[feed("S1.3", "P1.DC", 9000), feed("S1.5", "P2.DC", 9000)],
    )


def test_made_alone_a_change_says_what_it_runs_into():
    changes = list_feed_changes(swapped(), propose_feeds(swapped()))
    assert [(c.jack, c.worst_alone and c.worst_alone.rule) for c in changes] == [
        ("P1.DC", "P13"),
        ("P2.DC", "P08"),
    ]


def test_the_load_alone_stands_beside_that_with_all():
    """180 + 4 of 200 mA alone, 180 of 200 with both."""
    (delay_, _) = list_feed_changes(swapped(), propose_feeds(swapped()))
    assert (delay_.alone_percent, delay_.percent) == (92.0, 90.0)


def test_all_changes_made_are_the_proposal():
    plan = swapped()
    proposal = propose_feeds(plan)
    made = with_changes(plan.feeds, list_feed_changes(plan, proposal))
    assert {(f.outlets, f.jacks, f.settings) for f in made} == {
        (f.outlets, f.jacks, f.settings) for f in proposal.feeds
    }


@pytest.mark.parametrize("gone", ["polarity", "connector", "rated", "current"])
def test_what_is_not_recorded_is_asked_for(gone):
    plan = board(delay(**{gone: None}) if gone != "rated" else delay(rated=None), supplies=[TWO])
    (unfed,) = explain_unfed(plan, propose_feeds(plan))
    assert "is not recorded, and no outlet is proposed on a guess" in unfed.message
    assert unfed.cures[0].message.startswith("Record ")


def test_a_bigger_outlet_and_a_measured_draw_are_the_cures_of_an_overload():
    plan = board(delay(rated=400), supplies=[TWO])
    (unfed,) = explain_unfed(plan, propose_feeds(plan))
    assert unfed.message == (
        "Otter (P1.DC): it needs 9 V DC, 400 mA, and the most that a fitting outlet gives is 300 mA."
    )
    assert cures(plan) == [
        "Measure its draw: the label says 400 mA; at 300 mA or less it can be fed.",
        "One more isolated outlet of 9 V DC centre-negative for at least 400 mA, 500 mA with headroom: "
        "on a bigger supply or a second one.",
    ]


def test_the_smallest_outlet_lets_others_move():
    """With one more small outlet the small pedal moves there and leaves the large one its own."""
    plan = board(
        delay(rated=250, measured=250),
        draws(pedal("P2"), rated=150, measured=150, share="never"),
        draws(pedal("P3"), rated=20, measured=20, share="never"),
        supplies=[supply("S1", outlet("1", max_ma=300), outlet("2", max_ma=200))],
    )
    assert any("for at least 20 mA, 25 mA with headroom" in cure for cure in cures(plan))


def test_the_outlet_is_one_for_this_pedal_and_not_for_another():
    """A second pedal of 250 mA is left out as well: its outlet would not feed the one of 2500 mA."""
    plan = board(
        delay(rated=2500),
        draws(pedal("P2"), rated=250, measured=250, share="never"),
        supplies=[supply("S1", outlet("1", max_ma=120))],
    )
    big, small = explain_unfed(plan, propose_feeds(plan))
    assert [cure.message for cure in big.cures] == [
        "One more isolated outlet of 9 V DC centre-negative for at least 2500 mA, 3125 mA with headroom: "
        "on a bigger supply or a second one."
    ]
    assert "for at least 250 mA, 313 mA with headroom" in small.cures[0].message


@pytest.mark.parametrize(("rated", "is_offered"), [(600, True), (601, False)])
def test_a_label_is_doubted_up_to_twice_the_outlet(rated, is_offered):
    plan = board(delay(rated=rated), supplies=[TWO])
    assert any(cure.startswith("Measure its draw") for cure in cures(plan)) is is_offered


def test_no_outlet_of_that_voltage_is_said():
    plan = board(delay(**EIGHTEEN), supplies=[TWO])
    (unfed,) = explain_unfed(plan, propose_feeds(plan))
    assert "it needs 18 V DC, 180 mA, and no outlet on this board gives that" in unfed.message


def test_the_drawer_bounds_the_adapters_and_one_more_is_a_cure():
    needs = {"polarity": "centre-positive", "rated": 20}
    pedals = [draws(pedal(f"P{n}"), **needs) for n in (1, 2)]
    plan = board(*pedals, supplies=[TWO], drawer=[DrawerItem("reverser")])
    assert propose_feeds(plan).unfed == ("P2.DC",)
    assert "Get a reverser: the drawer has none left." in cures(plan)


def test_joined_outlets_need_their_adapter_from_the_drawer():
    joined = [outlet(name, series_ok=True) for name in "12"]
    plan = board(
        draws(pedal("P1"), **EIGHTEEN), supplies=[supply("S1", *joined)], drawer=[DrawerItem("lead")]
    )
    assert propose_feeds(plan).unfed == ("P1.DC",)
    assert "Get an adapter that joins two outlets in series: the drawer has none left." in cures(plan)


def test_an_adapter_in_use_on_the_board_counts_as_there():
    plan = board(
        draws(pedal("P1"), polarity="centre-positive"),
        supplies=[TWO],
        feeds=[feed("S1.3", "P1.DC", 9000, adapters=("reverser",))],
        drawer=[DrawerItem("lead")],
    )
    assert propose_feeds(plan).unfed == ()


def test_after_the_changes_the_report_finds_no_fault():
    plan = swapped()
    after = replace(plan, feeds=propose_feeds(plan).feeds)
    assert [f for f in compute_power(after).findings if f.severity in ("damage", "fault")] == []
