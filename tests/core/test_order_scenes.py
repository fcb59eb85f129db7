"""The rules of order per scene: what is heard in which, and what only a scene shows."""

from typing import Any

import pytest

from boardshop.core.order import compute_order
from boardshop.core.order.scenes import judge_order
from boardshop.core.plan import BoardPlan, Pedal, Scene
from tests.core.builders import amp, board, pedal, wired_board
from tests.core.order_wiring import links, told, with_jacks


def heard(plan: BoardPlan, rule: str) -> list[str]:
    """The names of the scenes in which some finding of the rule is heard."""
    return [one.name for one in judge_order(plan).scenes if any(name == rule for name, _ in one.heard)]


def scenes(**on: str) -> tuple[Scene, ...]:
    """``scenes(verse="P1 P2")``."""
    return tuple(Scene(name, tuple(refs.split())) for name, refs in on.items())


SMEARED = (pedal("P1", "delay"), pedal("P2", "overdrive"), pedal("P3", "chorus"))
"""Delay into drive, R19."""


def test_a_pair_is_heard_where_both_are_engaged() -> None:
    plan = wired_board(*SMEARED, scenes=scenes(clean="P1 P3", lead="P1 P2", loud="p2"))
    assert heard(plan, "R19") == ["lead"]
    assert told(plan, "R19") == [("caution", ("P1", "P2"))]  # found once, whatever the scenes


@pytest.mark.parametrize(
    ("overrides", "expected"), [({"bypass": "always-on"}, ["lead", "loud"]), ({"bypass": "true"}, ["lead"])]
)
def test_what_cannot_be_bypassed_acts_in_every_scene(overrides: dict[str, Any], expected: list[str]) -> None:
    pedals = (pedal("P1", "delay", **overrides), *SMEARED[1:])
    assert heard(wired_board(*pedals, scenes=scenes(lead="P1 P2", loud="P2")), "R19") == expected


def test_a_buffered_bypass_acts_on_the_fuzz_behind_it_all_the_same() -> None:
    pedals = (pedal("P1", "chorus", bypass="buffered"), pedal("P2", "fuzz", input_ohm=8_000))
    plan = wired_board(*pedals, scenes=scenes(fuzz="P2", clean="P1"))
    assert heard(plan, "R02") == ["fuzz"]


def test_an_octave_behind_a_bypassed_drive_is_undriven_in_that_scene_only() -> None:
    """R13 is silent while the first drive is on; with it off, the drive behind the octave stands wrong."""
    octave = pedal("P2", "pitch-shifter", tracker="none")
    pedals = (pedal("P1", "fuzz"), octave, pedal("P3", "overdrive"))
    plan = wired_board(*pedals, scenes=scenes(both="P1 P2 P3", octave="P2 P3"))
    (found,) = (one for one in compute_order(plan).findings if one.rule == "R13")
    assert (found.severity, found.subjects) == ("advice", ("P2", "P3"))
    assert found.message.startswith("In the scene “octave”: ")
    assert heard(plan, "R13") == ["octave"]


def two_ways(one: Pedal, other: Pedal, **on: str) -> BoardPlan:
    """
    G1 - P1 (splitter) -+- P2 -+- P4 (mixer) - A1
                        +- P3 -+
    """
    splitter = with_jacks("P1", "splitter", IN="in", A="out", B="out")
    mixer = with_jacks("P4", "mixer", A="in", B="in", OUT="out")
    wired = links(
        "G1.OUT > P1.IN", "P1.A > P2.IN", "P1.B > P3.IN", "P2.OUT > P4.A", "P3.OUT > P4.B", "P4.OUT > A1.IN"
    )
    return board(splitter, one, other, mixer, amps=(amp(),), links=wired, scenes=scenes(**on))


def test_two_inverting_branches_cancel_in_the_scene_that_bypasses_one() -> None:
    """Both on: equal polarity.  One bypassed: the other stands against a plain branch, 1 - 1 = 0."""
    one, other = pedal("P2", "overdrive", inverts=True), pedal("P3", "chorus", inverts=True)
    plan = two_ways(one, other, both="P2 P3", drive="P2", none="")
    assert told(plan, "R40") == [("fault", ("P2", "P4"))]
    assert heard(plan, "R40") == ["drive"]


def test_a_scene_in_which_the_one_that_inverts_is_off_is_not_named() -> None:
    one, other = pedal("P2", "overdrive", inverts=True), pedal("P3", "chorus", inverts=False)
    plan = two_ways(one, other, drive="P2", clean="P3")
    assert told(plan, "R40") == [("fault", ("P2", "P4"))]
    assert heard(plan, "R40") == ["drive"]


@pytest.mark.parametrize(("on", "expected"), [("P1", ["direct"]), ("", [])])
def test_a_speaker_simulator_that_only_a_scene_engages(on: str, expected: list[str]) -> None:
    simulator = pedal("P1", "cab-simulator", on=False)
    plan = wired_board(simulator, scenes=scenes(direct=on))
    assert heard(plan, "R31") == expected
    assert [severity for severity, _ in told(plan, "R31")] == ["fault"] * len(expected)


def test_what_nobody_recorded_is_asked_for_once_for_the_whole_board() -> None:
    pedals = (pedal("P1", "chorus", bypass=None), pedal("P2", "fuzz", input_ohm=8_000))
    plan = wired_board(*pedals, scenes=scenes(one="P1 P2", two="P2"))
    assert [severity for severity, _ in told(plan, "R02")] == ["unknown"]
    assert heard(plan, "R02") == ["one", "two"]


def test_a_missing_value_concerns_every_scene_in_which_it_decides_something() -> None:
    """Of two pedals in front of the fuzz the board asks in one finding; a scene may engage one of the two."""
    fuzz = pedal("P3", "fuzz", input_ohm=None)
    buffered = [pedal(ref, "chorus", bypass="buffered") for ref in ("P1", "P2")]
    plan = wired_board(*buffered, fuzz, scenes=scenes(both="P1 P2 P3", one="P1 P3", clean="P1"))
    assert told(plan, "R02") == [("unknown", ("P1", "P2", "P3"))]
    assert heard(plan, "R02") == ["both", "one"]
    modulated = wired_board(
        pedal("P1", "delay"), pedal("P2", "reverb"), pedal("P3", "pitch-shifter", tracker=None),
        scenes=scenes(one="P1 P3", other="P2 P3", none="P1 P2"),
    )  # fmt: skip
    assert told(modulated, "R12") == [("unknown", ("P1", "P2", "P3"))]
    assert heard(modulated, "R12") == ["one", "other"]


def test_delays_of_converters_add_where_they_are_engaged() -> None:
    """4 + 4 ms: advice above 6 ms (common practice); each alone is below."""
    digital = [pedal(f"P{i}", "delay", circuit="digital", latency_ms=4.0) for i in (1, 2)]
    plan = wired_board(*digital, scenes=scenes(both="P1 P2", one="P1"))
    assert heard(plan, "R45") == ["both"]


def test_a_board_without_scenes_has_none_judged() -> None:
    assert judge_order(wired_board(*SMEARED)).scenes == ()
