"""What adds how much to the capacitance on a driver, in signal order; the sum is the total."""

import json

from hypothesis import HealthCheck, given, settings

from boardshop.core.boardfile import load_plan_text
from boardshop.core.plan import Jack, Scene
from boardshop.core.tone.section import compute_tone
from boardshop.core.tone.states import list_states
from tests.core.builders import amp, board, cable_type, chain, link, pedal
from tests.core.random_boards import documents
from tests.core.tone_boards import wired


def additions(plan, state=0, segment=0):
    found = list_states(plan)["G1"][state].segments[segment]
    return [(one.ref, one.kind, one.pf) for one in found.additions]


def test_lead_wiring_patch_and_input_stand_as_the_signal_meets_them():
    #   G1 --W1-- P1 (wire) --W2-- P2 (buffered) --W3-- A1
    plan = wired(pedal("P1"), pedal("P2", bypass="buffered", input_pf=35), amps=(amp(input_pf=12),))
    assert additions(plan) == [
        ("W1", "lead", 660),
        ("P1", "bypass wiring", 20),
        ("W2", "patch", 20),
        ("P2", "input", 35),
    ]
    assert additions(plan, segment=1) == [("W3", "lead", 990), ("A1", "input", 12)]


def test_the_long_lead_counts_where_nothing_drives():
    plan = wired(pedal("P1"))
    assert [ref for ref, _, _ in additions(plan)] == ["W1", "P1", "W2", "A1"]


def test_both_branches_of_a_wire_are_there():
    jacks = (Jack("IN", "in"), Jack("OUT", "out"), Jack("B", "out"))
    pedals = (pedal("P1", "splitter", jacks=jacks), pedal("P2", bypass="buffered", input_pf=5))
    links = (*chain("G1", "P1", "P2", length=1000), link("W3", "P1.B", "A1.IN", length=500))
    assert additions(board(*pedals, links=links)) == [
        ("W1", "lead", 100),
        ("P1", "bypass wiring", 20),
        ("W2", "patch", 100),
        ("P2", "input", 5),
        ("W3", "lead", 50),
        ("A1", "input", 0),
    ]


def test_what_is_not_known_is_none_and_the_rest_is_still_told():
    plan = wired(pedal("P1", bypass=None), scenes=(Scene("on", ("P1",)),))
    assert additions(plan) == [("W1", "lead", 660), ("P1", "bypass not recorded", None)]
    first = list_states(plan)["G1"][0].first
    assert (first.pf, first.known_pf) == (None, 660)
    assert additions(plan, state=2) == [("W1", "lead", 660), ("P1", "input", 0)]


def test_an_amps_unrecorded_capacitance_counts_as_nothing_and_is_none():
    plan = wired(pedal("P1"), amps=(amp(input_pf=None),), cables=(cable_type(), cable_type("C2", 110)))
    first = list_states(plan)["G1"][0].first
    assert first.additions[-1].pf is None
    assert first.pf == first.known_pf == 660 + 20 + 990


@settings(max_examples=80, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
@given(documents())
def test_the_sum_is_the_total_on_any_board(document: dict[str, object]) -> None:
    plan = load_plan_text(json.dumps(document))
    printed = {source.source: source for source in compute_tone(plan).sources}
    for source, states in list_states(plan).items():
        for segment in (segment for state in states for segment in state.segments):
            values = [one.pf for one in segment.additions]
            unknown = [one for one in segment.additions if one.leaves_total_open]
            assert segment.pf == (None if unknown else sum(pf or 0 for pf in values))
            assert segment.known_pf == sum(pf or 0 for pf in values)
        linked = [segment for segment in states[0].segments if segment.links]
        assert [one.pf for one in printed[source].segments] == [segment.pf for segment in linked]
