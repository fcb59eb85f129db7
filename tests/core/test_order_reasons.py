"""Why each pedal would move, against the precedence that test_order_suggestion computes with networkx."""

from itertools import combinations

import pytest

from boardshop.core.order import PAIR_RULES, Move, explain_moves, signal_paths, suggest_order
from boardshop.core.order.ranks import RANKS, slot_rank
from boardshop.core.order.usual import DYNAMICS_FIRST, USUAL, why_usual
from boardshop.core.plan import Pedal, Rules
from tests.core.builders import pedal, wired_board
from tests.core.test_order_suggestion import SCHOOLS, random_pedals, reference_precedence

RULE_CLAUSES = {rule.why for rule in PAIR_RULES}


def explain(*pedals: Pedal, school: str = "common") -> tuple[Move, ...]:
    plan = wired_board(*pedals, rules=Rules(school=school))
    (path,) = signal_paths(plan)
    return explain_moves(plan, path, plan.rules.school)


@pytest.mark.parametrize("school", SCHOOLS)
@pytest.mark.parametrize("seed", range(120))
def test_every_move_names_what_it_cannot_stand_beside(seed: int, school: str) -> None:
    """Each passed pedal stays, stands on that side, and must come on the other one."""
    pedals = random_pedals(seed, 2 + seed % 9)
    (path,) = signal_paths(wired_board(*pedals))
    suggestion, precedence = suggest_order(path, school), reference_precedence(pedals, school)
    moves = explain(*pedals, school=school)
    assert tuple(move.ref for move in moves) == suggestion.moved
    at = {one.ref: i for i, one in enumerate(pedals)}
    for move in moves:
        assert move.passes
        assert set(move.passes) <= set(suggestion.kept)
        for ref in move.passes:
            assert (at[ref] < at[move.ref]) == move.is_forward
            assert (max(at[ref], at[move.ref]), min(at[ref], at[move.ref])) in precedence


def test_a_rule_of_sound_says_why() -> None:
    """Common practice: gain behind a delay smears its repeats."""
    (move,) = explain(pedal("P1", "delay", name="Far Shed"), pedal("P2", "overdrive", name="Low Ember"))
    assert move.message == (
        "Move Low Ember (P2) in front of Far Shed (P1): the repeats are distorted together with the note and "
        "smear into one level."
    )


@pytest.mark.parametrize(
    ("kinds", "school", "said"),
    [
        (
            ("compressor", "tuner"),
            "common",
            "the common order has tuner in front of compressor, since a tuner",
        ),
        (
            ("compressor", "fuzz"),
            "common",
            "the common order has fuzz in front of compressor, since a fuzz near",
        ),
        (
            ("fuzz", "wah"),
            "dynamics-first",
            "the dynamics-first order has wah in front of fuzz, since this school",
        ),
        (("tremolo", "chorus"), "common", "the common order has chorus in front of tremolo, since a tremolo"),
        (("eq", "volume", "boost"), "common", "the common order has boost in front of eq"),
    ],
)
def test_a_move_by_rank_alone_says_which_order_and_why(
    kinds: tuple[str, ...], school: str, said: str
) -> None:
    """No rule speaks of these pairs; their ranks are the trade's usual order (common practice)."""
    (move,) = explain(*(pedal(f"P{n}", kind) for n, kind in enumerate(kinds, 1)), school=school)
    assert said in move.message


def test_what_is_heard_is_said_before_what_is_usual() -> None:
    """The tuner passes a compressor by rank, a reverb because the needle follows it."""
    (move,) = explain(pedal("P1", "compressor"), pedal("P2", "reverb"), pedal("P3", "tuner"))
    assert (move.ref, move.passes) == ("P3", ("P2",))
    assert "the needle follows the effect" in move.message


def test_one_reason_for_several_pedals_is_said_once() -> None:
    (move,) = explain(pedal("P1", "flanger"), pedal("P2", "chorus"), pedal("P3", "eq"))
    assert (move.ref, move.passes, move.is_forward) == ("P3", ("P1", "P2"), True)
    assert "eq in front of flanger and chorus" in move.message


def test_a_pair_that_only_a_third_pedal_forbids_names_that_one() -> None:
    """The buffered pedal has no rank; the vintage fuzz must precede it, and by rank the gate the fuzz."""
    buffered = pedal("P1", "other", bypass="buffered")
    moves = explain(buffered, pedal("P2", "fuzz", input_ohm=8_000), pedal("P3", "noise-gate"))
    assert [move.ref for move in moves] == ["P2", "P3"]
    assert moves[1].message.startswith(
        "Move P3 in front of P1: P3 belongs in front of P2 (the common order has noise gate in front of "
    )
    assert "and P2 belongs in front of P1 (behind a low source impedance" in moves[1].message


def test_the_pedal_that_moves_gives_its_own_reason_where_it_has_one() -> None:
    (move,) = explain(pedal("P1", "boost"), pedal("P2", "eq"), pedal("P3", "noise-gate"))
    assert (move.ref, move.passes) == ("P3", ("P1", "P2"))
    assert "noise gate in front of boost and eq, since an early gate takes the pickup's hum" in move.message


def test_a_line_in_order_has_nothing_to_explain() -> None:
    assert explain(pedal("P1", "tuner"), pedal("P2", "overdrive"), pedal("P3", "delay")) == ()


@pytest.mark.parametrize("school", SCHOOLS)
def test_every_two_slots_of_different_rank_have_a_reason(school: str) -> None:
    """Of a pair the one whose reason is taken is early and first, or late and last."""
    assert set(USUAL) == set(RANKS)
    assert set(DYNAMICS_FIRST) <= set(RANKS)
    reasons = USUAL | DYNAMICS_FIRST if school == "dynamics-first" else USUAL
    ranked = sorted(RANKS, key=lambda slot: slot_rank(slot, school) or 0)
    for one, other in combinations(ranked, 2):
        if slot_rank(one, school) == slot_rank(other, school):
            continue
        fitting = [reasons[one].why] if not reasons[one].is_late else []
        fitting += [reasons[other].why] if reasons[other].is_late else []
        assert {why_usual(one, other, school, about) for about in (one, other)} == set(fitting)


def test_reasons_of_rules_and_of_usual_places_are_told_apart() -> None:
    usual = {one.why for one in (*USUAL.values(), *DYNAMICS_FIRST.values())}
    assert not usual & RULE_CLAUSES
    assert all(why[0].islower() and why[-1].isalpha() for why in usual)
