"""Ground loops of boards: the worked example, each kind of join, and the earth that is never lifted."""

from dataclasses import replace

import pytest

from boardshop.core.grounds import compute_grounds, map_grounds, recount_without
from boardshop.core.plan import BoardPlan, EndJack, Jack
from tests.core.builders import (
    amp,
    board,
    chain,
    computer,
    feed,
    link,
    outlet,
    pedal,
    signal_jacks,
    supply,
    wired_board,
)
from tests.core.feeding_cases import shared_board


def loops(plan: BoardPlan) -> int:
    return compute_grounds(plan).loops


# Worked example: two amps, three pedals on one group, a laptop.
#
#   G1 - P1 - P2 - P3 - P4 (splitter) - A1 - earth
#         \    |   / \         \- A2 - earth
#          \   |  /   M1 - earth
#           S1/A


def two_amps_and_a_laptop(**changes: object) -> BoardPlan:
    usb = (*signal_jacks(), Jack("USB", "usb"))
    pedals = [pedal("P1"), pedal("P2"), pedal("P3", "delay", jacks=usb)]
    splitter = pedal(
        "P4", "splitter", jacks=(*signal_jacks(), Jack("OUT2", "out")), power=(), circuit="passive"
    )
    links = (
        *chain("G1", "P1", "P2", "P3", "P4", "A1"),
        link("W6", "P4.OUT2", "A2.IN"),
        link("W7", "M1.USB", "P3.USB", carries="usb"),
    )
    plan = board(
        *pedals,
        splitter,
        amps=[amp("A1"), amp("A2")],
        computers=[computer("M1")],
        links=links,
        supplies=[supply("S1", *(outlet(str(n), group="A") for n in (1, 2, 3)))],
        feeds=[feed(f"S1.{n}", f"P{n}.DC") for n in (1, 2, 3)],
    )
    return replace(plan, **changes)  # type: ignore[arg-type]


def isolated_screens(plan: BoardPlan, *refs: str) -> BoardPlan:
    links = tuple(replace(item, screen="isolated") if item.ref in refs else item for item in plan.links)
    return replace(plan, links=links)


def isolated_outlets(plan: BoardPlan) -> BoardPlan:
    return replace(plan, supplies=(supply("S1", *(outlet(str(n)) for n in (1, 2, 3))),))


def test_ten_nodes_and_thirteen_joins_make_four_loops() -> None:
    graph = map_grounds(two_amps_and_a_laptop())
    assert (len(graph.nodes), len(graph.joins), graph.loops) == (10, 13, 4)


def test_the_four_loops_are_two_returns_one_pair_of_amps_and_one_computer() -> None:
    section = compute_grounds(two_amps_and_a_laptop())
    sorts = sorted(finding.message.split(":")[0] for finding in section.findings)
    assert [sort.removeprefix("Ground loop, a ") for sort in sorts] == [
        "computer loop",
        "loop through a shared supply return",
        "loop through a shared supply return",
        "loop through the protective earth",
    ]
    assert {finding.severity for finding in section.findings} == {"caution"}


def test_cures_lower_the_count_one_after_another() -> None:
    plan = two_amps_and_a_laptop()
    without_amp = isolated_screens(plan, "W6")
    without_computer = isolated_screens(plan, "W6", "W7")
    assert [loops(plan), loops(without_amp), loops(without_computer)] == [4, 3, 2]
    assert loops(isolated_outlets(without_computer)) == 0
    assert loops(isolated_outlets(plan)) == 2


def test_the_fewest_breaks_are_the_second_amp_the_usb_lead_and_two_returns() -> None:
    section = compute_grounds(two_amps_and_a_laptop())
    assert section.breaks == ("W6", "W7", "P2.DC", "P3.DC")
    assert recount_without(map_grounds(two_amps_and_a_laptop()), section.breaks).loops == 0


def test_lifting_an_earth_is_refused_although_it_would_lower_the_count() -> None:
    graph = map_grounds(two_amps_and_a_laptop())
    recount = recount_without(graph, ["A2"])
    assert recount.loops == 4
    assert recount.refused is not None
    assert "A2" in recount.refused
    assert recount_without(graph, ["W6"]) == type(recount)(3)


def test_an_amp_whose_earth_is_lifted_is_a_danger() -> None:
    plan = two_amps_and_a_laptop(amps=(amp("A1"), amp("A2", earthed=False)))
    section = compute_grounds(plan)
    assert section.loops == 3
    worst = section.findings[0]
    assert (worst.rule, worst.severity, worst.subjects) == ("P21", "danger", ("A2",))


# Each kind of join.


def test_a_row_of_pedals_on_isolated_outlets_has_no_loop() -> None:
    plan = wired_board(
        pedal("P1"), pedal("P2"), supplies=[supply()], feeds=[feed("S1.1", "P1.DC"), feed("S1.2", "P2.DC")]
    )
    section = compute_grounds(plan)
    assert (section.loops, section.cycle_basis, section.breaks, section.findings) == (0, (), (), ())


def test_two_pedals_on_one_group_close_a_loop() -> None:
    section = compute_grounds(shared_board(pedal("P1"), pedal("P2")))
    assert section.cycle_basis == (("P1", "P2", "S1/A"),)
    assert section.findings[0].subjects == ("P1", "P2", "S1/A")
    assert section.breaks == ("P2.DC",)


def test_two_pedals_on_one_isolated_outlet_close_one_too() -> None:
    plan = wired_board(
        pedal("P1"), pedal("P2"), supplies=[supply()], feeds=[feed("S1.1", ["P1.DC", "P2.DC"])]
    )
    assert compute_grounds(plan).cycle_basis == (("P1", "P2", "S1.1"),)


def test_send_and_return_between_two_pedals_are_only_advice() -> None:
    loop = (Jack("SEND", "send"), Jack("RETURN", "return"))
    plan = board(
        pedal("P1", "switcher", jacks=(*signal_jacks(), *loop)),
        pedal("P2"),
        links=[link("W1", "P1.SEND", "P2.IN"), link("W2", "P2.OUT", "P1.RETURN")],
    )
    section = compute_grounds(plan)
    assert section.cycle_basis == (("P1", "P2"),)
    assert [(f.rule, f.severity, f.subjects) for f in section.findings] == [("G01", "advice", ("P1", "P2"))]


def test_send_and_return_of_an_amp_are_a_caution() -> None:
    jacks = (EndJack("IN", "in"), EndJack("SEND", "send"), EndJack("RETURN", "return"))
    plan = board(
        pedal("P1"),
        amps=[amp("A1", jacks=jacks)],
        links=[link("W1", "A1.SEND", "P1.IN"), link("W2", "P1.OUT", "A1.RETURN")],
    )
    assert [finding.severity for finding in compute_grounds(plan).findings] == ["caution"]


def test_a_lead_from_a_pedal_to_itself_is_a_loop_of_one() -> None:
    plan = board(pedal("P1"), links=[link("W1", "P1.OUT", "P1.IN")])
    assert compute_grounds(plan).cycle_basis == (("P1",),)


@pytest.mark.parametrize("carries", ["midi", "signal"])
@pytest.mark.parametrize(("connector", "expected"), [("DIN 5", 0), ("3.5 TRS", 1), (None, 1)])
def test_din_midi_joins_no_screens(connector: str | None, expected: int, carries: str) -> None:
    jacks = (
        *signal_jacks(),
        Jack("TX", "midi-out", connector=connector),
        Jack("RX", "midi-in", connector=connector),
    )
    midi = link("W9", "P1.TX", "P2.RX", carries=carries, plug_from=None, plug_to=None)
    plan = board(
        pedal("P1", jacks=jacks), pedal("P2", jacks=jacks), links=[link("W1", "P1.OUT", "P2.IN"), midi]
    )
    assert loops(plan) == expected


# Earth.


@pytest.mark.parametrize(
    ("kind", "earthed", "group", "expected"),
    [("I", True, "A", 1), ("I", True, None, 0), ("II", False, "A", 0), ("I", False, "A", 0)],
)
def test_groups_of_an_earthed_class_i_supply_hang_on_earth_and_isolated_outlets_float(
    kind: str, earthed: bool, group: str | None, expected: int
) -> None:
    plan = wired_board(
        pedal("P1"),
        supplies=[supply("S1", outlet("1", group=group), protection_class=kind, earthed=earthed)],
        feeds=[feed("S1.1", "P1.DC")],
    )
    assert loops(plan) == expected


def test_a_class_i_supply_without_earth_is_a_danger_here_too() -> None:
    plan = board(supplies=[supply("S1", protection_class="I", earthed=False)])
    assert [(f.rule, f.severity, f.subjects) for f in compute_grounds(plan).findings] == [
        ("P21", "danger", ("S1",))
    ]


def test_an_unknown_earth_of_a_linked_computer_is_reported() -> None:
    usb = link("W1", "M1.USB", "P1.USB", carries="usb")
    plan = board(
        pedal("P1", jacks=(Jack("USB", "usb"),)), computers=[computer("M1", earthed=None)], links=[usb]
    )
    assert [(f.rule, f.severity, f.subjects) for f in compute_grounds(plan).findings] == [
        ("G02", "unknown", ("M1",))
    ]
    assert compute_grounds(replace(plan, links=())).findings == ()


def test_a_unit_named_earth_is_not_the_earth() -> None:
    plan = board(pedal("earth"), amps=[amp("A1")], links=[link("W1", "earth.OUT", "A1.IN")])
    assert loops(plan) == 0
    assert map_grounds(plan).nodes[-1] == "earth/"


def test_breaks_never_name_an_earth() -> None:
    plan = two_amps_and_a_laptop()
    earths = {join.ref for join in map_grounds(plan).joins if join.sort == "earth"}
    assert not earths & set(compute_grounds(plan).breaks)
    assert earths == {"A1", "A2", "M1"}
