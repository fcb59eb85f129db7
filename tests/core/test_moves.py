"""What if a plug is moved: held against the report of the board on which it was moved by hand."""

from dataclasses import replace

import pytest

from boardshop.core.moves import compare_feeds
from boardshop.core.plan import Accepted, BoardPlan, DcLead, Feed
from boardshop.core.power import Goal, compute_power, list_choices, list_goals, move_feed
from tests.core.builders import board, draws, feed, outlet, pedal, supply
from tests.core.feeding_cases import drawing, selectable


def overloaded() -> BoardPlan:
    """P1 and P2 share S1.1 at 180 %; S1.2 is free and gives 300 mA.

    S1.1 180/100 ──┬── P1 90        S1.2 0/300 ── nothing
                   └── P2 90
    """
    return board(
        drawing(90, "P1"),
        drawing(90, "P2"),
        supplies=[supply("S1", outlet("1"), outlet("2", max_ma=300), limit_mw=10_000)],
        feeds=[feed("S1.1", "P1.DC"), feed("S1.1", "P2.DC")],
    )


def to(plan: BoardPlan, jack: str, outlet_ref: str, setting: int | None = 9000) -> Feed:
    return move_feed(plan, jack, Goal(outlet_ref, setting))


def test_the_loads_of_both_outlets_before_and_after() -> None:
    move = compare_feeds(overloaded(), to(overloaded(), "P2.DC", "S1.2"))
    (left,), (joined,) = move.left, move.joined
    assert (left.before.load_percent, left.after.load_percent) == (180.0, 90.0)
    assert (joined.before.load_ma, joined.after.load_percent, joined.after.spare_ma) == (0, 30.0, 210)
    assert (left.before.standing, left.after.standing, joined.after.standing) == ("over", "above", "within")
    assert left.before.excess_ma == 80


def test_what_it_settles_and_what_it_brings() -> None:
    move = compare_feeds(overloaded(), to(overloaded(), "P2.DC", "S1.2"))
    assert ("P08", "fault") in {(found.rule, found.severity) for found in move.settles}
    assert [(found.rule, found.severity) for found in move.brings] == [("P08", "advice")]
    assert move.verdict == "right"


def test_the_way_back_brings_what_the_way_there_settled() -> None:
    plan = overloaded()
    there = to(plan, "P2.DC", "S1.2")
    moved = replace(plan, feeds=(plan.feeds[0], there))
    back = compare_feeds(moved, to(moved, "P2.DC", "S1.1"))
    assert {f.rule for f in back.brings} == {f.rule for f in compare_feeds(plan, there).settles}
    assert back.verdict == "fault"


@pytest.mark.parametrize("choice", [("S1.1", 9000), ("S1.2", 9000), ("S1.3", 18000), ("S2.1", 9000)])
def test_the_figures_are_those_of_the_report_once_moved(choice: tuple[str, int]) -> None:
    outlets = [outlet("1"), outlet("2", group="A", group_max_ma=100), selectable("3")]
    supplies = [supply("S1", *outlets, limit_mw=9000), supply("S2", outlet("1", polarity="centre-positive"))]
    plan = board(
        drawing(60, "P1"),
        drawing(70, "P2"),
        supplies=supplies,
        feeds=[feed("S1.1", "P1.DC"), feed("S1.2", "P2.DC")],
    )
    moved = to(plan, "P2.DC", *choice)
    told = compute_power(replace(plan, feeds=(plan.feeds[0], moved)))
    move = compare_feeds(plan, moved)
    rows = {row.ref: row for row in (*told.outlets, *told.groups, *told.supplies)}
    changes = (*move.left, *move.joined, *move.groups, *move.supplies)
    assert {change.after.ref: change.after for change in changes} == {
        change.after.ref: rows[change.after.ref] for change in changes
    }
    assert set(move.brings) <= set(told.findings)


def test_a_pulled_plug_leaves_its_outlet_and_waits() -> None:
    move = compare_feeds(overloaded(), move_feed(overloaded(), "P2.DC", None))
    assert (move.joined, [change.after.load_percent for change in move.left]) == ((), [90.0])
    assert ("P30", ("P2.DC",)) in {(found.rule, found.subjects) for found in move.brings}


def test_one_jack_less_that_waits_brings_nothing() -> None:
    plan = replace(overloaded(), feeds=())
    move = compare_feeds(plan, to(plan, "P1.DC", "S1.2"))
    assert "P30" not in {found.rule for found in (*move.settles, *move.brings)}


def test_a_kept_finding_is_marked_where_it_is_settled() -> None:
    plan = overloaded()
    (over,) = [f for f in compute_power(plan).findings if (f.rule, f.severity) == ("P08", "fault")]
    kept = replace(plan, accepted=(Accepted("P08", over.subjects, "one song only"),))
    settled = compare_feeds(kept, to(kept, "P2.DC", "S1.2")).settles
    assert [found.accepted is not None for found in settled if found.severity == "fault"] == [True]


class TestWhatComesAlong:
    def test_a_lead_of_its_own_with_its_adapters(self) -> None:
        lead = DcLead(length=400, awg=22)
        plan = replace(
            overloaded(), feeds=(feed("S1.1", "P1.DC", adapters=("reverser",), pinned=True, lead=lead),)
        )
        moved = to(plan, "P1.DC", "S1.2")
        assert (moved.adapters, moved.pinned, moved.lead) == (("reverser",), True, lead)
        assert (moved.outlets, moved.settings) == (("S1.2",), (9000,))

    def test_what_joined_two_outlets_does_not(self) -> None:
        plan = replace(overloaded(), feeds=(feed(["S1.1", "S1.2"], "P1.DC", adapters=("parallel",)),))
        assert to(plan, "P1.DC", "S1.2").adapters == ()

    def test_a_chains_lead_stays_with_the_chain(self) -> None:
        plan = replace(overloaded(), feeds=(feed("S1.1", ["P1.DC", "P2.DC"], adapters=("reverser",)),))
        moved = to(plan, "P2.DC", "S1.2")
        assert (moved.jacks, moved.lead, moved.adapters) == (("P2.DC",), None, ())


class TestGoals:
    def test_the_jacks_own_voltage_comes_first(self) -> None:
        plan = board(draws(pedal("P1"), nominal=18000), supplies=[supply("S1", selectable("1"))])
        assert [goal.setting_mv for goal in list_goals(plan, "P1.DC")] == [18000, 9000]

    def test_an_outlet_in_use_keeps_its_voltage_for_others(self) -> None:
        plan = board(
            pedal("P1"),
            pedal("P2"),
            supplies=[supply("S1", selectable("1"))],
            feeds=[feed("S1.1", "P1.DC", 18000)],
        )
        assert [goal.setting_mv for goal in list_goals(plan, "P2.DC")] == [18000]
        assert [goal.setting_mv for goal in list_goals(plan, "p1.dc")] == [9000, 18000]

    def test_they_are_the_choices_that_are_judged(self) -> None:
        plan = board(
            pedal("P1"),
            pedal("P2"),
            supplies=[supply("S1", selectable("1"), outlet("2", settings=()), outlet("3"))],
            feeds=[feed("S1.1", "P1.DC", 18000)],
        )
        judged = {(choice.outlet, choice.setting_mv) for choice in list_choices(plan, "P2.DC")}
        assert {(goal.outlet, goal.setting_mv) for goal in list_goals(plan, "P2.DC")} == judged
