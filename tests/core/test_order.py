"""The order section as a whole: the worked example, several paths, determinism, any board."""

import os
import subprocess
import sys
from itertools import combinations, pairwise
from pathlib import Path

from hypothesis import HealthCheck, given, settings

from boardshop.core.order import OrderSection, compute_order
from boardshop.core.plan import BoardPlan, EndJack, Jack, Rules
from boardshop.core.printing import as_json
from boardshop.core.vocabulary import KINDS, SEVERITIES
from tests.core.builders import amp, board, pedal, wired_board
from tests.core.documents import load
from tests.core.order_wiring import links
from tests.core.random_boards import Document, documents

OUT_OF_ORDER = {
    "Reverb A": ("reverb", 11),
    "Tuner A": ("tuner", 1),
    "Delay A": ("delay", 10),
    "Fuzz A": ("fuzz", 3),
    "Chorus A": ("chorus", 9),
    "Wah A": ("wah", 4),
    "Overdrive A": ("overdrive", 7),
    "Compressor A": ("compressor", 5),
    "Distortion A": ("distortion", 8),
    "Looper A": ("looper", 14),
}
"""Worked example: ten pedals out of order, in signal order, with their numbers in the trade's list."""


def ten_out_of_order() -> BoardPlan:
    return wired_board(
        *(pedal(f"P{i}", kind, name=name) for i, (name, (kind, _)) in enumerate(OUT_OF_ORDER.items(), 1))
    )


def named(section: OrderSection, plan: BoardPlan) -> list[str]:
    names = {one.ref: one.name for one in plan.pedals}
    return [names[ref] for ref in section.suggested[0]]


def test_worked_example_ten_pedals_out_of_order() -> None:
    """Four moves, two equal solutions, one of eleven joins kept (looper to amp) and ten new ones."""
    plan = ten_out_of_order()
    section = compute_order(plan)
    assert (section.moves, section.answers, section.more, section.links_changed) == (4, 2, False, 10)
    assert section.moved == ("P1", "P3", "P5", "P8")  # reverb, delay, chorus, compressor; the overdrive stays
    assert named(section, plan) == [
        "Tuner A", "Fuzz A", "Wah A", "Compressor A", "Overdrive A",
        "Distortion A", "Chorus A", "Delay A", "Reverb A", "Looper A",
    ]  # fmt: skip


def test_worked_example_recomputed_from_its_numbers() -> None:
    """19 pairs the wrong way round; the longest rising rows have 6 pedals, and there are two of them."""
    ranks = [rank for _, rank in OUT_OF_ORDER.values()]
    assert sum(a > b for a, b in combinations(ranks, 2)) == 19
    rising = {n: [c for c in combinations(ranks, n) if list(c) == sorted(c)] for n in (6, 7)}
    assert (rising[6], rising[7]) == ([(1, 3, 4, 7, 8, 14), (1, 3, 4, 5, 8, 14)], [])
    present, best = ["in", *ranks, "out"], ["in", *sorted(ranks), "out"]
    joins, best_joins = set(pairwise(present)), set(pairwise(best))
    assert (joins & best_joins, len(best_joins - joins)) == ({(14, "out")}, 10)


def test_the_other_school_orders_differently() -> None:
    pedals = (pedal("P1", "wah"), pedal("P2", "fuzz"), pedal("P3", "tremolo"), pedal("P4", "delay"))
    common = compute_order(wired_board(*pedals))
    other = compute_order(wired_board(*pedals, rules=Rules(school="dynamics-first")))
    assert common.suggested == (("P2", "P1", "P4", "P3"),)
    assert (other.suggested, other.moves) == ((("P1", "P2", "P3", "P4"),), 0)


def test_report_keys_in_their_order() -> None:
    keys = ["chain", "suggested", "moves", "moved", "answers", "more", "links_changed", "findings"]
    assert list(as_json(compute_order(board()))) == keys  # type: ignore[arg-type]


def test_board_without_links_has_no_chain() -> None:
    section = compute_order(board())
    assert (section.chain, section.suggested, section.moves, section.answers) == ((), (), 0, 1)


def two_branches() -> BoardPlan:
    """
    G1 - P1 (delay) - P2 (overdrive) - P3 (splitter) -+- P4 (reverb) - P5 (chorus) - A1
                                                      +- P6 (looper) ---------------- A2
    """
    outputs = (Jack("IN", "in"), Jack("A", "out"), Jack("B", "out"))
    kinds = {"P1": "delay", "P2": "overdrive", "P4": "reverb", "P5": "chorus", "P6": "looper"}
    pedals = [pedal(ref, kind) for ref, kind in kinds.items()] + [pedal("P3", "splitter", jacks=outputs)]
    wired = links(
        "G1.OUT > P1.IN", "P1.OUT > P2.IN", "P2.OUT > P3.IN", "P3.A > P4.IN", "P4.OUT > P5.IN",
        "P5.OUT > A1.IN", "P3.B > P6.IN", "P6.OUT > A2.IN",
    )  # fmt: skip
    return board(*pedals, amps=(amp(), amp("A2")), links=wired)


def test_each_path_is_judged_by_itself_and_no_move_counts_twice() -> None:
    """Both paths move the overdrive in front of the delay; the first also brings the chorus there."""
    section = compute_order(two_branches())
    assert section.chain == (("P1", "P2", "P3", "P4", "P5"), ("P1", "P2", "P3", "P6"))
    assert section.suggested == (("P2", "P5", "P1", "P3", "P4"), ("P2", "P1", "P3", "P6"))
    assert (section.moved, section.moves) == (("P2", "P5"), 2)


def test_a_pair_on_two_paths_is_one_finding() -> None:
    pairs = [f.subjects for f in compute_order(two_branches()).findings if f.rule == "R19"]
    assert pairs == [("P1", "P2")]


def test_lead_to_each_amp_counts_as_a_join() -> None:
    """
    G1 - P1 (delay) - P2 (overdrive) -+- A1
                                      +- A2
    """
    splitting = pedal("P2", jacks=(Jack("IN", "in"), Jack("A", "out"), Jack("B", "out")))
    wired = links("G1.OUT > P1.IN", "P1.OUT > P2.IN", "P2.A > A1.IN", "P2.B > A2.IN")
    section = compute_order(board(pedal("P1", "delay"), splitting, amps=(amp(), amp("A2")), links=wired))
    assert (section.chain, section.links_changed) == ((("P1", "P2"),), 4)  # in, between, two out


def test_amps_loop_is_sorted_by_itself() -> None:
    """A drive in front and a reverb before a delay in the loop: only those two change places."""
    loop_amp = amp(jacks=(EndJack("IN", "in"), EndJack("SEND", "send"), EndJack("RETURN", "return")))
    wired = links(
        "G1.OUT > P1.IN", "P1.OUT > A1.IN", "A1.SEND > P2.IN", "P2.OUT > P3.IN", "P3.OUT > A1.RETURN"
    )
    pedals = (pedal("P1"), pedal("P2", "reverb", level="line"), pedal("P3", "delay", level="line"))
    section = compute_order(board(*pedals, amps=(loop_amp,), links=wired))
    assert section.suggested == (("P1",), ("P3", "P2"))
    assert (section.moved, section.answers) == (("P3",), 2)


def test_same_answer_whatever_the_hash_seed() -> None:
    """The ladder of findings of every kind, printed under two hash seeds, byte for byte."""
    code = (
        "from tests.core.test_order import everything; from boardshop.core.order import compute_order;"
        "from boardshop.core.printing import as_json; import json;"
        "print(json.dumps(as_json(compute_order(everything()))))"
    )
    printed = [
        subprocess.run(
            [sys.executable, "-c", code],
            cwd=Path(__file__).parents[2],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "4242")
    ]
    assert printed[0] == printed[1]
    assert len(printed[0]) > 10_000


def everything() -> BoardPlan:
    """One pedal of each kind, last kind first, nothing recorded but size and jacks."""
    bare = dict.fromkeys(("input_ohm", "bypass", "circuit", "level", "tracker"))
    return wired_board(*(pedal(f"P{i}", kind, **bare) for i, kind in enumerate(reversed(KINDS), 1)))


def test_findings_come_worst_first_and_once() -> None:
    findings = compute_order(everything()).findings
    order = [SEVERITIES.index(one.severity) for one in findings]
    assert order == sorted(order)
    assert len({(f.rule, f.severity, f.subjects, f.message) for f in findings}) == len(findings)


@settings(max_examples=150, deadline=None, suppress_health_check=list(HealthCheck))
@given(documents())
def test_any_board_the_loader_takes_gets_an_answer(document: Document) -> None:
    section = compute_order(load(document))
    for present, suggested in zip(section.chain, section.suggested, strict=True):
        assert sorted(present) == sorted(suggested)
        assert len(set(present)) == len(present)
    assert section.moves == len(section.moved)
    assert 1 <= section.answers <= 1000
