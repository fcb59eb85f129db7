"""What is found about the wiring as a whole: open ends, open beginnings, the four-cable method."""

import pytest

from boardshop.core.plan import BoardPlan, Jack
from tests.core.builders import amp, board, guitar, pedal, wired_board
from tests.core.order_wiring import LOOP_AMP, findings_of, links, told, with_jacks

SPLIT = {"IN": "in", "A": "out", "B": "out"}


def dangling(kind: str = "delay") -> BoardPlan:
    """
    G1 - P1 (splitter) -+- P2 - A1
                        +- P3
    """
    wired = links("G1.OUT > P1.IN", "P1.A > P2.IN", "P2.OUT > A1.IN", "P1.B > P3.IN")
    pedals = (with_jacks("P1", "splitter", **SPLIT), pedal("P2"), pedal("P3", kind))
    return board(*pedals, amps=(amp(),), links=wired)


def test_branch_that_leads_nowhere_is_named() -> None:
    assert told(dangling(), "O05") == [("fault", ("P3",))]
    (found,) = findings_of(dangling(), "O05")
    assert "ends open at P3" in found.message
    assert "Link an output of P3" in found.cure


@pytest.mark.parametrize("kind", ["di", "tuner", "expression", "midi-controller"])
def test_what_ends_a_branch_rightly_is_not(kind: str) -> None:
    """A di feeds the desk, a tuner on its own output listens; a control in the signal is R37's."""
    assert told(dangling(kind), "O05") == []


def test_a_chain_that_reaches_no_amp_is_told_once_at_its_instrument() -> None:
    plan = board(pedal("P1"), amps=(amp(),), links=links("G1.OUT > P1.IN"))
    assert told(plan, "O04") == [("fault", ("G1",))]
    assert told(plan, "O05") == []


def test_a_board_without_an_amp_may_end_open() -> None:
    assert told(board(pedal("P1"), amps=(), links=links("G1.OUT > P1.IN")), "O05") == []


def test_a_send_that_never_comes_back_ends_open() -> None:
    """
    G1 - A1.IN   A1.SEND - P1
    """
    plan = board(pedal("P1"), amps=(LOOP_AMP,), links=links("G1.OUT > A1.IN", "A1.SEND > P1.IN"))
    assert told(plan, "O05") == [("fault", ("P1",))]


@pytest.mark.parametrize(
    ("kind", "expected"), [("overdrive", [("fault", ("P2",))]), ("wireless-receiver", [])]
)
def test_what_nothing_feeds(kind: str, expected: list[object]) -> None:
    """
    G1 - P1 - A1   P2 - A2
    """
    wired = links("G1.OUT > P1.IN", "P1.OUT > A1.IN", "P2.OUT > A2.IN")
    plan = board(pedal("P1"), pedal("P2", kind), amps=(amp(), amp("A2")), links=wired)
    assert told(plan, "O05") == expected


def test_without_an_instrument_nothing_needs_feeding() -> None:
    plan = board(pedal("P1"), sources=(), amps=(amp(),), links=links("P1.OUT > A1.IN"))
    assert told(plan, "O05") == []


def test_a_ring_is_a_ring_and_no_open_beginning() -> None:
    wired = links("P1.OUT > P2.IN", "P2.OUT > P1.IN")
    plan = board(pedal("P1"), pedal("P2"), sources=(guitar(),), amps=(amp(),), links=wired)
    assert told(plan, "O02") == [("fault", ("P1", "P2"))]
    assert told(plan, "O05") == []


def four_cables(kills_dry: bool | None) -> BoardPlan:
    """
    G1 - P1 - A1.IN   A1.SEND - P2 (delay) - A1.RETURN
    """
    wired = links("G1.OUT > P1.IN", "P1.OUT > A1.IN", "A1.SEND > P2.IN", "P2.OUT > A1.RETURN")
    wet = pedal("P2", "delay", level="line", kills_dry=kills_dry)
    return board(pedal("P1"), wet, amps=(LOOP_AMP,), links=wired)


@pytest.mark.parametrize(("kills_dry", "is_asked"), [(True, False), (False, True), (None, True)])
def test_four_cables_are_named_with_what_to_look_at(kills_dry: bool | None, is_asked: bool) -> None:
    (found,) = findings_of(four_cables(kills_dry), "O06")
    assert (found.severity, found.subjects) == ("advice", ("A1",))
    assert "W2, W3 and W4" in found.message
    assert "series or parallel" in found.cure
    assert ("dry sound of P2" in found.cure) == is_asked


def test_an_amp_without_its_loop_in_use_is_no_four_cable_method() -> None:
    assert told(wired_board(pedal("P1"), amps=(LOOP_AMP,)), "O06") == []


def to_the_desk(kind: str, connector: str) -> BoardPlan:
    jacks = (Jack("IN", "in"), Jack("OUT", "out", connector=connector))
    return wired_board(pedal("P1", kind, jacks=jacks), amps=(amp(speaker="full-range"),))


@pytest.mark.parametrize(
    ("kind", "connector", "expected"),
    [
        ("cab-simulator", "XLR", [("unknown", ("P1", "A1"))]),
        ("cab-simulator", "6.35 TS", []),
        ("di", "XLR", []),
    ],
)
def test_phantom_power_is_asked_for_where_it_could_arrive(
    kind: str, connector: str, expected: list[object]
) -> None:
    """48 V, IEC 61938; a di is made to take it, a pedal's output is not."""
    assert told(to_the_desk(kind, connector), "PHANTOM") == expected


@pytest.mark.parametrize("kind", ["splitter", "mixer"])
def test_a_splitter_or_mixer_with_one_way_is_told(kind: str) -> None:
    assert told(wired_board(pedal("P1", kind)), "O07") == [("advice", ("P1",))]
    assert told(board(pedal("P1", kind)), "O07") == []  # not linked at all: O01


def test_a_splitter_and_a_mixer_with_two_ways_are_not() -> None:
    """
    G1 - P1 (splitter) =2= P2 (mixer) - A1
    """
    mixer = with_jacks("P2", "mixer", A="in", B="in", OUT="out")
    wired = links("G1.OUT > P1.IN", "P1.A > P2.A", "P1.B > P2.B", "P2.OUT > A1.IN")
    plan = board(with_jacks("P1", "splitter", **SPLIT), mixer, amps=(amp(),), links=wired)
    assert told(plan, "O07") == []
