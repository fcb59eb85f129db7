"""The cut list: every cable by its kind, with strip lengths and labels at both ends."""

from dataclasses import replace

import pytest

from boardshop.core.cables.cut_list import CABLE_KINDS, list_cables, list_dc_leads
from boardshop.core.cables.strip import SOLDERED, STRIP_WAYS, strip_for
from boardshop.core.plan import Amp, Computer, DcLead, EndJack, Jack, PlugType, SupplyPlace
from boardshop.core.vocabulary import FIXINGS
from tests.core.builders import board, chain, feed, guitar, link, outlet, pedal, plug_type, supply
from tests.core.cable_boards import pair


def listed(plan) -> dict:
    return {one.ref: one for one in list_cables(plan)}


def with_jacks(ref: str, *jacks: Jack, at=(100, 100)):
    return pedal(ref, at=at, jacks=jacks)


AMP = Amp("A1", jacks=(EndJack("IN", "in"), EndJack("SEND", "send"), EndJack("RETURN", "return")))


def four_cables():
    """G1 -> P1 -> amp in; amp send -> P2 -> amp return; P3 -> P4 in between nothing."""
    links = (
        link("W1", "P1.OUT", "A1.IN", length=6000),
        link("W2", "A1.SEND", "P2.IN", length=5000),
        link("W3", "P2.OUT", "A1.RETURN", length=5000),
        link("W4", "G1.OUT", "P1.IN", length=4000),
    )
    pedals = (pedal("P1", at=(100, 100)), pedal("P2", at=(300, 100)))
    return board(*pedals, sources=(guitar(),), amps=(AMP,), links=links)


def test_leads_off_the_board_stand_in_the_list_by_their_own_kinds():
    rows = list_cables(four_cables())
    assert [(row.ref, row.kind, row.length_mm, row.comes) for row in rows] == [
        ("W4", "instrument", 4000, "lead"),
        ("W2", "send", 5000, "lead"),
        ("W3", "return", 5000, "lead"),
        ("W1", "amp", 6000, "lead"),
    ]


def test_midi_control_and_usb_are_kinds_of_their_own():
    pedals = (
        with_jacks("P1", Jack("MO", "midi-out"), Jack("C", "control"), Jack("U", "usb")),
        with_jacks("P2", Jack("MI", "midi-in"), Jack("C", "control"), at=(300, 100)),
    )
    links = (
        link("W1", "P1.U", "M1.USB", carries="usb", length=2000),
        link("W2", "P1.C", "P2.C", carries="control"),
        link("W3", "P1.MO", "P2.MI", carries="midi"),
    )
    computers = (Computer("M1", jacks=(EndJack("USB", "usb"),)),)
    rows = list_cables(board(*pedals, computers=computers, links=links))
    assert [(row.ref, row.kind, row.channels) for row in rows] == [
        ("W3", "midi", None),
        ("W2", "control", None),
        ("W1", "usb", None),
    ]
    assert [CABLE_KINDS.index(row.kind) for row in rows] == sorted(CABLE_KINDS.index(r.kind) for r in rows)


@pytest.mark.parametrize(
    ("one", "other", "channels"),
    [
        ("stereo", "stereo", "stereo"),
        ("stereo", "mono", "mono"),
        ("mono", "mono", "mono"),
        ("stereo", None, None),
        (None, None, None),
        (None, "mono", "mono"),
    ],
)
def test_stereo_needs_both_ends_and_unknown_stays_unknown(one, other, channels):
    right = with_jacks("P1", Jack("OUT", "out", "left", 80, 20, "6.35 TRS", one), at=(300, 100))
    left = with_jacks("P2", Jack("IN", "in", "right", 80, 20, "6.35 TRS", other))
    plan = board(right, left, links=(link("W1", "P1.OUT", "P2.IN"),))
    assert listed(plan)["W1"].channels == channels


def test_both_labels_bear_the_same_ref_and_each_its_own_jack():
    row = listed(pair())["W1"]
    assert [end.label for end in row.ends] == ["W1 > P1-OUT", "W1 > P2-IN"]


def test_a_cut_has_the_length_of_the_report():
    """99 mm of path + 10 slack + 24 in the plugs = 133, rounded up to 135."""
    row = listed(pair())["W1"]
    assert (row.kind, row.comes, row.length_mm, row.channels) == ("patch", "cut", 135, "mono")


def test_what_is_made_already_is_listed_with_its_own_length():
    row = listed(pair(made=180))["W1"]
    assert (row.comes, row.length_mm, row.lacks) == ("made", 180, ())


def test_why_a_length_is_unknown_is_said():
    row = listed(pair(plugs=(plug_type(inside=None),)))["W1"]
    assert (row.length_mm, row.lacks) == (None, ("inside",))


def test_a_lead_without_a_length_is_only_measured_to_the_edge():
    plan = board(pedal("P1", at=(100, 100)), sources=(guitar(),), links=(link("W1", "G1.OUT", "P1.IN"),))
    row = listed(plan)["W1"]
    assert (row.kind, row.comes, row.is_to_edge) == ("instrument", "cut", True)


# Strip lengths: soldered coaxial plugs, common practice.


def test_a_soldered_plug_has_lengths_and_a_solderless_one_its_makers_sheet():
    soldered, solderless = (strip_for(plug_type(fixing=word)) for word in ("soldered", "solderless"))
    assert (soldered.way, soldered.lengths) == ("soldered", SOLDERED)
    assert (SOLDERED.jacket, SOLDERED.inner, SOLDERED.core, SOLDERED.shield) == (
        (12, 15), (8, 10), (3, 4), (8, 10),
    )  # fmt: skip
    assert (solderless.way, solderless.lengths) == ("solderless", None)


@pytest.mark.parametrize(
    ("plug", "way"),
    [
        (None, "no plug"),
        (PlugType("J1"), "unknown"),
        (PlugType("J1", "DIN 5", fixing="soldered"), "own sheet"),
        (PlugType("J1", fixing="soldered"), "own sheet"),
        (PlugType("J1", "6.35 TS", fixing="screw"), "own sheet"),
        (PlugType("J1", "6.35 TS", fixing="moulded"), "moulded"),
    ],
)
def test_no_lengths_are_said_where_none_are_known(plug, way):
    assert (strip_for(plug).way, strip_for(plug).lengths) == (way, None)


def test_every_fixing_has_a_way_that_is_explained():
    ways = {strip_for(plug_type(fixing=word)).way for word in FIXINGS}
    assert ways | {"unknown", "no plug"} == set(STRIP_WAYS)


def test_a_moulded_plug_cannot_be_put_on_a_cut():
    rows = [listed(pair(plugs=(plug_type(fixing=word),)))["W1"] for word in ("moulded", "soldered")]
    assert [row.has_moulded_plug for row in rows] == [True, False]


# DC leads.


def test_dc_leads_stand_in_the_list_with_what_is_recorded_or_to_get():
    pedals = (pedal("P1", at=(100, 100)), pedal("P2", at=(300, 100)))
    feeds = (feed("S1.1", "P1.DC", lead=DcLead(500, awg=22)), feed("S1.2", "P2.DC"))
    plan = board(*pedals, supplies=(supply("S1", outlet("1"), outlet("2")),), feeds=feeds, links=())
    one, other = list_dc_leads(plan)
    assert (one.label, one.comes, one.lead) == ("S1-1 > P1-DC", "recorded", DcLead(500, awg=22))
    assert (other.label, other.lead) == ("S1-2 > P2-DC", None if other.comes == "to get" else other.lead)


def test_a_chain_names_all_its_jacks():
    pedals = (pedal("P1", at=(100, 100)), pedal("P2", at=(300, 100)))
    chained = replace(feed("S1.1", "P1.DC"), jacks=("P1.DC", "P2.DC"))
    plan = board(*pedals, supplies=(supply("S1", outlet("1")),), feeds=(chained,), links=chain("P1", "P2"))
    assert [lead.label for lead in list_dc_leads(plan)] == ["S1-1 > P1-DC, P2-DC"]


def test_a_recorded_lead_that_does_not_reach_is_marked():
    placed = supply("S1", outlet("1"), place=SupplyPlace(400, 200))
    pedals = (pedal("P1", at=(20, 20)),)
    for length, is_too_short in ((50, True), (2000, False)):
        feeds = (feed("S1.1", "P1.DC", lead=DcLead(length, awg=22)),)
        plan = board(*pedals, supplies=(placed,), feeds=feeds, links=())
        (lead,) = list_dc_leads(plan)
        assert (lead.is_too_short, lead.needed_mm is None) == (is_too_short, False)
