"""Equally good sets of moves, moves taken one by one, and ten thousand random chains.

References: all subsets (in ``test_order_suggestion``), and SciPy's bipartite matching, from which Dilworth's
theorem gives the most pedals that can stay.
"""

import random
from itertools import combinations, pairwise

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from scipy.sparse import csr_array
from scipy.sparse.csgraph import maximum_bipartite_matching

from boardshop.core.order import (
    Outcome,
    SignalPath,
    Suggestion,
    compare_sequences,
    explain_moves,
    list_suggestions,
    move_all,
    move_one,
    new_joins,
    signal_paths,
    suggest_board,
    suggest_order,
)
from boardshop.core.plan import Pedal
from tests.core.builders import amp, board, pedal, wired_board
from tests.core.documents import load
from tests.core.order_wiring import links, with_jacks
from tests.core.random_boards import Document, documents
from tests.core.test_order import ten_out_of_order
from tests.core.test_order_suggestion import (
    ALL_KINDS,
    SCHOOLS,
    largest_sets,
    random_pedals,
    reference_precedence,
)

CHAINS = 10_000


def test_worked_example_both_equal_choices() -> None:
    """Reverb, delay, chorus and either the compressor or the overdrive; one of eleven joins stays in both."""
    plan = ten_out_of_order()
    (path,) = signal_paths(plan)
    choices = list_suggestions(path, "common", 10)
    names = {one.ref: one.name for one in plan.pedals}
    assert [[names[ref] for ref in one.moved] for one in choices] == [
        ["Reverb A", "Delay A", "Chorus A", "Compressor A"],
        ["Reverb A", "Delay A", "Chorus A", "Overdrive A"],
    ]
    assert len({one.suggested for one in choices}) == 1  # the final order is the same
    assert [len(one.new_joins) for one in choices] == [10, 10]
    assert [len(path.refs) + 1 - len(one.new_joins) for one in choices] == [1, 1]
    assert all(("P10", "") not in one.new_joins for one in choices)  # looper to amp is the one kept


@pytest.mark.parametrize("school", SCHOOLS)
@pytest.mark.parametrize("seed", range(120))
def test_choices_equal_all_subsets(seed: int, school: str) -> None:
    pedals = random_pedals(seed, 1 + seed % 8)
    (path,) = signal_paths(wired_board(*pedals))
    sets = largest_sets(pedals, reference_precedence(pedals, school))
    choices = list_suggestions(path, school, 1_000)
    assert [one.kept for one in choices] == [tuple(pedals[i].ref for i in kept) for kept in sets]
    assert choices[0] == suggest_order(path, school)


@pytest.mark.parametrize("school", SCHOOLS)
@pytest.mark.parametrize("seed", range(150))
def test_moves_taken_one_by_one_in_any_sequence_arrive(seed: int, school: str) -> None:
    """Each leaves one move fewer, and nothing but that pedal changes its place among the others."""
    dice = random.Random(seed)
    pedals = {one.ref: one for one in random_pedals(seed, 2 + seed % 9)}
    order = tuple(pedals)
    while moved := suggestion_for(pedals, order, school).moved:
        suggestion = suggestion_for(pedals, order, school)
        ref = dice.choice(moved)
        after = move_one(order, suggestion, ref)
        assert [other for other in after if other != ref] == [other for other in order if other != ref]
        assert len(suggestion_for(pedals, after, school).moved) == len(moved) - 1
        assert 1 <= len(new_joins(order, after)) <= 3
        order = after


@pytest.mark.parametrize("school", SCHOOLS)
@pytest.mark.parametrize("seed", range(60))
def test_all_moves_at_once_through_a_switchers_loops_leave_none(seed: int, school: str) -> None:
    """
    G1 - P1.. - SW [1: ..] [2: ..] - .. - A1, each pedal somewhere along it
    """
    dice = random.Random(seed)
    pedals = random_pedals(seed, 6)
    stops = [one.ref for one in pedals]
    stops[1:1], stops[3:3], stops[6:6] = ["SW"], ["SW"], ["SW"]
    path = through_loops(pedals, stops)
    assert path.stops == tuple(stops)
    suggestion = dice.choice(list_suggestions(path, school, 10))
    after = move_all(path.stops, suggestion)
    assert {ref for ref in after if ref != "SW"} == {one.ref for one in pedals}
    assert suggest_order(through_loops(pedals, list(after)), school).moved == ()


def through_loops(pedals: list[Pedal], stops: list[str]) -> SignalPath:
    """The path along ``stops``, a switcher's passes taking its loops one after the other."""
    switcher = with_jacks(
        "SW", "switcher", IN="in", S1="send", R1="return", S2="send", R2="return", OUT="out"
    )
    ends, passed = [], 0
    last = stops.count("SW") - 1
    for ref in stops:
        if ref != "SW":
            ends.append((f"{ref}.IN", f"{ref}.OUT"))
            continue
        enter, leave = ("IN" if not passed else f"R{passed}"), ("OUT" if passed == last else f"S{passed + 1}")
        ends.append((f"SW.{enter}", f"SW.{leave}"))
        passed += 1
    joins = pairwise(["G1.OUT", *(end for pair in ends for end in pair), "A1.IN"])
    wired = links(*(f"{one} > {other}" for number, (one, other) in enumerate(joins) if not number % 2))
    (path,) = signal_paths(board(switcher, *pedals, amps=(amp(),), links=wired))
    return path


def suggestion_for(pedals: dict[str, Pedal], order: tuple[str, ...], school: str) -> Suggestion:
    (path,) = signal_paths(wired_board(*(pedals[ref] for ref in order)))
    return suggest_order(path, school)


@pytest.mark.parametrize("part", range(10))
def test_ten_thousand_random_chains(part: int) -> None:
    """Each suggestion obeys what must precede what, keeps the kept in sequence, and moves the fewest."""
    dice = random.Random(part)
    for number in range(CHAINS // 10):
        school = SCHOOLS[number % 2]
        pedals = random_pedals(part * CHAINS + number, dice.randint(1, 12), ALL_KINDS)
        answer = suggestion_for({one.ref: one for one in pedals}, tuple(one.ref for one in pedals), school)
        precedence = reference_precedence(pedals, school)
        place = {ref: i for i, ref in enumerate(answer.suggested)}
        spots = [place[one.ref] for one in pedals]
        assert sorted(spots) == list(range(len(pedals)))
        assert all(spots[i] < spots[j] for i, j in precedence if (j, i) not in precedence)
        assert [ref for ref in answer.suggested if ref in answer.kept] == list(answer.kept)
        assert len(answer.moved) == fewest_moves(len(pedals), precedence)


def fewest_moves(n: int, precedence: set[tuple[int, int]]) -> int:
    """Dilworth (1950): what cannot stay is a largest matching of "is before and wrong"."""
    wrong = np.zeros((n, n), dtype=int)
    for i, j in combinations(range(n), 2):
        wrong[i, j] = (j, i) in precedence
    return int((maximum_bipartite_matching(csr_array(wrong), perm_type="column") >= 0).sum())


def test_a_pedal_with_another_in_its_own_loop_is_not_moved_without_it() -> None:
    """
    G1 - P1 (delay) - P2 (reverb) - P3 (preamp) [P4 (looper)] - A1
    """
    preamp = with_jacks("P3", "preamp", IN="in", S="send", R="return", OUT="out")
    pedals = (pedal("P1", "delay"), pedal("P2", "reverb"), preamp, pedal("P4", "looper"))
    wired = links(
        "G1.OUT > P1.IN",
        "P1.OUT > P2.IN",
        "P2.OUT > P3.IN",
        "P3.S > P4.IN",
        "P4.OUT > P3.R",
        "P3.OUT > A1.IN",
    )
    (path,) = signal_paths(board(*pedals, amps=(amp(),), links=wired))
    suggestion = suggest_order(path, "common")
    assert suggestion.moved == ("P3",)
    assert move_one(path.stops, suggestion, "P3") == path.stops == ("P1", "P2", "P3", "P4", "P3")
    assert move_all(path.stops, suggestion) == path.stops


@settings(max_examples=120, deadline=None, suppress_health_check=list(HealthCheck))
@given(documents(), st.sampled_from(SCHOOLS))
def test_any_board_the_loader_takes_has_its_moves_told(document: Document, school: str) -> None:
    """Whatever the wiring, rings and branches included: each move has a reason and a place in its line."""
    plan = load(document)
    found = suggest_board(plan, school)
    for path, first in zip(found.chains, found.suggestions, strict=True):
        for suggestion in list_suggestions(path, school, 3):
            assert len(suggestion.moved) == len(first.moved)
            assert {*move_all(path.stops, suggestion)} == {*path.stops}
            moves = explain_moves(plan, path, school, suggestion)
            assert [move.ref for move in moves] == list(suggestion.moved)
            for move in moves:
                after = move_one(path.stops, suggestion, move.ref)
                assert sorted(after) == sorted(path.stops)
                assert (after == path.stops) == (path.stops.count(move.ref) > 1)


def test_a_move_says_what_it_settles_and_what_it_brings() -> None:
    """The common order gates early, and its own rule advises that it leaves the hiss (R16)."""
    kinds = ("tuner", "overdrive", "noise-gate", "delay")
    (path,) = signal_paths(wired_board(*(pedal(f"P{n}", kind) for n, kind in enumerate(kinds, 1))))
    early = compare_sequences(path, "common", ("P1", "P3", "P2", "P4"))
    assert (early.settles, early.brings) == ((), (("R16", "advice"),))
    late = compare_sequences(path, "common", ("P1", "P2", "P4", "P3"))
    assert late.brings == (("R15", "fault"),)
    assert compare_sequences(path, "common", path.refs) == Outcome((), ())
