"""Rules of order about the amp, its loop, levels and other places: shown on one board, not on another.

The rules are the trade's (common practice).
"""

from typing import Any

import pytest

from boardshop.core.plan import Amp, BoardPlan, EndJack, Jack, Pedal
from tests.core.builders import active_source, amp, board, guitar, pedal, wired_board
from tests.core.order_wiring import LOOP_AMP, links, told, with_jacks

BUFFERED = {"bypass": "buffered"}
LEVEL = {"role": "level"}


def volume_25k(**values: Any) -> Pedal:
    return pedal("P1", "volume", **({"circuit": "passive", "input_ohm": 25_000} | values))


@pytest.mark.parametrize(
    ("plan", "expected"),
    [
        (wired_board(volume_25k()), [("caution", ("G1", "P1"))]),
        (wired_board(volume_25k(input_ohm=99_999)), [("caution", ("G1", "P1"))]),
        (wired_board(volume_25k(input_ohm=100_000)), []),
        (wired_board(volume_25k(circuit="analog")), []),
        (wired_board(pedal("P0", "buffer"), volume_25k()), []),
        (wired_board(pedal("P0", "tuner"), volume_25k()), [("caution", ("G1", "P1"))]),
        (wired_board(volume_25k(), sources=(active_source(),)), []),
        (wired_board(volume_25k(input_ohm=None)), [("unknown", ("G1", "P1"))]),
        (wired_board(volume_25k(circuit=None)), [("unknown", ("G1", "P1"))]),
        (wired_board(pedal("P0", "tuner", bypass=None), volume_25k()), [("unknown", ("G1", "P1"))]),
        (wired_board(volume_25k(), sources=(guitar(pickup=None),)), [("unknown", ("G1", "P1"))]),
    ],
)
def test_low_pot_on_a_bare_pickup(plan: BoardPlan, expected: list[Any]) -> None:
    assert told(plan, "R27") == expected


@pytest.mark.parametrize(
    ("speaker", "engaged", "expected"),
    [
        ("guitar", True, [("fault", ("P1", "A1"))]),
        ("guitar", None, [("fault", ("P1", "A1"))]),
        ("guitar", False, []),
        ("full-range", True, []),
        (None, True, [("unknown", ("P1", "A1"))]),
    ],
)
def test_two_speakers_in_a_row(speaker: str | None, engaged: bool | None, expected: list[Any]) -> None:
    plan = wired_board(pedal("P1", "cab-simulator", on=engaged), amps=(amp(speaker=speaker),))
    assert told(plan, "R31") == expected


STEREO = (Jack("IN", "in", channels="mono"), Jack("OUT", "out", channels="stereo"))
UNSAID = (Jack("IN", "in"), Jack("OUT", "out"))


@pytest.mark.parametrize(
    ("one", "amplifier", "expected"),
    [
        (pedal("P1", "delay"), LOOP_AMP, [("caution", ("P1", "A1"))]),
        (pedal("P1", "reverb"), LOOP_AMP, [("caution", ("P1", "A1"))]),
        (pedal("P1", "chorus", jacks=STEREO), LOOP_AMP, [("caution", ("P1", "A1"))]),
        (pedal("P1", "chorus", jacks=UNSAID), LOOP_AMP, [("unknown", ("P1", "A1"))]),
        (pedal("P1", "chorus"), LOOP_AMP, []),
        (pedal("P1", "overdrive"), LOOP_AMP, []),
        (pedal("P1", "delay"), amp(), []),
        (pedal("P1", "delay"), amp(speaker="full-range", jacks=LOOP_AMP.jacks), []),
    ],
)
def test_time_effects_belong_in_the_loop(one: Pedal, amplifier: Amp, expected: list[Any]) -> None:
    assert told(wired_board(one, amps=(amplifier,)), "R35") == expected


def in_the_loop(one: Pedal, level: str | None = None) -> BoardPlan:
    jacks = (EndJack("IN", "in"), EndJack("SEND", "send", level), EndJack("RETURN", "return", level))
    return board(one, amps=(amp(jacks=jacks),), links=links("A1.SEND > P1.IN", "P1.OUT > A1.RETURN"))


@pytest.mark.parametrize(
    ("kind", "level", "expected"),
    [
        *(
            (kind, "instrument", [("caution", ("P1", "A1"))])
            for kind in ("fuzz", "wah", "overdrive", "tuner")
        ),
        ("compressor", "instrument", [("caution", ("P1", "A1"))]),
        ("overdrive", "line", []),
        ("overdrive", None, [("unknown", ("P1", "A1"))]),
        ("boost", "instrument", []),
        ("delay", "instrument", []),
    ],
)
def test_what_stays_out_of_the_loop(kind: str, level: str | None, expected: list[Any]) -> None:
    assert told(in_the_loop(pedal("P1", kind, level=level)), "R36") == expected
    assert told(wired_board(pedal("P1", kind, level=level)), "R36") == []


@pytest.mark.parametrize(
    ("kind", "role", "expected"),
    [
        ("expression", None, [("fault", ("G1", "P1")), ("fault", ("P1", "A1"))]),
        ("expression", "swell", []),
        ("midi-controller", "swell", [("fault", ("G1", "P1")), ("fault", ("P1", "A1"))]),
        ("volume", None, []),
    ],
)
def test_control_pedal_in_the_signal(kind: str, role: str | None, expected: list[Any]) -> None:
    assert told(wired_board(pedal("P1", kind, role=role)), "R37") == expected


@pytest.mark.parametrize(
    ("given", "taken", "expected"),
    [
        ("line", "instrument", [("caution", ("A1", "P1")), ("caution", ("P1", "A1"))]),
        ("line", None, [("unknown", ("A1", "P1"))]),
        ("line", "line", []),
        (None, "instrument", []),
        ("instrument", "instrument", []),
    ],
)
def test_levels_of_a_link(given: str | None, taken: str | None, expected: list[Any]) -> None:
    """A loop's send and return against the pedal in it; +4 dBu is 1.228 V, an instrument 0.05 to 1 V."""
    assert told(in_the_loop(pedal("P1", "delay", level=taken), given), "LEVEL") == expected


def switched_loop(one: Pedal) -> BoardPlan:
    switcher = with_jacks("P2", "switcher", IN="in", S="send", R="return", OUT="out")
    ends = ("G1.OUT > P2.IN", "P2.S > P1.IN", "P1.OUT > P2.R", "P2.OUT > A1.IN")
    return board(one, switcher, links=links(*ends))


@pytest.mark.parametrize(
    ("kind", "tails", "expected"),
    [
        ("delay", True, [("caution", ("P2", "P1"))]),
        ("delay", False, []),
        ("delay", None, [("unknown", ("P2", "P1"))]),
        ("overdrive", None, []),
    ],
)
def test_tails_in_a_switched_loop(kind: str, tails: bool | None, expected: list[Any]) -> None:
    assert told(switched_loop(pedal("P1", kind, tails=tails)), "R42") == expected
    assert told(wired_board(pedal("P1", kind, tails=tails)), "R42") == []


@pytest.mark.parametrize(
    ("latencies", "expected"),
    [
        ([3.0, 3.0], []),
        ([3.0, 3.5], [("advice", ("P1", "P2"))]),
        ([5.0, 5.0], [("advice", ("P1", "P2"))]),
        ([5.0, 5.5], [("caution", ("P1", "P2"))]),
        ([12.0], []),
        ([3.0, None], [("unknown", ("P1", "P2"))]),
    ],
)
def test_delays_of_converters_add(latencies: list[float | None], expected: list[Any]) -> None:
    """R45: more than 6 ms is advised against, more than 10 ms warned of (common practice)."""
    pedals = [pedal(f"P{i}", "delay", circuit="digital", latency_ms=ms) for i, ms in enumerate(latencies, 1)]
    assert told(wired_board(*pedals), "R45") == expected
