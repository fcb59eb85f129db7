"""What a pedal's neighbours and feed are, read off small boards drawn above each test."""

from dataclasses import replace
from typing import Any

import pytest

from boardshop.core.findings import Finding
from boardshop.core.plan import Accepted, BoardPlan, OutletSetting
from boardshop.core.power.connections import make_feeding
from boardshop.core.power.pairing import pair_up
from boardshop.core.power.voltage import sums_to
from boardshop.core.report import compute_report
from boardshop.core.trace import Given, find_short_cut, series_mv, trace_pedals
from tests.core import builders as b


def test_a_pedal_on_no_path_has_no_number_and_comes_last() -> None:
    board = b.board(b.pedal("P9"), b.pedal("P1"), links=b.chain("G1", "P1", "A1"))
    assert [(one.ref, one.number) for one in trace_pedals(board)] == [("P1", 1), ("P9", None)]


def test_cables_before_and_after() -> None:
    # G1 --W1--> P1 --W2--> P2 --W3--> A1
    board = b.wired_board(b.pedal("P1", name="Low Ember"), b.pedal("P2"))
    second = trace_pedals(board)[1]
    assert [(h.link, h.jack, h.far_end, h.far_name) for h in second.before] == [
        ("W2", "IN", "P1.OUT", "Low Ember")
    ]
    assert [(h.link, h.jack, h.far_end, h.far_name) for h in second.after] == [("W3", "OUT", "A1.IN", "A1")]


def test_a_fed_jack_tells_its_outlet_voltage_and_lead() -> None:
    board = b.board(b.pedal("P1"), supplies=[b.supply("S1")], feeds=[b.feed("S1.2", "P1.DC")])
    supplied = trace_pedals(board)[0].supplied[0]
    assert supplied.given == (Given("S1.2", 9000, "dc", "centre-negative"),)
    assert (supplied.nominal_mv, supplied.lead_mm) == (9000, 600)
    assert supplied.lead is not None
    assert (supplied.lead.awg, supplied.lead.connector) == (24, "barrel 5.5/2.1")


def test_a_choice_of_voltages_nobody_made_is_unknown() -> None:
    both = (OutletSetting(9000, 9000, 100), OutletSetting(12_000, 12_000, 100))
    supply = b.supply("S1", b.outlet("1", settings=both))
    board = b.board(b.pedal("P1"), supplies=[supply], feeds=[b.feed("S1.1", "P1.DC")])
    assert trace_pedals(board)[0].supplied[0].given[0].setting_mv is None


def joined_board(*volts: int | None, adapters: tuple[str, ...]) -> BoardPlan:
    """P1 on as many outlets as there are voltages; None is one that nobody recorded."""
    outlets = [
        b.outlet(str(n), settings=() if mv is None else (OutletSetting(mv, mv, 500),))
        for n, mv in enumerate(volts, start=1)
    ]
    feed = b.feed([f"S1.{n}" for n in range(1, len(volts) + 1)], "P1.DC", adapters=adapters)
    return b.board(b.pedal("P1"), supplies=[b.supply("S1", *outlets)], feeds=[feed])


@pytest.mark.parametrize(
    ("volts", "adapters", "total"),
    [
        ((9000, 9000), ("series",), 18_000),  # Kirchhoff's voltage law: what is in series adds up
        ((9000, 12_000), ("series", "reverser"), 21_000),
        ((9000, 9000), ("parallel",), None),  # the volts stay what they are
        ((9000, 9000), ("parallel", "series"), None),
        ((9000, 9000), (), None),
        ((9000, None), ("series",), None),
        ((9000,), ("series",), None),
    ],
)
def test_outlets_in_series_add_up(volts: Any, adapters: tuple[str, ...], total: int | None) -> None:
    board = joined_board(*volts, adapters=adapters)
    assert trace_pedals(board)[0].supplied[0].total_mv == series_mv(board, board.feeds[0]) == total


def test_the_sum_of_a_series_is_what_the_power_checks_reckon_with() -> None:
    board = joined_board(9000, 12_000, adapters=("series",))
    feeding = make_feeding(board)
    (connection,) = feeding.connections
    arriving = sums_to(pair_up(feeding, connection, connection.jacks[0]))
    assert trace_pedals(board)[0].supplied[0].total_mv == arriving


def test_an_unfed_jack_has_no_outlet() -> None:
    assert trace_pedals(b.board(b.pedal("P1")))[0].supplied[0].outlets == ()


def test_a_lead_nobody_recorded_is_none() -> None:
    feeds = [b.feed("S1.1", "P1.DC", lead=None)]
    supplied = trace_pedals(b.board(b.pedal("P1"), supplies=[b.supply("S1")], feeds=feeds))[0].supplied[0]
    assert (supplied.lead, supplied.lead_mm) == (None, None)


def test_measured_goes_before_rated() -> None:
    pedal = b.draws(b.pedal("P1"), rated=20, measured=17)
    supplied = trace_pedals(b.board(pedal))[0].supplied[0]
    assert (supplied.draw_ma, supplied.is_measured) == (17, True)


def test_pedals_on_one_outlet_name_each_other() -> None:
    feeds = [b.feed("S1.1", "P1.DC"), b.feed("S1.1", ["P2.DC", "P3.DC"])]
    board = b.board(*(b.pedal(ref) for ref in ("P1", "P2", "P3")), supplies=[b.supply("S1")], feeds=feeds)
    assert [one.supplied[0].shared_with for one in trace_pedals(board)] == [
        ("P2.DC", "P3.DC"),
        ("P1.DC", "P3.DC"),
        ("P1.DC", "P2.DC"),
    ]


def test_the_way_around_the_board() -> None:
    short_cut = find_short_cut(b.wired_board(b.pedal("P1")))
    assert short_cut is not None
    assert (short_cut.lead, short_cut.amp) == ("W1", "A1.IN")


def test_no_way_around_where_no_amp_is_reached() -> None:
    board = replace(b.wired_board(b.pedal("P1")), links=b.chain("G1", "P1"))
    assert find_short_cut(board) is None


def fuming_board(**changes: Any) -> BoardPlan:
    """P1 takes 9 V and is fed 18 V from S1.1, P2 is fed as it should be."""
    supply = b.supply("S1", b.outlet("1", mv=18_000), b.outlet("2"))
    feeds = [b.feed("S1.1", "P1.DC"), b.feed("S1.2", "P2.DC")]
    pedals = (b.draws(b.pedal("P1"), max=9600), b.pedal("P2"))
    return replace(b.wired_board(*pedals, supplies=[supply], feeds=feeds), **changes)


def test_an_urgent_finding_stands_with_its_pedal_and_with_no_other() -> None:
    board = fuming_board()
    first, second = trace_pedals(board, compute_report(board, cut_seconds=0).findings)
    assert [(one.rule, one.severity) for one in first.findings] == [("P03", "damage")]
    assert second.findings == ()


def test_an_overloaded_outlet_is_told_with_the_pedal_it_feeds() -> None:
    board = b.wired_board(
        b.draws(b.pedal("P1"), rated=400), supplies=[b.supply("S1")], feeds=[b.feed("S1.1", "P1.DC")]
    )
    (first,) = trace_pedals(board, compute_report(board, cut_seconds=0).findings)
    assert "P08" in {one.rule for one in first.findings}


def test_what_is_kept_on_purpose_is_not_urgent() -> None:
    board = b.wired_board(b.pedal("P1"))
    unfed = Accepted(rule="P30", subjects=("P1.DC",), why="runs on a battery")
    kept = replace(board, accepted=(unfed,))
    assert [one.rule for one in trace_pedals(board, compute_report(board).findings)[0].findings] == ["P30"]
    assert trace_pedals(kept, compute_report(kept).findings)[0].findings == ()


def unrecorded_board(**changes: Any) -> BoardPlan:
    """P1 is fed from S1.1 whose voltage nobody recorded, P2 has no polarity, P3 is all on record."""
    supply = b.supply("S1", b.outlet("1", settings=()), b.outlet("2"), b.outlet("3"))
    feeds = [b.feed(f"S1.{n}", f"P{n}.DC") for n in (1, 2, 3)]
    pedals = [b.draws(b.pedal(f"P{n}"), rated=20) for n in (1, 2, 3)]
    pedals[1] = b.draws(pedals[1], polarity=None)
    return replace(b.wired_board(*pedals, supplies=[supply], feeds=feeds), **changes)


def test_what_is_unknown_of_a_feed_stands_with_its_pedal_and_with_no_other() -> None:
    board = unrecorded_board()
    stands = trace_pedals(board, compute_report(board, cut_seconds=0).findings)
    assert [{one.severity for one in stand.findings} for stand in stands] == [{"unknown"}, {"unknown"}, set()]
    assert all("S1.1" in one.subjects or "P1.DC" in one.subjects for one in stands[0].findings)
    assert all("P2.DC" in one.subjects for one in stands[1].findings)


def test_the_urgent_stands_before_the_unknown() -> None:
    board = fuming_board()
    board = replace(board, pedals=(b.draws(board.pedals[0], rated=None, measured=None), board.pedals[1]))
    first = trace_pedals(board, compute_report(board, cut_seconds=0).findings)[0]
    assert [one.severity for one in first.findings] == ["damage", "unknown"]


def test_an_unknown_kept_on_purpose_is_no_mark() -> None:
    board = unrecorded_board()
    report = compute_report(board, cut_seconds=0).findings
    kept = tuple(Accepted(one.rule, one.subjects, "metered") for one in report if one.severity == "unknown")
    board = replace(board, accepted=kept)
    assert not any(one.findings for one in trace_pedals(board, compute_report(board, cut_seconds=0).findings))


def test_an_unknown_about_the_pedal_but_not_its_feed_is_left_to_the_board() -> None:
    board = unrecorded_board()
    far = Finding("L99", "unknown", ("P3", "P3.IN", "S1"), "m", "c", "b")
    assert trace_pedals(board, [far])[2].findings == ()


def test_an_amp_without_its_earth_bars_the_way_around() -> None:
    # IEC 61140: a class I unit relies on its protective earth, so nobody is sent to plug into it
    board = fuming_board(amps=(b.amp("A1", protection_class="I", earthed=False),))
    short_cut = find_short_cut(board, compute_report(board, cut_seconds=0).findings)
    assert short_cut is not None
    assert [(one.rule, one.severity) for one in short_cut.barred_by] == [("P21", "danger")]


def test_the_way_around_leads_to_the_amp_that_nothing_bars() -> None:
    links = (*b.chain("G1", "P1", "A1"), b.link("W9", "P1.OUT", "A2.IN"))
    amps = (b.amp("A1", protection_class="I", earthed=False), b.amp("A2"))
    board = b.board(b.pedal("P1"), links=links, amps=amps)
    short_cut = find_short_cut(board, compute_report(board, cut_seconds=0).findings)
    assert short_cut is not None
    assert (short_cut.amp, short_cut.barred_by) == ("A2.IN", ())
