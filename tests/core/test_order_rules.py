"""Each rule of order on a board that shows it and on one that does not.

The table restates the trade's rules (common practice): which of two pedals comes first, how much it matters,
in which school, what exempts it and which value it needs.
"""

from typing import Any

import pytest

from boardshop.core.order import PAIR_RULES, compute_order
from boardshop.core.order.pair_rule import BOTH_SCHOOLS
from boardshop.core.order.wording import VALUES
from boardshop.core.plan import BoardPlan, Rules
from tests.core.builders import amp, board, chain, pedal, wired_board
from tests.core.order_wiring import findings_of, links, told, with_jacks

type Part = tuple[str, dict[str, Any]]

VINTAGE = {"input_ohm": 8_000}
MODERN = {"input_ohm": 500_000}
BUFFERED = {"bypass": "buffered"}
MONO = {"tracker": "mono"}
OCTAVE = {"tracker": "none", "circuit": "analog"}
PASSIVE_250K = {"circuit": "passive", "input_ohm": 250_000}
LEVEL = {"role": "level"}

# rule, severity, what comes first, what comes after it; in both schools unless a later table says otherwise
WANTED: list[tuple[str, str, Part, Part]] = [
    ("R01", "fault", ("wireless-receiver", {}), ("tuner", {})),
    ("R01", "fault", ("wireless-receiver", {}), ("splitter", {})),
    ("R02", "fault", ("fuzz", VINTAGE), ("buffer", {})),
    ("R02", "fault", ("fuzz", VINTAGE), ("tuner", BUFFERED)),
    ("R02", "fault", ("fuzz", VINTAGE), ("compressor", {"bypass": "always-on"})),
    ("R02", "fault", ("fuzz", VINTAGE), ("wireless-receiver", {})),
    ("R02", "fault", ("fuzz", {"input_ohm": 99_999}), ("buffer", {})),
    *(
        ("R03", "fault", ("tuner", {}), (kind, {}))
        for kind in ("pitch-shifter", "harmoniser", "ring-modulator")
    ),
    *(
        ("R03", "fault", ("tuner", {}), (kind, {}))
        for kind in ("phaser", "chorus", "delay", "reverb", "looper")
    ),
    ("R04", "caution", ("tuner", {}), ("overdrive", {})),
    ("R04", "caution", ("tuner", {}), ("distortion", {})),
    ("R04", "caution", ("tuner", BUFFERED), ("fuzz", MODERN)),
    ("R04", "caution", ("tuner", {}), ("fuzz", VINTAGE)),
    ("R05", "caution", ("fuzz", VINTAGE), ("wah", {"output_ohm": None})),
    ("R05", "caution", ("fuzz", VINTAGE), ("wah", {"output_ohm": 5_001})),
    ("R06", "caution", ("wah", {}), ("overdrive", {})),
    ("R06", "caution", ("wah", {}), ("distortion", {})),
    ("R07", "caution", ("envelope-filter", {}), ("compressor", {})),
    ("R07", "caution", ("envelope-filter", {}), ("boost", {})),
    ("R08", "caution", ("envelope-filter", {}), ("delay", {})),
    ("R09", "caution", ("compressor", {}), ("overdrive", {})),
    ("R10", "caution", ("compressor", {}), ("reverb", {})),
    ("R10", "caution", ("compressor", {}), ("looper", {})),
    ("R11", "advice", ("wah", {}), ("compressor", {})),
    ("R11", "advice", ("envelope-filter", {}), ("compressor", {})),
    ("R12", "caution", ("pitch-shifter", MONO), ("distortion", {})),
    ("R12", "caution", ("pitch-shifter", MONO), ("chorus", {})),
    ("R12", "caution", ("harmoniser", MONO), ("delay", {})),
    ("R13", "advice", ("fuzz", {}), ("pitch-shifter", OCTAVE)),
    ("R13", "advice", ("overdrive", {}), ("pitch-shifter", OCTAVE)),
    ("R14", "caution", ("synth", MONO), ("overdrive", {})),
    ("R14", "caution", ("synth", MONO), ("fuzz", {})),
    ("R15", "fault", ("noise-gate", {}), ("delay", {})),
    ("R15", "fault", ("noise-gate", {}), ("reverb", {})),
    ("R15", "fault", ("noise-gate", {}), ("looper", {})),
    ("R17", "caution", ("boost", {}), ("distortion", {})),
    ("R17", "caution", ("overdrive", {}), ("distortion", {})),
    ("R18", "caution", ("fuzz", {}), ("flanger", {})),
    ("R18", "caution", ("distortion", {}), ("rotary", {})),
    ("R19", "caution", ("overdrive", {}), ("delay", {})),
    ("R19", "caution", ("preamp", {}), ("delay", {})),
    ("R20", "caution", ("fuzz", {}), ("reverb", {})),
    ("R21", "caution", ("phaser", {}), ("delay", {})),
    ("R22", "caution", ("delay", {}), ("reverb", {})),
    ("R24", "caution", ("overdrive", {}), ("volume", {})),
    ("R25", "caution", ("volume", {}), ("delay", {})),
    ("R26", "caution", ("volume", PASSIVE_250K), ("buffer", {})),
    ("R26", "caution", ("volume", {**PASSIVE_250K, "role": "master"}), ("tuner", BUFFERED)),
    ("R28", "caution", ("boost", LEVEL), ("looper", {})),
    ("R29", "caution", ("delay", {}), ("looper", {})),
    ("R29", "caution", ("overdrive", {}), ("looper", {})),
    ("R30", "fault", ("preamp", {}), ("cab-simulator", {})),
    ("R32", "caution", ("preamp", {}), ("chorus", {})),
    ("R34", "fault", ("overdrive", {}), ("di", {})),
    ("R34", "fault", ("cab-simulator", {}), ("di", {})),
    ("R43", "advice", ("bit-crusher", {}), ("delay", {})),
    ("R43", "advice", ("ring-modulator", {}), ("reverb", {})),
]

# the same for rules that hold in one school, or differ between the two
BY_SCHOOL: list[tuple[str, str, Part, Part, str]] = [
    ("R09", "advice", ("compressor", {}), ("fuzz", MODERN), "dynamics-first"),
    ("R12", "advice", ("harmoniser", MONO), ("overdrive", {}), "common"),
    ("R16", "advice", ("overdrive", {}), ("noise-gate", {}), "common"),
    ("R16", "caution", ("overdrive", {}), ("noise-gate", {}), "dynamics-first"),
    ("R23", "advice", ("reverb", {}), ("tremolo", {}), "common"),
    ("R44", "advice", ("tremolo", {}), ("delay", {}), "dynamics-first"),
]

# what exempts the wrong order from the rule
EXEMPT: list[tuple[str, Part, Part]] = [
    ("R01", ("wireless-receiver", {}), ("wireless-receiver", {})),
    ("R02", ("fuzz", {"input_ohm": 100_000}), ("buffer", {})),
    ("R02", ("fuzz", VINTAGE), ("tuner", {"bypass": "true"})),
    ("R02", ("fuzz", VINTAGE), ("volume", {"circuit": "passive", "bypass": "always-on"})),
    ("R02", ("fuzz", {"input_ohm": None}), ("volume", {"circuit": "passive", "bypass": None})),
    ("R03", ("tuner", {"role": "master"}), ("delay", {})),
    ("R04", ("tuner", {"role": "master"}), ("overdrive", {})),
    ("R04", ("tuner", BUFFERED), ("fuzz", VINTAGE)),
    ("R05", ("fuzz", MODERN), ("wah", {"output_ohm": None})),
    ("R05", ("fuzz", VINTAGE), ("wah", {"output_ohm": None, "bypass": "buffered"})),
    ("R05", ("fuzz", VINTAGE), ("wah", {"output_ohm": 5_000})),
    ("R07", ("envelope-filter", {}), ("boost", LEVEL)),
    ("R09", ("compressor", {"role": "limiter"}), ("overdrive", {})),
    ("R09", ("compressor", {}), ("fuzz", VINTAGE)),
    ("R10", ("compressor", {"role": "limiter"}), ("reverb", {})),
    ("R12", ("pitch-shifter", {"tracker": "poly"}), ("distortion", {})),
    ("R12", ("pitch-shifter", {"tracker": "none"}), ("distortion", {})),
    ("R13", ("fuzz", {}), ("pitch-shifter", {"tracker": "poly", "circuit": None})),
    ("R13", ("fuzz", {}), ("pitch-shifter", {"tracker": None, "circuit": "digital"})),
    ("R14", ("synth", {"tracker": "poly"}), ("overdrive", {})),
    ("R14", ("synth", MONO), ("tuner", {})),
    ("R14", ("synth", MONO), ("noise-gate", {})),
    ("R17", ("boost", LEVEL), ("distortion", {})),
    ("R18", ("fuzz", {}), ("phaser", {})),
    ("R18", ("fuzz", {}), ("vibrato", {})),
    ("R24", ("overdrive", {}), ("volume", {"role": "input"})),
    ("R25", ("volume", {"role": "master"}), ("delay", {})),
    ("R26", ("volume", {**PASSIVE_250K, "input_ohm": 25_000}), ("buffer", {})),
    ("R26", ("volume", {**PASSIVE_250K, "circuit": "analog"}), ("buffer", {})),
    ("R26", ("volume", PASSIVE_250K), ("tuner", {})),
    ("R29", ("preamp", {}), ("looper", {})),
    ("R29", ("eq", LEVEL), ("looper", {})),
]

# rule, the two pedals as before, the pedal (first or second) and the value that nobody recorded
UNRECORDED: list[tuple[str, Part, Part, str, str]] = [
    ("R02", ("fuzz", {"input_ohm": None}), ("buffer", {}), "first", "input_ohm"),
    ("R02", ("fuzz", VINTAGE), ("tuner", {"bypass": None}), "then", "bypass"),
    ("R04", ("tuner", BUFFERED), ("fuzz", {"input_ohm": None}), "then", "input_ohm"),
    ("R05", ("fuzz", {"input_ohm": None}), ("wah", {"output_ohm": None}), "first", "input_ohm"),
    ("R05", ("fuzz", VINTAGE), ("wah", {"output_ohm": None, "bypass": None}), "then", "bypass"),
    ("R12", ("pitch-shifter", {"tracker": None}), ("distortion", {}), "first", "tracker"),
    ("R13", ("fuzz", {}), ("pitch-shifter", {"tracker": "none", "circuit": None}), "then", "circuit"),
    ("R13", ("fuzz", {}), ("pitch-shifter", {"tracker": None}), "then", "tracker"),
    ("R14", ("synth", {"tracker": None}), ("overdrive", {}), "first", "tracker"),
    ("R26", ("volume", {**PASSIVE_250K, "circuit": None}), ("buffer", {}), "first", "circuit"),
    ("R26", ("volume", {**PASSIVE_250K, "input_ohm": None}), ("buffer", {}), "first", "input_ohm"),
    ("R26", ("volume", PASSIVE_250K), ("tuner", {"bypass": None}), "then", "bypass"),
]


def in_this_order(*parts: Part, school: str = "common") -> BoardPlan:
    pedals = [pedal(f"P{i}", kind, **values) for i, (kind, values) in enumerate(parts, 1)]
    return wired_board(*pedals, amps=(amp(speaker="full-range"),), rules=Rules(school=school))


@pytest.mark.parametrize("school", BOTH_SCHOOLS)
@pytest.mark.parametrize(("rule", "severity", "first", "then"), WANTED)
def test_wrong_way_round_shows_it_and_right_way_round_does_not(
    rule: str, severity: str, first: Part, then: Part, school: str
) -> None:
    assert told(in_this_order(then, first, school=school), rule) == [(severity, ("P1", "P2"))]
    assert told(in_this_order(first, then, school=school), rule) == []


@pytest.mark.parametrize(("rule", "severity", "first", "then", "school"), BY_SCHOOL)
def test_rule_of_one_school(rule: str, severity: str, first: Part, then: Part, school: str) -> None:
    assert told(in_this_order(then, first, school=school), rule) == [(severity, ("P1", "P2"))]
    assert told(in_this_order(first, then, school=school), rule) == []


@pytest.mark.parametrize("rule", ["R09", "R12", "R23", "R44"])
def test_rule_of_one_school_is_silent_in_the_other(rule: str) -> None:
    (row,) = [row for row in BY_SCHOOL if row[0] == rule]
    (other,) = set(BOTH_SCHOOLS) - {row[4]}
    assert told(in_this_order(row[3], row[2], school=other), rule) == []


@pytest.mark.parametrize("school", BOTH_SCHOOLS)
@pytest.mark.parametrize(("rule", "first", "then"), EXEMPT)
def test_exempt_pair_is_neither_wrong_nor_unknown(rule: str, first: Part, then: Part, school: str) -> None:
    assert told(in_this_order(then, first, school=school), rule) == []


@pytest.mark.parametrize(("rule", "first", "then", "which", "value"), UNRECORDED)
def test_missing_value_is_unknown_only_where_it_decides(
    rule: str, first: Part, then: Part, which: str, value: str
) -> None:
    plan = in_this_order(then, first)
    (finding,) = findings_of(plan, rule)
    assert (finding.severity, finding.subjects) == ("unknown", ("P1", "P2"))
    owner = "P2" if which == "first" else "P1"
    assert finding.message.startswith(f"{owner} has no recorded {VALUES[value][0]}, ")
    assert finding.cure.startswith(f"Record the {VALUES[value][0]} of {owner}: ")
    assert told(in_this_order(first, then), rule) == []


def test_every_pair_rule_is_in_the_tables_above() -> None:
    assert {rule.id for rule in PAIR_RULES} == {row[0] for row in (*WANTED, *BY_SCHOOL)}


def test_one_missing_value_is_asked_for_once() -> None:
    """Two buffers before a fuzz of unknown input: one finding, naming all of them."""
    plan = in_this_order(("buffer", {}), ("tuner", BUFFERED), ("fuzz", {"input_ohm": None}))
    assert told(plan, "R02") == [("unknown", ("P1", "P2", "P3"))]


@pytest.mark.parametrize("school", BOTH_SCHOOLS)
def test_a_chain_in_the_schools_own_order_breaks_none_of_its_rules(school: str) -> None:
    """One pedal of each kind, everything recorded, as the school suggests it: only tastes remain."""
    kinds = sorted({part[0] for _, _, *pair in WANTED for part in pair})
    pedals = [pedal(f"P{i}", kind, **MONO) for i, kind in enumerate(kinds, 1)]
    plan = wired_board(*pedals, amps=(amp(speaker="full-range"),), rules=Rules(school=school))
    (order,) = compute_order(plan).suggested
    again = board(*pedals, amps=plan.amps, links=chain("G1", *order, "A1"), rules=plan.rules)
    # A splitter or mixer in a row has only one way (O07).
    assert {f.rule for f in compute_order(again).findings} <= {"R16", "O07"}
    assert compute_order(again).moves == 0


@pytest.mark.parametrize(
    ("length", "expected"),
    [(500, []), (501, [("caution", ("P1", "P2"))]), (None, [("unknown", ("P1", "P2"))])],
)
def test_buffer_close_behind_a_high_pot_saves_it(length: int | None, expected: list[Any]) -> None:
    """R26: within half a metre (common practice); P1 drives the pot of P2, P3 follows it."""
    pedals = (pedal("P1", "buffer"), pedal("P2", "volume", **PASSIVE_250K), pedal("P3", "buffer"))
    wired = (
        *chain("G1", "P1", "P2"),
        *chain("P2", "P3", length=length, first=3),
        *chain("P3", "A1", first=4),
    )
    plan = board(*pedals, links=wired)
    assert [row for row in told(plan, "R26") if "P1" in row[1]] == expected


def four_jack_gate(*ends: str) -> BoardPlan:
    gate = with_jacks("P1", "noise-gate", IN="in", SEND="send", RETURN="return", OUT="out")
    return board(gate, pedal("P2"), pedal("P3", "delay"), links=links(*ends))


def test_gate_with_its_own_loop_listens_early_and_acts_late() -> None:
    """G1 - P1(in, send) - P2 - P1(return, out) - P3 - A1: no rank, no hiss, no chopped tails."""
    plan = four_jack_gate(
        "G1.OUT > P1.IN", "P1.SEND > P2.IN", "P2.OUT > P1.RETURN", "P1.OUT > P3.IN", "P3.OUT > A1.IN"
    )
    section = compute_order(plan)
    assert (section.chain, section.moves, section.findings) == ((("P1", "P2", "P3"),), 0, ())


def test_gate_with_the_delay_in_its_own_loop_chops_the_tails() -> None:
    plan = four_jack_gate(
        "G1.OUT > P1.IN", "P1.SEND > P2.IN", "P2.OUT > P3.IN", "P3.OUT > P1.RETURN", "P1.OUT > A1.IN"
    )
    assert told(plan, "R15") == [("fault", ("P3", "P1"))]


def test_through_jack_of_a_di_carries_the_chain_on() -> None:
    """R34 is silent where the chain leaves by the through jack, and speaks where it leaves by the other."""
    for jack, expected in (("THRU", []), ("XLR", [("fault", ("P1", "P2"))])):
        box = with_jacks("P1", "di", IN="in", THRU="out", XLR="out")
        plan = board(box, pedal("P2"), links=links("G1.OUT > P1.IN", f"P1.{jack} > P2.IN", "P2.OUT > A1.IN"))
        assert told(plan, "R34") == expected
