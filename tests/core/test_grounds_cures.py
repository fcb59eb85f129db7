"""Cures of ground loops: the worked example's counts, each step's own case, and an earth that stays."""

import json
from dataclasses import replace

import networkx as nx
import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings

from boardshop.core.boardfile import load_plan_text
from boardshop.core.grounds import Cure, list_cures, map_grounds, recount_without, trace_loops
from boardshop.core.grounds.cure_steps import CURE_STEPS, STOP_AT
from boardshop.core.grounds.cures import FINDERS
from boardshop.core.grounds.symptoms import SYMPTOMS
from boardshop.core.plan import BoardPlan, EndJack, Jack, OutletSetting
from tests.core.builders import amp, board, chain, computer, feed, link, outlet, pedal, signal_jacks, supply
from tests.core.feeding_cases import drawing, shared_board
from tests.core.random_boards import documents
from tests.core.test_grounds import two_amps_and_a_laptop


def worked_example() -> BoardPlan:
    """Ten nodes, thirteen joins; P3, which the laptop talks to, is digital."""
    plan = two_amps_and_a_laptop()
    pedals = tuple(replace(p, circuit="digital") if p.ref == "P3" else p for p in plan.pedals)
    return replace(plan, pedals=pedals)


def by_step(plan: BoardPlan) -> dict[int, Cure]:
    return {cure.step.number: cure for cure in list_cures(plan)}


def outlets_of(cure: Cure) -> dict[str, str | None]:
    return {one.ref: one.outlet.ref if one.outlet else None for one in cure.openings}


# Worked example: 13 joins of 10 nodes.


def test_what_the_worked_example_s_cures_open_and_leave_alone() -> None:
    graph = map_grounds(worked_example())
    assert (len(graph.joins), len(graph.nodes), graph.loops) == (13, 10, 4)
    cures = by_step(worked_example())
    assert {n: (cure.opens, cure.alone) for n, cure in cures.items() if cure.step.opens_joins} == {
        3: (("P1.DC", "P2.DC", "P3.DC"), 2),
        5: (("W6",), 3),
        6: (("W7",), 3),
    }


def test_transformer_then_isolator_then_isolated_outlets_leave_three_two_none() -> None:
    graph, cures = map_grounds(worked_example()), by_step(worked_example())
    opened: tuple[str, ...] = ()
    left = []
    for number in (5, 6, 3):
        opened += cures[number].opens
        left.append(recount_without(graph, opened).loops)
    assert left == [3, 2, 0]


def test_in_the_order_of_the_list_each_step_counts_on_from_the_one_before() -> None:
    after = [(cure.step.number, cure.after) for cure in list_cures(worked_example())]
    assert after == [(1, 4), (2, 4), (3, 2), (4, 2), (5, 1), (6, 0), (8, 0), (10, 0)]


def test_an_earth_is_refused_though_the_number_would_fall() -> None:
    recount = recount_without(map_grounds(worked_example()), ["A2"])
    assert (recount.loops, recount.falls_to) == (4, 3)
    assert recount.refused is not None
    assert recount.refused.startswith("Stop: lifting the protective earth of A2 is no cure, though the count")
    assert "fall to 3" in recount.refused
    assert "makes its metal live" in recount.refused


def test_an_earth_stays_among_what_else_is_opened() -> None:
    recount = recount_without(map_grounds(worked_example()), ["W6", "a2", "W7"])
    assert (recount.loops, recount.falls_to) == (2, 2)
    assert "opens no loop either" in str(recount.refused)


# Each step.


def test_every_step_has_its_words_and_its_finder() -> None:
    assert [step.number for step in CURE_STEPS] == list(range(1, 11)) == sorted(FINDERS)
    assert {step.number for step in CURE_STEPS if step.opens_joins} == {3, 5, 6, 7, 9}
    assert all(step.how and step.basis for step in CURE_STEPS)
    assert "never lifted" in STOP_AT


def test_without_a_loop_there_is_nothing_to_cure() -> None:
    plan = board(
        pedal("P1"), links=chain("G1", "P1", "A1"), supplies=[supply()], feeds=[feed("S1.1", "P1.DC")]
    )
    assert list_cures(plan) == ()


def test_what_leaves_the_count_says_that_it_does() -> None:
    for cure in list_cures(worked_example()):
        if not cure.opens:
            assert cure.alone == 4
            assert cure.step.stays.startswith("The count stays")


def group_and(*isolated: object, **needs: object) -> BoardPlan:
    """P1, a fuzz, and P2, a clean pedal, on the group A; further outlets as given."""
    plan = shared_board(pedal("P1", "fuzz"), drawing(20, "P2", **needs))
    plan = replace(plan, pedals=(plan.pedals[0], replace(plan.pedals[1], kind="tremolo")))
    outlets = (*plan.supplies[0].outlets, *isolated)
    return replace(plan, supplies=(supply("S1", *outlets),))


def test_a_free_isolated_outlet_that_matches_is_named() -> None:
    cure = by_step(group_and(outlet("3", group="B"), outlet("4", polarity="centre-positive"), outlet("5")))[3]
    assert outlets_of(cure) == {"P1.DC": "S1.5"}
    assert (cure.alone, cure.after) == (0, 0)


@pytest.mark.parametrize(
    "other",
    [
        outlet("3", group="B"),
        outlet("3", polarity="centre-positive"),
        outlet("3", mv=18_000),
        outlet("3", max_ma=10),
        outlet("3", regulated=None, settings=(OutletSetting(9000, 9000, None),)),
    ],
)
def test_one_that_does_not_match_or_is_not_known_to_is_not(other: object) -> None:
    assert outlets_of(by_step(group_and(other))[3]) == {"P1.DC": None}


def test_an_outlet_is_given_once_and_to_the_jack_that_needs_it() -> None:
    """P1 could have either outlet, P2 only S1.3: both are served."""
    plan = shared_board(pedal("P1", "fuzz"), pedal("P2", "fuzz", power=(drawing(90).power[0],)))
    plan = replace(
        plan, supplies=(supply("S1", *plan.supplies[0].outlets, outlet("3"), outlet("4", max_ma=50)),)
    )
    assert outlets_of(by_step(plan)[3]) == {"P1.DC": "S1.4", "P2.DC": "S1.3"}
    one_left = replace(plan, supplies=(supply("S1", *plan.supplies[0].outlets[:3]),))
    assert sorted(outlets_of(by_step(one_left)[3]).values(), key=str) == [None, "S1.3"]


def test_outlets_that_match_one_by_one_are_not_all_named_where_their_supply_cannot_carry_them() -> None:
    """180 mW each (9 V, 20 mA): the first leaves 90 % of 200 mW, the second would make 180 %."""
    plan = shared_board(pedal("P1", "fuzz"), pedal("P2", "fuzz"))
    small = supply("S2", outlet("1"), outlet("2"), limit_mw=200)
    cure = by_step(replace(plan, supplies=(*plan.supplies, small)))[3]
    assert outlets_of(cure) == {"P1.DC": "S2.1", "P2.DC": None}


def test_an_outlet_in_use_is_not_free() -> None:
    plan = group_and(outlet("3"))
    plan = replace(plan, pedals=(*plan.pedals, pedal("P9")), feeds=(*plan.feeds, feed("S1.3", "P9.DC")))
    assert outlets_of(by_step(plan)[3]) == {"P1.DC": None}


def test_an_unknown_circuit_counts_as_one_that_needs_its_own() -> None:
    plan = shared_board(pedal("P1", "tremolo", circuit=None), pedal("P2", "tremolo"))
    first, *others = [cure for cure in list_cures(plan) if cure.step.number == 3]
    assert (first.opens, others) == (("P1.DC",), [])


def test_clean_pedals_on_a_looped_return_come_second_and_only_as_far_as_needed() -> None:
    plan = shared_board(*(pedal(f"P{n}", "tremolo") for n in (1, 2, 3)))
    (cure,) = [cure for cure in list_cures(plan) if cure.step.number == 3]
    assert (cure.opens, cure.after) == (("P1.DC", "P2.DC"), 0)
    assert cure.name == "An isolated outlet for other pedals that loop through a shared return"


def earthed_supply(*amps: str) -> BoardPlan:
    """A pedal on a group of an earthed class I supply, linked to each amp."""
    jacks = (*signal_jacks(), Jack("OUT2", "out"))
    links = [
        link(f"W{n}", f"P1.{out}", f"{a}.IN")
        for n, (a, out) in enumerate(zip(amps, ("OUT", "OUT2"), strict=False), 1)
    ]
    return board(
        pedal("P1", "tremolo", jacks=jacks),
        amps=[amp(ref) for ref in amps],
        links=links,
        supplies=[supply("S1", outlet("1", group="A"), protection_class="I", earthed=True)],
        feeds=[feed("S1.1", "P1.DC")],
    )


def test_the_first_amp_needs_a_transformer_only_where_the_supply_is_earthed_too() -> None:
    assert by_step(earthed_supply("A1"))[5].opens == ("W1",)
    assert by_step(earthed_supply("A1", "A2"))[5].opens == ("W2", "W1")
    assert by_step(earthed_supply("A1", "A2"))[4].concerns == ("A1", "A2", "S1/A")


def test_an_amp_s_own_send_and_return_want_no_transformer() -> None:
    """Their loop does not run through earth: the two are loomed."""
    jacks = (EndJack("IN", "in"), EndJack("SEND", "send"), EndJack("RETURN", "return"))
    plan = board(
        pedal("P1"),
        amps=[amp("A1", jacks=jacks)],
        links=[link("W1", "A1.SEND", "P1.IN"), link("W2", "P1.OUT", "A1.RETURN")],
    )
    assert [cure.step.number for cure in list_cures(plan)] == [1, 2, 8, 10]


def midi_pair(connector: str, **change: object) -> BoardPlan:
    jacks = (
        *signal_jacks(),
        Jack("TX", "midi-out", connector=connector),
        Jack("RX", "midi-in", connector=connector),
    )
    midi = link("W9", "P1.TX", "P2.RX", **({"carries": "midi", "plug_from": None, "plug_to": None} | change))
    return board(
        pedal("P1", jacks=jacks), pedal("P2", jacks=jacks), links=[link("W1", "P1.OUT", "P2.IN"), midi]
    )


@pytest.mark.parametrize("carries", ["midi", "signal"])
def test_midi_on_trs_is_opened_by_din(carries: str) -> None:
    assert by_step(midi_pair("3.5 TRS", carries=carries))[7].opens == ("W9",)
    assert 7 not in by_step(midi_pair("DIN 5", carries=carries))


def test_a_computer_that_floats_closes_no_loop_and_needs_no_isolator() -> None:
    plan = two_amps_and_a_laptop(computers=(computer("M1", earthed=False),))
    assert 6 not in by_step(plan)


def test_a_di_box_lifts_pin_one_of_its_own_lead() -> None:
    jacks = (*signal_jacks(), Jack("OUT2", "out"))
    plan = board(
        pedal("P1", "di", jacks=jacks, power=(), circuit="passive"),
        amps=[amp("A1"), amp("A2")],
        links=[link("W1", "P1.OUT", "A1.IN"), link("W2", "P1.OUT2", "A2.IN")],
    )
    cures = by_step(plan)
    assert cures[5].opens == ("W2",)
    assert cures[9].opens == ("W1", "W2")
    assert (cures[5].after, cures[9].after) == (0, 0)


def test_a_di_box_whose_desk_is_not_on_the_board_is_told_to_leave_the_count() -> None:
    plan = shared_board(pedal("P1", "fuzz"), pedal("P2", "tremolo"))
    plan = replace(plan, pedals=(*plan.pedals, pedal("P3", "di", power=(), circuit="passive")))
    cure = by_step(plan)[9]
    assert (cure.concerns, cure.opens, cure.alone) == (("P3",), (), 1)
    assert "not recorded" in cure.note


def test_each_symptom_has_suspects() -> None:
    assert len(SYMPTOMS) == 8
    assert all(symptom.suspects for symptom in SYMPTOMS)


# Any board.


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
@given(documents())
def test_cures_of_any_board_count_as_networkx_does_and_never_lift_an_earth(
    document: dict[str, object],
) -> None:
    """Cyclomatic number: edges - nodes + components, counted by networkx on what is left."""
    plan = load_plan_text(json.dumps(document))
    graph = map_grounds(plan)
    opened: set[str] = set()
    last = graph.loops
    for cure in list_cures(plan):
        assert not {join.ref for join in graph.joins if join.sort == "earth"} & set(cure.opens)
        opened |= set(cure.opens)
        assert cure.after == cyclomatic_number(graph, opened) <= last
        assert cure.alone == cyclomatic_number(graph, set(cure.opens)) <= graph.loops
        assert (cure.alone < graph.loops) == bool(cure.opens)
        last = cure.after


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
@given(documents())
def test_the_loops_of_any_board_are_a_basis_of_as_many_as_networkx_counts(
    document: dict[str, object],
) -> None:
    """Their rank over GF(2), by numpy's elimination of the joins' incidence, is the cyclomatic number."""
    plan = load_plan_text(json.dumps(document))
    graph = map_grounds(plan)
    place = {join.ref: number for number, join in enumerate(graph.joins)}
    loops = trace_loops(plan, graph)
    rows = np.zeros((len(loops), len(place)), dtype=int)
    for number, one in enumerate(loops):
        rows[number, [place[join.ref] for join in one.joins]] = 1
    assert rank_mod_2(rows) == len(loops) == cyclomatic_number(graph, set())


def rank_mod_2(rows: np.ndarray) -> int:
    rows, rank = rows.copy(), 0
    for column in range(rows.shape[1]):
        pivots = np.flatnonzero(rows[rank:, column]) + rank
        if pivots.size:
            rows[[rank, pivots[0]]] = rows[[pivots[0], rank]]
            below = np.flatnonzero(rows[:, column])
            rows[below[below > rank]] ^= rows[rank]
            rank += 1
    return rank


def cyclomatic_number(graph: object, opened: set[str]) -> int:
    kept = nx.MultiGraph()
    kept.add_nodes_from(graph.nodes)  # type: ignore[attr-defined]
    kept.add_edges_from((j.one, j.other) for j in graph.joins if j.ref not in opened)  # type: ignore[attr-defined]
    return kept.number_of_edges() - kept.number_of_nodes() + nx.number_connected_components(kept)
