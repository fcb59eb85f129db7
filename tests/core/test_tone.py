"""Tone of whole boards: segments, states, and the rules at their limits."""

from dataclasses import replace

import pytest

from boardshop.core.plan import Jack, Pickup, Scene
from boardshop.core.printing import as_json
from boardshop.core.tone import compute_curves, compute_tone
from tests.core.builders import active_source, amp, board, cable_type, chain, guitar, link, pedal
from tests.core.tone_boards import BYPASSED, findings_of, lead_of, rules_of, tone_of, wired


def difference(state, hz):
    return state.db_at[hz] - state.no_cable.db_at[hz]


def test_worked_example_eight_true_bypass_pedals_and_two_long_leads():
    """Worked example (calculation): 660 + 160 + 140 + 990 pF."""
    state = tone_of(wired(*BYPASSED)).all_bypassed
    assert (state.pf, state.into_ohm) == (1950, 1_000_000)
    assert state.f0_hz == pytest.approx(2218, abs=1)
    assert state.resonance_hz == pytest.approx(2145, abs=10)
    assert state.peak_db == pytest.approx(6.71, abs=0.05)
    assert difference(state, "3000") == pytest.approx(0.26, abs=0.05)
    assert difference(state, "5000") == pytest.approx(-11.85, abs=0.05)


def test_worked_example_with_a_buffer_at_the_entry():
    """The same board behind a buffer of 1 Mohm, 10 pF, 1 kohm out (calculation)."""
    buffer = pedal("B1", "buffer", bypass="always-on", input_pf=10)
    guitar_lead, patch, *rest = wired(buffer, *BYPASSED).links
    plan = replace(wired(buffer, *BYPASSED), links=(guitar_lead, replace(patch, length=0), *rest))
    tone = tone_of(plan)
    state = tone.all_bypassed
    assert [(s.driven_by, s.pf, s.into_ohm) for s in tone.segments] == [("G1", 670, 1e6), ("B1", 1290, 1e6)]
    assert state.f0_hz == pytest.approx(3604, abs=1)
    assert state.resonance_hz == pytest.approx(3350, abs=10)
    assert state.peak_db == pytest.approx(4.82, abs=0.05)
    assert difference(state, "3000") == pytest.approx(4.49, abs=0.05)
    assert difference(state, "5000") == pytest.approx(-1.17, abs=0.05)
    # 1 kohm alone gives 123.4 kHz; in parallel with the amp's 1 Mohm it is 999.0 ohm.
    assert tone.segments[1].corner_hz == pytest.approx(123_376 * 1001 / 1000, abs=1)
    assert tone.segments[0].corner_hz is None


def test_capacitance_adds_up_along_the_segment():
    #   G1 --W1-- P1 (wire) --W2-- P2 (buffered) --W3-- A1
    plan = wired(pedal("P1"), pedal("P2", bypass="buffered", input_pf=35))
    first, second = tone_of(plan).segments
    assert first.links == ("W1", "W2")
    assert first.pf == 660 + 20 + 20 + 35
    assert (second.driven_by, second.links, second.pf) == ("P2", ("W3",), 990)


def test_bypass_wiring_follows_the_shop_rule():
    plan = wired(*BYPASSED[:2])
    dearer = replace(plan, rules=replace(plan.rules, bypass_pf=30))
    assert tone_of(dearer).all_bypassed.pf - tone_of(plan).all_bypassed.pf == 2 * 10


def test_engaged_pedals_load_and_drive():
    plan = wired(pedal("P1"), pedal("P2", on=True, input_ohm=500_000), pedal("P3"))
    tone = tone_of(plan)
    assert (tone.all_bypassed.pf, tone.all_bypassed.into_ohm) == (660 + 3 * 20 + 2 * 20 + 990, 1_000_000)
    assert (tone.as_used.pf, tone.as_used.into_ohm) == (660 + 20 + 20, 500_000)


def test_a_scene_has_its_own_list_of_engaged_pedals():
    plan = wired(pedal("P1"), pedal("P2", on=True), scenes=(Scene("solo", ("p1",)), Scene("clean")))
    tone = tone_of(plan)
    assert tone.scenes["solo"].pf == 660
    assert tone.scenes["clean"] == tone.all_bypassed
    assert list(tone.scenes) == ["solo", "clean"]


def test_midi_links_are_no_part_of_the_signal():
    jacks = (*pedal("P1").jacks, Jack("MIDI", "midi-out", "rear", 10))
    plan = wired(pedal("P1", jacks=jacks), pedal("P2"))
    midi = link("W9", "P1.MIDI", "P2.IN", length=9000, carries="midi")
    assert tone_of(replace(plan, links=(*plan.links, midi))) == tone_of(plan)


def test_a_cut_link_counts_with_its_printed_capacitance():
    from boardshop.core.cables import list_runs

    plan = board(pedal("P1", at=(300, 100)), pedal("P2", at=(100, 100)), links=chain("G1", "P1", "P2", "A1"))
    assert tone_of(plan).all_bypassed.pf == sum(run.pf for run in list_runs(plan)) + 2 * 20


# Branches.
#              .- OUT A -- P2 (buffered) -- A1
#   G1 -- P1 -<
#              '- OUT B -- P3 (buffered)
TWO_OUTS = (Jack("IN", "in"), Jack("OUT", "out"), Jack("B", "out"))


def branched(splitter, **overrides):
    pedals = (splitter, pedal("P2", bypass="buffered"), pedal("P3", bypass="buffered", **overrides))
    links = (*chain("G1", "P1", "P2", "A1", length=1000), link("W4", "P1.B", "P3.IN", length=500))
    return board(*pedals, links=links)


def test_two_inputs_on_a_passive_split_are_in_parallel():
    """1 Mohm beside 1 Mohm is 500 kohm, and both branches' capacitances add."""
    plan = branched(pedal("P1", "splitter", jacks=TWO_OUTS))
    state = tone_of(plan).all_bypassed
    assert (state.pf, state.into_ohm) == (100 + 20 + 100 + 50, 500_000)
    assert rules_of(plan).count("T06") == 1


def test_a_buffered_split_drives_each_branch_by_itself():
    plan = branched(pedal("P1", "splitter", jacks=TWO_OUTS, bypass="always-on"))
    found = [(s.driven_by, s.links, s.pf) for s in tone_of(plan).segments]
    assert found == [
        ("G1", ("W1",), 100),
        ("P1", ("W2",), 100),
        ("P2", ("W3",), 100),
        ("P1", ("W4",), 50),
    ]
    assert "T06" not in rules_of(plan)


def test_an_unknown_input_in_one_branch_leaves_the_whole_unknown():
    plan = branched(pedal("P1", "splitter", jacks=TWO_OUTS), input_ohm=None)
    assert tone_of(plan).all_bypassed is None


def test_stereo_wires_keep_to_their_side():
    jacks = (Jack("L", "in"), Jack("R", "in"), Jack("OUT L", "out"), Jack("OUT R", "out"))
    links = (
        link("W1", "G1.OUT", "P1.R", length=1000),
        link("W2", "P1.OUT L", "A1.IN", length=2000),
        link("W3", "P1.OUT R", "A2.IN", length=3000),
    )
    plan = board(pedal("P1", jacks=jacks), links=links, amps=(amp("A1"), amp("A2")))
    assert tone_of(plan).segments[0].links == ("W1", "W3")


def test_a_wire_passes_through_its_loop():
    #   G1 -- P1.IN ~ SEND -- P2 -- RETURN ~ OUT -- A1
    jacks = (Jack("IN", "in"), Jack("SEND", "send"), Jack("RETURN", "return"), Jack("OUT", "out"))
    links = (
        link("W1", "G1.OUT", "P1.IN", length=1000),
        link("W2", "P1.SEND", "P2.IN", length=1000),
        link("W3", "P2.OUT", "P1.RETURN", length=1000),
        link("W4", "P1.OUT", "A1.IN", length=1000),
    )
    segment = tone_of(board(pedal("P1", "noise-gate", jacks=jacks), pedal("P2"), links=links)).segments[0]
    assert segment.links == ("W1", "W2", "W3", "W4")
    assert segment.pf == 4 * 100 + 2 * 20


def test_a_ring_of_wires_ends():
    jacks = (Jack("IN", "in"), Jack("BACK", "in"), Jack("OUT", "out"))
    links = (
        link("W1", "G1.OUT", "P1.IN", length=1000),
        link("W2", "P1.OUT", "P2.IN", length=1000),
        link("W3", "P2.OUT", "P1.BACK", length=1000),
    )
    assert tone_of(board(pedal("P1", jacks=jacks), pedal("P2"), links=links)).all_bypassed is None


# What is not recorded.


def test_no_state_without_an_input_impedance():
    plan = lead_of(500, amps=(amp(input_ohm=None),))
    tone = tone_of(plan)
    assert tone.all_bypassed is None
    assert tone.segments[0].into_ohm is None
    assert [(f.severity, f.subjects) for f in findings_of(plan, "T04")] == [("unknown", ("A1",))]


def test_unknown_bypass_is_not_guessed():
    plan = wired(pedal("P1", bypass=None))
    assert tone_of(plan).all_bypassed is None
    assert [(f.severity, f.subjects) for f in findings_of(plan, "T03")] == [("unknown", ("P1",))]


def test_an_engaged_pedal_needs_no_bypass():
    assert tone_of(wired(pedal("P1", bypass=None, on=True))).as_used.pf == 660


def test_unknown_capacitance_leaves_the_bare_pickup():
    plan = lead_of(500, cables=(cable_type(pf_per_m=None),))
    state = tone_of(plan).all_bypassed
    assert (state.pf, state.resonance_hz, state.db_at) == (None, None, None)
    assert state.no_cable.resonance_hz == pytest.approx(2661, abs=10)
    assert ("T01", ("W1",)) in [(f.rule, f.subjects) for f in compute_tone(plan).findings]


def test_a_capacitance_that_two_states_lack_is_named_once():
    """The amp's lead hangs on the guitar while P1 is bypassed, and on P1 while it is engaged."""
    plan = lead_of(500, pedal("P1", on=True), cables=(cable_type(pf_per_m=None),))
    assert [f.subjects for f in findings_of(plan, "T01")] == [("W1",), ("W2",)]


def test_an_amp_without_recorded_capacitance_counts_as_none_and_is_named():
    plan = lead_of(500, amps=(amp(input_pf=None),))
    assert tone_of(plan).all_bypassed.pf == 500
    assert [(f.severity, f.subjects) for f in findings_of(plan, "T01")] == [("unknown", ("A1",))]


def test_a_source_linked_to_nothing():
    plan = board(pedal("P1"))
    assert (tone_of(plan).segments, tone_of(plan).all_bypassed) == ((), None)
    assert [(f.severity, f.subjects) for f in findings_of(plan, "T01")] == [("unknown", ("G1",))]


def test_a_signal_that_ends_at_an_unlinked_output():
    plan = board(pedal("P1"), links=chain("G1", "P1", length=1000))
    assert tone_of(plan).all_bypassed is None
    assert [f.subjects for f in findings_of(plan, "T01")] == [("G1", "P1")]


@pytest.mark.parametrize("pickup", [None, Pickup(6000, None, 110)])
def test_a_pickup_without_its_values(pickup):
    plan = lead_of(500, sources=(guitar(pickup=pickup),))
    state = tone_of(plan).all_bypassed
    assert (state.pf, state.into_ohm, state.f0_hz, state.no_cable) == (500, 1_000_000, None, None)
    assert [f.subjects for f in findings_of(plan, "T01")] == [("G1",)]


def test_half_a_tone_control_is_left_out_and_named():
    plan = lead_of(500, sources=(guitar(tone_nf=None),))
    bare = lead_of(500, sources=(guitar(tone_nf=None, tone_ohm=None),))
    assert tone_of(plan) == tone_of(bare)
    assert [f.severity for f in findings_of(plan, "T01")] == ["unknown"]


def test_whether_it_is_engaged_is_asked_once():
    plan = wired(pedal("P1", on=None), pedal("P2", on=None), pedal("P3"))
    assert [(f.severity, f.subjects) for f in findings_of(plan, "T03")] == [("unknown", ("P1", "P2"))]


def test_nothing_gets_past_a_short():
    state = tone_of(lead_of(500, amps=(amp(input_ohm=0),))).all_bypassed
    assert (state.into_ohm, state.db_at) == (0, None)


# Active sources.


def test_an_active_source_has_a_corner_instead_of_a_resonance():
    plan = lead_of(990, sources=(active_source(output_ohm=1000),))
    tone = tone_of(plan)
    # 1 kohm in parallel with 1 Mohm into 990 pF: 1 / (2 pi R C) = 160.92 kHz
    assert tone.segments[0].corner_hz == pytest.approx(160_924, abs=1)
    assert (tone.all_bypassed.pf, tone.all_bypassed.resonance_hz, tone.all_bypassed.no_cable) == (
        990,
        None,
        None,
    )
    assert rules_of(plan) == []


# Curves and shape.


def test_curves_are_those_of_the_states():
    plan = wired(*BYPASSED, scenes=(Scene("solo", ("P1",)),))
    state = tone_of(plan).all_bypassed
    curves = compute_curves(plan, plan.sources[0], [100, 3000, 5000])
    assert [curve.state for curve in curves] == ["all_bypassed", "as_used", "solo"]
    assert curves[0].db == pytest.approx([0, state.db_at["3000"], state.db_at["5000"]], abs=5e-4)
    assert curves[0].no_cable_db[1] == pytest.approx(state.no_cable.db_at["3000"], abs=5e-4)


def test_section_prints_the_keys_of_the_report():
    printed = as_json(compute_tone(wired(*BYPASSED)))
    (source,) = printed["sources"]
    assert list(printed) == ["sources", "findings"]
    assert list(source) == ["source", "segments", "all_bypassed", "as_used", "scenes"]
    assert list(source["segments"][0]) == ["links", "pf", "driven_by", "into_ohm", "corner_hz"]
    state = source["all_bypassed"]
    assert list(state) == ["pf", "into_ohm", "f0_hz", "resonance_hz", "peak_db", "db_at", "no_cable"]
    assert list(state["db_at"]) == ["1000", "2000", "3000", "5000", "8000", "10000"]
    assert list(state["no_cable"]) == ["resonance_hz", "peak_db", "db_at"]
