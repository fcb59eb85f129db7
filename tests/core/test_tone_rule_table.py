"""Every rule of tone speaks in each of its severities, and in no other."""

import json

import pytest
from hypothesis import HealthCheck, given, settings

from boardshop.core.boardfile import load_plan_text
from boardshop.core.plan import Jack
from boardshop.core.tone import NOTES, compute_tone
from boardshop.core.tone.rules import (
    BANDS,
    BUFFER_PF,
    NORMAL_PF,
    STRONG_PF,
    TONE_RULES,
    TOO_BRIGHT_PF,
    band_of,
    tone_finding,
)
from tests.core.builders import active_source, amp, board, cable_type, chain, guitar, link, pedal
from tests.core.random_boards import documents
from tests.core.tone_boards import BYPASSED, lead_of, wired


def behind_a_buffer(**volume):
    buffer = pedal("P1", "buffer", bypass="always-on")
    values = {"bypass": "always-on", "circuit": "passive", "input_ohm": 250_000} | volume
    links = (*chain("G1", "P1", "P2", length=4000), link("W3", "P2.OUT", "A1.IN", length=7000))
    return board(buffer, pedal("P2", "volume", **values), links=links)


def over_the_air(lead_mm):
    receiver = pedal("P1", "wireless-receiver", bypass="always-on")
    return board(receiver, links=chain("G1", "P1", "A1", length=lead_mm))


Y = (Jack("IN", "in"), Jack("OUT", "out"), Jack("B", "out"))
SHARED = board(
    pedal("P1", "splitter", jacks=Y),
    links=(*chain("G1", "P1", "A1", length=1000), link("W3", "P1.B", "A2.IN", length=1000)),
    amps=(amp("A1"), amp("A2")),
)
WEAK = pedal("P1", bypass="always-on", output_ohm=100_000)
VOLUME = pedal("P1", "volume", bypass="always-on", circuit="passive")

SPEAKING = [
    ("T01", "unknown", lead_of(500, sources=(guitar(pickup=None),))),
    ("T01", "unknown", lead_of(500, cables=(cable_type(pf_per_m=None),))),
    ("T01", "unknown", lead_of(500, amps=(amp(input_pf=None),))),
    ("T01", "unknown", board(pedal("P1"))),
    ("T02", "advice", lead_of(100, *BYPASSED[:6])),
    ("T03", "unknown", wired(pedal("P1", bypass=None))),
    ("T03", "unknown", wired(pedal("P1", on=None))),
    ("T03", "caution", wired(VOLUME)),
    ("T04", "unknown", lead_of(500, amps=(amp(input_ohm=None),))),
    ("T04", "caution", lead_of(500, amps=(amp(input_ohm=499_999),))),
    ("T05", "unknown", wired(pedal("P1", bypass="buffered", output_ohm=None))),
    ("T05", "caution", wired(WEAK)),
    ("T06", "caution", SHARED),
    ("T07", "advice", lead_of(700, pedal("P1"), pedal("P2", bypass="buffered"))),
    ("T08", "unknown", behind_a_buffer(circuit=None)),
    ("T08", "caution", behind_a_buffer()),
    ("T09", "advice", lead_of(299)),
    ("T09", "advice", lead_of(701)),
    ("T09", "caution", lead_of(1001)),
    ("T12", "advice", over_the_air(1001)),
]


@pytest.mark.parametrize(("rule", "severity", "plan"), SPEAKING)
def test_it_speaks(rule, severity, plan):
    found = [one for one in compute_tone(plan).findings if (one.rule, one.severity) == (rule, severity)]
    assert found
    assert all(one.message and one.cure and one.basis == TONE_RULES[rule].basis for one in found)


def test_every_rule_and_severity_of_the_table_is_among_these():
    spoken = {(rule, severity) for rule, severity, _ in SPEAKING}
    assert spoken == {(rule, severity) for rule, row in TONE_RULES.items() for severity in row.severities}
    assert list(TONE_RULES) == [f"T{number:02}" for number in range(1, 13)]


def test_what_is_no_finding_is_said_beside_the_figures():
    said = {rule for rule, _ in NOTES}
    assert said == {rule for rule, row in TONE_RULES.items() if not row.severities} == {"T10", "T11"}


def test_a_rule_in_another_severity_is_refused():
    with pytest.raises(ValueError, match="T02 does not speak as fault"):
        tone_finding("T02", "fault", ("G1",), "x")


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
@given(documents())
def test_no_finding_is_outside_the_table(document: dict[str, object]) -> None:
    for finding in compute_tone(load_plan_text(json.dumps(document))).findings:
        assert finding.severity in TONE_RULES[finding.rule].severities


@pytest.mark.parametrize(
    ("pf", "words"),
    [
        (0, "brighter"),
        (TOO_BRIGHT_PF - 1, "brighter"),
        (TOO_BRIGHT_PF, "usual"),
        (NORMAL_PF, "usual"),
        (NORMAL_PF + 1, "softer"),
        (BUFFER_PF, "softer"),
        (BUFFER_PF + 1, "advised"),
        (STRONG_PF, "advised"),
        (STRONG_PF + 1, "wanted"),
        (10**9, "wanted"),
    ],
)
def test_bands_in_words(pf, words):
    """Limits: common practice."""
    assert words in band_of(pf).words


def test_the_bands_rise_and_the_last_has_no_end():
    limits = [band.most_pf for band in BANDS]
    assert limits[-1] is None
    assert limits[:-1] == sorted(limits[:-1])


# The finer points of single rules.


def findings(plan, rule):
    return [one for one in compute_tone(plan).findings if one.rule == rule]


def test_two_inputs_on_a_passive_pedals_two_outputs_share_it():
    """1 Mohm beside 1 Mohm is 500 kohm, behind a pot with a tuner output as behind a plain Y."""
    tuner = pedal("P2", "tuner", bypass="buffered")
    volume = pedal("P1", "volume", bypass="always-on", circuit="passive", jacks=Y)
    links = (*chain("G1", "P1", "A1", length=1000), link("W3", "P1.B", "P2.IN", length=1000))
    (found,) = findings(board(volume, tuner, links=links), "T06")
    assert found.subjects == ("P1", "A1", "P2")
    assert "500 kohm" in found.message


def test_two_inputs_on_what_drives_do_not_share():
    splitter = pedal("P1", "splitter", jacks=Y, bypass="always-on")
    links = (*chain("G1", "P1", "A1", length=1000), link("W3", "P1.B", "A2.IN", length=1000))
    assert findings(board(splitter, links=links, amps=(amp("A1"), amp("A2"))), "T06") == []


def test_an_active_instrument_may_feed_two_inputs():
    links = (link("W1", "G1.OUT", "A1.IN", length=1000), link("W2", "G1.OUT", "A2.IN", length=1000))
    plan = board(links=links, sources=(active_source(),), amps=(amp("A1"), amp("A2")))
    assert findings(plan, "T06") == []


@pytest.mark.parametrize("circuit", ["passive", None])
def test_a_volume_pedal_behind_a_passive_one_is_not_behind_a_driver(circuit):
    wah = pedal("P1", "wah", bypass="always-on", circuit="passive")
    volume = pedal("P2", "volume", bypass="always-on", circuit=circuit, input_ohm=250_000)
    plan = board(wah, volume, links=chain("G1", "P1", "P2", "A1", length=7000))
    assert findings(plan, "T08") == []


def test_a_volume_pedal_with_a_buffer_of_its_own_is_no_matter():
    assert findings(behind_a_buffer(circuit="analog"), "T08") == []


def test_a_volume_pedal_on_an_active_instrument():
    volume = pedal("P1", "volume", bypass="always-on", circuit="passive", input_ohm=250_000)
    plan = board(volume, sources=(active_source(),), links=chain("G1", "P1", "A1", length=7000))
    assert [one.severity for one in findings(plan, "T08")] == ["caution"]


def test_too_little_behind_a_transmitter_names_the_switch_that_simulates_cable():
    (found,) = findings(over_the_air(700), "T09")
    assert "simulates cable" in found.cure
    assert "longer lead" in findings(lead_of(100), "T09")[0].cure


@pytest.mark.parametrize(("ohm", "speaks"), [(250_000, True), (500_000, False)])
def test_a_passive_pedals_input_loads_as_any_other(ohm, speaks):
    volume = pedal("P1", "volume", bypass="always-on", circuit="passive", input_ohm=ohm)
    assert bool(findings(lead_of(500, volume), "T04")) == speaks


def test_every_total_is_counted_to_the_amp_where_nothing_drives():
    (found,) = findings(wired(*BYPASSED), "T09")
    assert "as far as A1 (the amp)" in found.message
