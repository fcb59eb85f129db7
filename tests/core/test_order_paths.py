"""The paths of the signal, drawn by hand, and random graphs against networkx."""

import random
from dataclasses import replace

import networkx as nx
import pytest

from boardshop.core.order import compute_order, signal_paths
from boardshop.core.order.paths import MOST_PATHS, trace_paths
from boardshop.core.plan import BoardPlan, EndJack
from tests.core.builders import amp, board, chain, guitar, link, pedal, wired_board
from tests.core.order_wiring import LOOP_AMP, links, with_jacks


def chains(plan: BoardPlan) -> tuple[tuple[str, ...], ...]:
    return compute_order(plan).chain


def rules_of(plan: BoardPlan) -> set[str]:
    return {finding.rule for finding in compute_order(plan).findings}


def test_one_row() -> None:
    """G1 - P1 - P2 - A1"""
    (path,) = signal_paths(wired_board(pedal("P1"), pedal("P2")))
    assert (path.refs, path.start, path.end, path.in_loop) == (("P1", "P2"), "G1.OUT", "A1.IN", False)
    assert [one.ref for one in path.links] == ["W1", "W2", "W3"]


def test_chain_that_nothing_feeds_is_a_path() -> None:
    """P1 - P2, beside an unplugged guitar"""
    plan = board(pedal("P1"), pedal("P2"), links=chain("P1", "P2"))
    (path,) = signal_paths(plan)
    assert (path.refs, path.start, path.end) == (("P1", "P2"), None, None)


def test_branches_are_paths_of_their_own() -> None:
    """
    G1 - P1 -+- P2 - A1
             +- P3 - A2
    """
    splitter = with_jacks("P1", "splitter", IN="in", A="out", B="out")
    ends = links("G1.OUT > P1.IN", "P1.A > P2.IN", "P1.B > P3.IN", "P2.OUT > A1.IN", "P3.OUT > A2.IN")
    plan = board(splitter, pedal("P2"), pedal("P3"), amps=(amp(), amp("A2")), links=ends)
    assert chains(plan) == (("P1", "P2"), ("P1", "P3"))


def test_branches_that_meet_again() -> None:
    """
    G1 - P1 -+- P2 -+- P4 - A1
             +------+
    """
    splitter = with_jacks("P1", "splitter", IN="in", A="out", B="out")
    mixer = with_jacks("P4", "mixer", A="in", B="in", OUT="out")
    ends = links("G1.OUT > P1.IN", "P1.A > P2.IN", "P2.OUT > P4.A", "P1.B > P4.B", "P4.OUT > A1.IN")
    assert chains(board(splitter, pedal("P2"), mixer, links=ends)) == (("P1", "P2", "P4"), ("P1", "P4"))


def test_two_sides_of_one_stereo_join_are_one_path() -> None:
    """G1 - P1 = P2 - A1"""
    one = with_jacks("P1", "delay", IN="in", L="out", R="out")
    other = with_jacks("P2", "reverb", L="in", R="in", OUT="out")
    ends = links("G1.OUT > P1.IN", "P1.L > P2.L", "P1.R > P2.R", "P2.OUT > A1.IN")
    assert chains(board(one, other, links=ends)) == (("P1", "P2"),)


def test_loops_of_a_switcher_follow_each_other() -> None:
    """G1 - P1(in, send 1) - P2 - P1(return 1, send 2) - P3 - P1(return 2, out) - A1"""
    jacks = {"IN": "in", "S1": "send", "S2": "send", "S3": "send"}
    switcher = with_jacks("P1", "switcher", **jacks, R1="return", R2="return", R3="return", OUT="out")
    ends = links(
        "G1.OUT > P1.IN",
        "P1.S1 > P2.IN",
        "P2.OUT > P1.R1",
        "P1.S2 > P3.IN",
        "P3.OUT > P1.R2",
        "P1.OUT > A1.IN",
    )
    plan = board(switcher, pedal("P2"), pedal("P3"), links=ends)
    (path,) = signal_paths(plan)
    assert (path.refs, path.acts_after) == (("P1", "P2", "P3"), (2, 1, 2))


def test_stereo_loop_is_one_loop() -> None:
    """The left and the right send of a loop lead through the same pedal once."""
    switcher = with_jacks(
        "P1",
        "switcher",
        IN="in",
        SEND_L="send",
        SEND_R="send",
        RETURN_L="return",
        RETURN_R="return",
        OUT="out",
    )
    delay = with_jacks("P2", "delay", IN_L="in", IN_R="in", OUT_L="out", OUT_R="out")
    ends = links(
        "G1.OUT > P1.IN", "P1.SEND L > P2.IN L", "P1.SEND R > P2.IN R",
        "P2.OUT L > P1.RETURN L", "P2.OUT R > P1.RETURN R", "P1.OUT > A1.IN",
    )  # fmt: skip
    assert chains(board(switcher, delay, links=ends)) == (("P1", "P2"),)


def test_amps_loop_is_a_path_of_its_own() -> None:
    """G1 - P1 - A1 in; A1 send - P2 - A1 return"""
    ends = links("G1.OUT > P1.IN", "P1.OUT > A1.IN", "A1.SEND > P2.IN", "P2.OUT > A1.RETURN")
    plan = board(pedal("P1"), pedal("P2", "delay"), amps=(LOOP_AMP,), links=ends)
    assert chains(plan) == (("P1",), ("P2",))
    assert [path.in_loop for path in signal_paths(plan)] == [False, True]


def test_four_cable_method_through_a_switcher() -> None:
    """G1 - P1(in, s1) - P2 - P1(r1, s2) - A1 in; A1 send - P1(r2, s3) - P3 - P1(r3, out) - A1 return"""
    jacks = {"IN": "in"} | {f"S{i}": "send" for i in (1, 2, 3)} | {f"R{i}": "return" for i in (1, 2, 3)}
    switcher = with_jacks("P1", "switcher", **jacks, OUT="out")
    ends = links(
        "G1.OUT > P1.IN", "P1.S1 > P2.IN", "P2.OUT > P1.R1", "P1.S2 > A1.IN", "A1.SEND > P1.R2",
        "P1.S3 > P3.IN", "P3.OUT > P1.R3", "P1.OUT > A1.RETURN",
    )  # fmt: skip
    plan = board(switcher, pedal("P2"), pedal("P3", "delay"), amps=(LOOP_AMP,), links=ends)
    assert chains(plan) == (("P1", "P2"), ("P1", "P3"))


def test_tuner_on_an_output_of_its_own_is_off_the_chain() -> None:
    """
    G1 - P1 -+- P3 - A1
             +- P2 (tuner)
    """
    volume = with_jacks("P1", "volume", IN="in", TUNER="out", OUT="out")
    ends = links("G1.OUT > P1.IN", "P1.TUNER > P2.IN", "P1.OUT > P3.IN", "P3.OUT > A1.IN")
    plan = board(volume, pedal("P2", "tuner"), pedal("P3"), links=ends)
    assert chains(plan) == (("P1", "P3"),)
    assert "O01" not in rules_of(plan)


def test_tuner_that_simply_ends_a_chain_stays_in_it() -> None:
    plan = board(pedal("P1"), pedal("P2", "tuner"), links=chain("G1", "P1", "P2"))
    assert chains(plan) == (("P1", "P2"),)


def test_feedback_ends_a_path_and_is_named_once() -> None:
    """
    G1 - P1 - P2 -+- A1
         +----<---+
    """
    mixer = with_jacks("P1", "mixer", A="in", B="in", OUT="out")
    splitter = with_jacks("P2", "splitter", IN="in", A="out", B="out")
    ends = links("G1.OUT > P1.A", "P1.OUT > P2.IN", "P2.A > A1.IN", "P2.B > P1.B")
    section = compute_order(board(mixer, splitter, links=ends))
    assert section.chain == (("P1", "P2"),)
    assert [f.subjects for f in section.findings if f.rule == "O02"] == [("P1", "P2")]


def test_ring_that_nothing_feeds_is_a_path_and_a_finding() -> None:
    plan = board(pedal("P1"), pedal("P2"), links=chain("P1", "P2", "P1"))
    section = compute_order(plan)
    assert section.chain == (("P1", "P2"),)
    assert [f.subjects for f in section.findings if f.rule == "O02"] == [("P1", "P2")]


def test_pedals_not_linked_are_named_once_and_together() -> None:
    plan = board(
        pedal("P1"), pedal("P2"), pedal("P3", "expression"), pedal("P4"), links=chain("G1", "P1", "A1")
    )
    (finding,) = compute_order(plan).findings
    assert (finding.rule, finding.severity, finding.subjects) == ("O01", "unknown", ("P2", "P4"))


def test_control_and_midi_links_carry_no_sound() -> None:
    one = with_jacks("P1", "delay", IN="in", OUT="out", MIDI="midi-in")
    other = with_jacks("P2", "midi-controller", MIDI="midi-out")
    plan = board(one, other, links=(*chain("G1", "P1", "A1"), link("W9", "P2.MIDI", "P1.MIDI")))
    assert (chains(plan), rules_of(plan)) == ((("P1",),), set())


def test_refs_compare_without_case() -> None:
    plan = board(pedal("p1"), links=links("G1.OUT > P1.in", "P1.Out > a1.IN"))
    assert chains(plan) == (("p1",),)


def ladder(steps: int) -> BoardPlan:
    """Splitter and mixer in turn, so that the ways double at each step."""
    pedals, ends = [], ["G1.OUT > S1.IN"]
    for i in range(1, steps + 1):
        pedals += [
            with_jacks(f"S{i}", "splitter", IN="in", A="out", B="out"),
            pedal(f"P{i}"),
            with_jacks(f"M{i}", "mixer", A="in", B="in", OUT="out"),
        ]
        following = f"S{i + 1}.IN" if i < steps else "A1.IN"
        ends += [f"S{i}.A > P{i}.IN", f"P{i}.OUT > M{i}.A", f"S{i}.B > M{i}.B", f"M{i}.OUT > {following}"]
    return board(*pedals, links=links(*ends))


@pytest.mark.parametrize(
    ("steps", "count", "left_off"), [(5, 32, ()), (6, 64, ()), (7, 64, ("G1",)), (40, 64, ("G1",))]
)
def test_ways_are_listed_up_to_a_limit(steps: int, count: int, left_off: tuple[str, ...]) -> None:
    traced = trace_paths(ladder(steps))
    assert (len(traced.paths), traced.left_off) == (count, left_off)
    assert MOST_PATHS == 64
    assert ("O03" in rules_of(ladder(steps))) == bool(left_off)


def random_wiring(seed: int, acyclic: bool) -> BoardPlan:
    """Up to 7 pedals with two inputs and outputs each, links at random, no input used twice."""
    dice = random.Random(seed)
    n = dice.randint(1, 7)
    pedals = tuple(with_jacks(f"P{i}", A="in", B="in", C="out", D="out") for i in range(n))
    inputs = [f"P{i}.{name}" for i in range(n) for name in "AB"] + ["A1.IN"]
    made = []
    for target in inputs:
        last = n if target == "A1.IN" else int(target[1:].split(".")[0])
        outputs = ["G1.OUT", *(f"P{i}.{name}" for i in range(last if acyclic else n) for name in "CD")]
        if dice.random() < 0.6:
            made.append(f"{dice.choice(outputs)} > {target}")
    return board(*pedals, links=links(*made))


@pytest.mark.parametrize("seed", range(150))
def test_paths_from_the_guitar_equal_networkx_simple_paths(seed: int) -> None:
    """Where nothing leads back, they are the simple paths from the guitar to every end (networkx 3)."""
    plan = random_wiring(seed, acyclic=True)
    graph = nx.DiGraph((one.source.split(".")[0], one.target.split(".")[0]) for one in plan.links)
    ends = [node for node in graph if graph.out_degree(node) == 0]
    expected = set()
    if "G1" in graph:
        for path in nx.all_simple_paths(graph, "G1", ends):
            expected.add((tuple(ref for ref in path if ref[0] == "P"), path[-1] == "A1"))
    found = {(path.refs, path.end is not None) for path in signal_paths(plan) if path.start}
    assert found == {(refs, at_amp) for refs, at_amp in expected if refs}


@pytest.mark.parametrize("seed", range(200))
def test_any_wiring_is_traced_and_cycles_are_networkx_strong_components(seed: int) -> None:
    plan = random_wiring(seed, acyclic=False)
    section = compute_order(plan)
    graph = nx.DiGraph((one.source.split(".")[0], one.target.split(".")[0]) for one in plan.links)
    loops = {n for n in graph if graph.has_edge(n, n)}
    parts = (part for part in nx.strongly_connected_components(graph) if len(part) > 1 or part & loops)
    assert {frozenset(f.subjects) for f in section.findings if f.rule == "O02"} == {
        frozenset(p) for p in parts
    }
    on_paths = {ref for refs in section.chain for ref in refs}
    assert on_paths == {node for node in graph if node.startswith("P")}


def test_return_from_elsewhere_begins_no_second_path() -> None:
    """A1 send - P1(return 1, out) - A1 return: the switcher's own input is not in use."""
    switcher = with_jacks("P1", "switcher", IN="in", S="send", R="return", OUT="out")
    ends = links("A1.SEND > P1.R", "P1.OUT > A1.RETURN")
    (path,) = signal_paths(board(switcher, amps=(LOOP_AMP,), links=ends))
    assert (path.start, path.in_loop) == ("A1.SEND", True)


def test_amps_line_out_begins_a_path_outside_its_loop() -> None:
    speaker = replace(LOOP_AMP, jacks=(EndJack("IN", "in"), EndJack("LINE", "out")))
    plan = board(pedal("P1", "reverb"), sources=(guitar(),), amps=(speaker,), links=links("A1.LINE > P1.IN"))
    (path,) = signal_paths(plan)
    assert (path.refs, path.start, path.in_loop) == (("P1",), "A1.LINE", False)
