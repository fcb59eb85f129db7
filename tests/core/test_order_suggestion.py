"""The fewest moves against trying everything: all subsets, all permutations, longest subsequences.

The reference below knows the ranks (checked by themselves in test_order_ranks) and states the sorting rules
once more in its own words; closure and circles come from networkx.
"""

import random
from bisect import bisect_right
from itertools import combinations, pairwise, permutations
from math import comb

import networkx as nx
import pytest

from boardshop.core.order import Suggestion, rank_of, signal_paths, suggest_order
from boardshop.core.plan import Pedal
from tests.core.builders import pedal, wired_board

SCHOOLS = ("common", "dynamics-first")
MODULATIONS = ("phaser", "flanger", "vibrato", "chorus", "rotary", "modulation")
AFTER_TUNER = ("pitch-shifter", "harmoniser", "ring-modulator", "delay", "reverb", "looper", *MODULATIONS)
RANK_ONLY_KINDS = (
    "fuzz", "bit-crusher", "wah", "envelope-filter", "compressor", "synth", "boost", "overdrive",
    "distortion", "eq", "volume", "tremolo", *AFTER_TUNER,
)  # fmt: skip
"""No `fault` rule of order speaks of two of these."""

ALL_KINDS = (
    *RANK_ONLY_KINDS, "wireless-receiver", "buffer", "tuner", "noise-gate", "preamp", "cab-simulator",
    "di", "mixer", "switcher", "other", "fuzz", "tuner", "buffer",
)  # fmt: skip


def suggest(pedals: list[Pedal], school: str) -> Suggestion:
    (path,) = signal_paths(wired_board(*pedals))
    return suggest_order(path, school)


def random_pedals(seed: int, n: int, kinds: tuple[str, ...] = ALL_KINDS) -> list[Pedal]:
    dice = random.Random(seed)
    return [
        pedal(
            f"P{i}",
            dice.choice(kinds),
            input_ohm=dice.choice([8_000, 500_000, None]),
            bypass=dice.choice(["true", "buffered", "always-on", None]),
            circuit=dice.choice(["analog", "digital", "passive", None]),
            role=dice.choice([None, None, None, "level", "master", "limiter"]),
        )
        for i in range(1, n + 1)
    ]


def must_precede(one: Pedal, other: Pedal) -> bool:
    """The trade's MUST rules of order, all six, read anew."""
    if one.kind == "wireless-receiver":
        return other.kind != "wireless-receiver"
    if other.kind == "wireless-receiver":
        return False
    if other.kind == "di":
        return one.kind != "di"
    if one.kind == "fuzz" and one.input_ohm is not None and one.input_ohm < 100_000:
        buffered = other.kind == "buffer" or other.bypass in ("buffered", "always-on")
        return buffered and other.circuit != "passive"
    if one.kind == "tuner" and one.role != "master":
        return other.kind in AFTER_TUNER
    if one.kind == "noise-gate":
        return other.kind in ("delay", "reverb", "looper")
    return one.kind == "preamp" and other.kind == "cab-simulator"


def reference_precedence(pedals: list[Pedal], school: str) -> set[tuple[int, int]]:
    """Pairs of positions (i, j) where i must come before j, directly or through others."""
    positions = range(len(pedals))
    ranks = [rank_of(one, school) for one in pedals]
    apart = [(i, j) for i in positions for j in positions if None not in (ranks[i], ranks[j])]
    by_rank = {(i, j) for i, j in apart if ranks[i] < ranks[j]}  # type: ignore[operator]
    by_rule = {(i, j) for i in positions for j in positions if i != j and must_precede(pedals[i], pedals[j])}
    both = nx.DiGraph(by_rank | by_rule)
    part = {i: number for number, found in enumerate(nx.strongly_connected_components(both)) for i in found}
    kept = nx.DiGraph(by_rule | {(i, j) for i, j in by_rank if part[i] != part[j]})
    return set(nx.transitive_closure(kept).edges)


def largest_sets(pedals: list[Pedal], precedence: set[tuple[int, int]]) -> list[tuple[int, ...]]:
    """All largest sets of positions in which no earlier one must come after a later one."""
    for size in range(len(pedals), -1, -1):
        found = [
            chosen
            for chosen in combinations(range(len(pedals)), size)
            if not any((j, i) in precedence for i, j in combinations(chosen, 2))
        ]
        if found:
            return found
    raise AssertionError("the empty set is always one")


@pytest.mark.parametrize("school", SCHOOLS)
@pytest.mark.parametrize("seed", range(200))
def test_kept_and_answers_equal_all_subsets(seed: int, school: str) -> None:
    pedals = random_pedals(seed, 1 + seed % 8)
    answer = suggest(pedals, school)
    sets = largest_sets(pedals, reference_precedence(pedals, school))
    assert answer.kept == tuple(pedals[i].ref for i in sets[0])
    assert (answer.answers, answer.more) == (len(sets), False)
    assert len(answer.moved) == len(pedals) - len(sets[0])


@pytest.mark.parametrize("school", SCHOOLS)
@pytest.mark.parametrize("seed", range(40))
def test_moves_equal_all_permutations(seed: int, school: str) -> None:
    """In the best of all orders that obey the precedence, so many pedals keep their sequence."""
    pedals = random_pedals(seed, 6)
    precedence = reference_precedence(pedals, school)
    best = 0
    for order in permutations(range(6)):
        place = {position: i for i, position in enumerate(order)}
        if all(place[i] < place[j] for i, j in precedence):
            best = max(best, longest_rising(list(order)))
    assert len(suggest(pedals, school).moved) == 6 - best


@pytest.mark.parametrize("school", SCHOOLS)
@pytest.mark.parametrize("seed", range(200))
def test_suggested_obeys_the_rules_and_leaves_the_kept_in_sequence(seed: int, school: str) -> None:
    pedals = random_pedals(seed, 2 + seed % 12)
    answer = suggest(pedals, school)
    refs = [one.ref for one in pedals]
    place = {ref: i for i, ref in enumerate(answer.suggested)}
    assert sorted(answer.suggested) == sorted(refs)
    assert sorted(answer.kept, key=lambda ref: place[ref]) == list(answer.kept)
    precedence = reference_precedence(pedals, school)
    assert all(place[refs[i]] < place[refs[j]] for i, j in precedence if (j, i) not in precedence)


def longest_rising(values: list[int]) -> int:
    """Length of the longest non-decreasing subsequence, by patience (Schensted 1961)."""
    tops: list[int] = []
    for value in values:
        at = bisect_right(tops, value)
        tops[at : at + 1] = [value]
    return len(tops)


@pytest.mark.parametrize("school", SCHOOLS)
@pytest.mark.parametrize("seed", range(100))
def test_ranks_alone_give_the_longest_non_decreasing_subsequence(seed: int, school: str) -> None:
    """The trade's sorting measure: moves = n less that length; and the suggestion is the stable sort."""
    dice = random.Random(seed)
    pedals = [pedal(f"P{i}", dice.choice(RANK_ONLY_KINDS)) for i in range(dice.randint(1, 30))]
    ranks = {one.ref: rank_of(one, school) or 0 for one in pedals}
    answer = suggest(pedals, school)
    assert len(answer.moved) == len(pedals) - longest_rising([ranks[one.ref] for one in pedals])
    assert list(answer.suggested) == sorted(ranks, key=lambda ref: ranks[ref])


def test_nothing_to_move_changes_nothing() -> None:
    pedals = [pedal("P1", "tuner"), pedal("P2", "overdrive"), pedal("P3", "boost"), pedal("P4", "delay")]
    answer = suggest(pedals, "common")
    assert (answer.suggested, answer.moved, answer.answers) == (("P1", "P2", "P3", "P4"), (), 1)
    assert answer.new_joins == ()


def test_one_move_remakes_up_to_three_joins() -> None:
    """The trade's remark on the sorting measure: the gap closes, and the pedal gets two new neighbours."""
    kinds = ("tuner", "delay", "overdrive", "chorus", "reverb")
    answer = suggest([pedal(f"P{i}", kind) for i, kind in enumerate(kinds, 1)], "common")
    assert (answer.moved, len(answer.new_joins)) == (("P2",), 3)


def test_vintage_fuzz_goes_before_a_buffered_tuner_and_the_tuner_before_the_delay() -> None:
    """A circle of ranks and rules: the ranks in it are dropped, the rules stay."""
    fuzz = pedal("P2", "fuzz", input_ohm=8_000)
    tuner = pedal("P1", "tuner", bypass="buffered")
    assert suggest([tuner, fuzz, pedal("P3", "delay")], "common").suggested == ("P2", "P1", "P3")
    modern = pedal("P2", "fuzz")
    assert suggest([modern, tuner], "common").suggested == ("P1", "P2")


def test_receiver_stays_first_before_a_vintage_fuzz() -> None:
    receiver, fuzz = pedal("P1", "wireless-receiver"), pedal("P2", "fuzz", input_ohm=8_000)
    assert suggest([receiver, fuzz], "common").moved == ()
    assert suggest([fuzz, receiver], "common").suggested == ("P1", "P2")


def test_fuzz_of_unknown_input_is_sorted_as_the_modern_one() -> None:
    unknown = pedal("P1", "fuzz", input_ohm=None)
    wah, buffer = pedal("P2", "wah"), pedal("P3", "buffer")
    assert suggest([wah, unknown], "dynamics-first").moved == ()
    assert suggest([buffer, unknown], "common").moved == ()


def test_two_buffered_vintage_fuzzes_cannot_both_come_first() -> None:
    """No order obeys the rule for both; the rest is sorted all the same."""
    one, other = (pedal(ref, "fuzz", input_ohm=8_000, bypass="buffered") for ref in ("P2", "P3"))
    answer = suggest([pedal("P1", "delay"), one, other], "common")
    assert answer.suggested == ("P2", "P3", "P1")


def test_forty_pedals_are_all_in_the_suggestion() -> None:
    """40 pedals the wrong way round and 40 at random."""
    kinds = sorted(RANK_ONLY_KINDS * 2, key=lambda kind: rank_of(pedal("P", kind), "common") or 0)
    backwards = [pedal(f"P{i}", kind) for i, kind in enumerate(reversed(kinds[:40]))]
    for pedals in (backwards, random_pedals(7, 40)):
        (path,) = signal_paths(wired_board(*pedals))
        answer = suggest_order(path, "common")
        assert sorted(answer.suggested) == sorted(p.ref for p in pedals)


def test_swapped_neighbours_give_two_answers_each() -> None:
    """Eight pairs the wrong way round: either of each pair may stay, 2 ** 8 sets."""
    kinds = ["synth", "tuner", "wah", "fuzz", "pitch-shifter", "compressor", "eq", "boost"]
    kinds += ["delay", "chorus", "tremolo", "reverb", "looper", "boost", "di", "cab-simulator"]
    pedals = [pedal(f"P{i}", kind, role="level" if i == 13 else None) for i, kind in enumerate(kinds)]
    answer = suggest(pedals, "common")
    assert (answer.answers, answer.more, len(answer.moved)) == (256, False, 8)
    assert answer.kept == tuple(f"P{i}" for i in range(0, 16, 2))


@pytest.mark.parametrize(("rows", "answers", "more"), [(2, 55, False), (4, 715, False), (5, 1000, True)])
def test_answers_are_counted_to_a_thousand(rows: int, answers: int, more: bool) -> None:
    """Ten falling ranks over and over: one pedal of each row may stay, C(9 + rows, rows) ways to rise."""
    kinds = ["reverb", "delay", "chorus", "eq", "boost", "compressor", "wah", "fuzz", "synth", "tuner"]
    answer = suggest([pedal(f"P{i}", kind) for i, kind in enumerate(kinds * rows)], "common")
    assert (answer.answers, answer.more, len(answer.kept)) == (answers, more, rows)
    assert (comb(9 + rows, rows) > 1000) == more
    assert more or comb(9 + rows, rows) == answers


def test_joins_count_the_leads() -> None:
    pedals = [pedal("P1", "delay"), pedal("P2", "overdrive")]
    assert suggest(pedals, "common").new_joins == (("", "P2"), ("P2", "P1"), ("P1", ""))
    assert len(list(pairwise(("", "P1", "P2", "")))) == 3
