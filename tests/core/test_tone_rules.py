"""The rules of tone at their limits."""

from dataclasses import replace

import pytest

from boardshop.core.plan import Scene
from boardshop.core.tone.circuit import find_resonance, frequency_response
from boardshop.core.tone.states import list_states, pickup_circuit
from tests.core.builders import amp, board, chain, guitar, link, pedal
from tests.core.tone_boards import BYPASSED, findings_of, lead_of, rules_of, tone_of, wired


@pytest.mark.parametrize(
    ("pf", "severity"),
    [
        (299, "advice"),
        (300, None),
        (301, None),
        (699, None),
        (700, None),
        (701, "advice"),
        (1000, "advice"),
        (1001, "caution"),
        (1500, "caution"),
        (1501, "caution"),
    ],
)
def test_bands_of_the_total(pf, severity):
    """Bands: common practice."""
    plan = lead_of(pf)
    assert [f.severity for f in findings_of(plan, "T09")] == ([] if severity is None else [severity])


@pytest.mark.parametrize(
    ("pf", "word"), [(299, "brighter"), (1000, "softer"), (1500, "ask for"), (1501, "strong")]
)
def test_the_total_is_named_with_the_volume_full_up(pf, word):
    (finding,) = findings_of(lead_of(pf), "T09")
    assert word in finding.message
    assert f"{pf} pF" in finding.message
    assert "volume full up" in finding.message


@pytest.mark.parametrize(("count", "found"), [(4, False), (5, False), (6, True)])
def test_true_bypass_pedals_in_a_row(count, found):
    assert ("T02" in rules_of(lead_of(100, *BYPASSED[:count]))) == found


@pytest.mark.parametrize(
    ("ohm", "word"),
    [(500_000, None), (499_999, "drop."), (250_000, "drop."), (249_999, "markedly")],
)
def test_loading_by_a_low_input(ohm, word):
    found = findings_of(lead_of(500, amps=(amp(input_ohm=ohm),)), "T04")
    assert [word in f.message for f in found] == ([] if word is None else [True])


def test_a_fuzz_may_load():
    fuzz = pedal("P1", "fuzz", bypass="always-on", input_ohm=20_000)
    assert "T04" not in rules_of(lead_of(500, fuzz))


def test_loading_is_found_in_a_scene_only():
    plan = lead_of(500, pedal("P1", input_ohm=100_000), scenes=(Scene("dirty", ("P1",)),))
    assert [f.subjects for f in findings_of(plan, "T04")] == [("G1", "P1")]


@pytest.mark.parametrize(("pf", "found"), [(1060, False), (1061, False), (1062, True)])
def test_a_driver_into_too_much_cable(pf, found):
    """10 kohm falls off above 15 kHz from 1061.03 pF on: 1 / (2 pi 10 k 15 k)."""
    driver = pedal("P1", bypass="always-on", output_ohm=10_000)
    links = (link("W1", "G1.OUT", "P1.IN", length=5000), link("W2", "P1.OUT", "A1.IN", length=pf * 10))
    plan = board(driver, links=links, amps=(amp(input_ohm=10**9),))
    assert ("T05" in rules_of(plan)) == found


def test_an_unknown_output_is_named_once():
    plan = wired(pedal("P1", bypass="buffered", output_ohm=None), scenes=(Scene("a"), Scene("b")))
    assert [(f.severity, f.subjects) for f in findings_of(plan, "T05")] == [("unknown", ("P1",))]
    assert tone_of(plan).segments[1].corner_hz is None


@pytest.mark.parametrize(("pot", "found"), [(250_000, True), (25_000, False)])
def test_a_volume_pot_behind_a_buffer(pot, found):
    """A quarter of 250 k into 700 pF: 3.6 kHz; of 25 k: 36.4 kHz (calculation)."""
    buffer = pedal("P1", "buffer", bypass="always-on")
    volume = pedal("P2", "volume", bypass="always-on", circuit="passive", input_ohm=pot)
    links = (*chain("G1", "P1", "P2", length=4000), link("W3", "P2.OUT", "A1.IN", length=7000))
    found_here = findings_of(board(buffer, volume, links=links), "T08")
    assert [("3638 Hz" in f.message) for f in found_here] == ([True] if found else [])


def test_a_volume_pot_on_the_pickup_itself_is_no_matter():
    volume = pedal("P1", "volume", bypass="always-on", circuit="passive", input_ohm=250_000)
    rules = rules_of(lead_of(500, volume))
    assert "T08" not in rules
    assert "T03" in rules  # it is passive and does not drive


def test_a_buffer_that_comes_too_late():
    late = pedal("P2", bypass="buffered")
    assert "T07" in rules_of(lead_of(700, pedal("P1"), late))
    (said,) = findings_of(lead_of(700, pedal("P1"), late), "T07")
    assert "with every pedal bypassed" in said.message
    assert "T07" not in rules_of(lead_of(680, pedal("P1"), late))
    assert "T07" not in rules_of(lead_of(900, late))


@pytest.mark.parametrize(("length", "found"), [(999, False), (1000, False), (1001, True)])
def test_the_lead_of_a_wireless_transmitter_is_short(length, found):
    receiver = pedal("P1", "wireless-receiver", bypass="always-on")
    links = (link("W1", "G1.OUT", "P1.IN", length=length), link("W2", "P1.OUT", "A1.IN", length=3000))
    assert ("T12" in rules_of(board(receiver, links=links))) == found


def test_a_clean_rig_has_no_findings():
    assert rules_of(wired(pedal("P1", "buffer", bypass="always-on", name="Doorman"), pedal("P2"))) == []


def test_findings_name_part_and_ref():
    plan = wired(pedal("P1", name="Low Ember", bypass="buffered", input_ohm=100_000))
    assert "Low Ember (P1)" in findings_of(plan, "T04")[0].message


def peak_words(ohm, pf=1600):
    """What T09 says of the peak over an input of so many ohm."""
    (finding,) = findings_of(lead_of(pf, amps=(amp(input_ohm=ohm),)), "T09")
    return finding.message


def test_a_peak_is_named_where_there_is_one():
    state = tone_of(lead_of(1600)).all_bypassed
    peaks = f"The pickup has a peak of {state.peak_db:.1f} dB at {state.resonance_hz:.0f} Hz; without cable"
    assert peaks in findings_of(lead_of(1600), "T09")[0].message


def test_no_peak_is_said_in_words():
    """Damped by 10 kohm the level only falls (the response is checked against a network solver)."""
    assert "has no peak with this cable or without any." in peak_words(10_000)
    assert tone_of(lead_of(1600, amps=(amp(input_ohm=10_000),))).all_bypassed.peak_db is None


def test_a_peak_that_would_print_as_nothing_is_none():
    """Between the input that damps it all and one that does not, a peak of hundredths of a dB."""
    damped = [ohm for ohm in range(10_000, 200_000, 100) if 0 < (peak_of(ohm) or 0) < 0.05]
    assert damped, "no such input"
    assert all("has no peak" in peak_words(ohm) for ohm in damped)
    assert not any("0.0 dB" in peak_words(ohm) for ohm in range(10_000, 200_000, 100))


def peak_of(ohm):
    circuit = pickup_circuit(guitar(), list_states(lead_of(1600, amps=(amp(input_ohm=ohm),)))["G1"][0].first)
    resonance = find_resonance(circuit)
    return resonance and frequency_response(circuit, (resonance,))[0]


def test_a_passive_pedal_says_what_still_hangs_on_what_is_before():
    volume = pedal("P1", "volume", bypass="always-on", circuit="passive", name="Slow Door")
    (finding,) = findings_of(lead_of(500, volume), "T03")
    assert finding.message.startswith(
        "Slow Door (P1) is passive and drives nothing: the cables and inputs behind"
    )
    assert finding.cure == "Put a buffer right before it or right behind it."


def test_an_unknown_load_of_two_inputs_reads_as_a_sentence():
    ends = (link("W1", "G1.OUT", "P1.IN", length=1000), link("W2", "G1.OUT", "A1.IN", length=1000))
    found = findings_of(board(pedal("P1", bypass="buffered", input_ohm=None), links=ends), "T06")
    assert "load it with a load that is not known, and" in found[0].message


@pytest.mark.parametrize(
    ("lacks", "named"),
    [
        ({"r": None, "l": None, "c": None}, "The resistance, inductance and capacitance of G1's pickup are"),
        ({"l": None, "c": None}, "The inductance and capacitance of G1's pickup are"),
        ({"c": None}, "The capacitance of G1's pickup is"),
    ],
)
def test_what_a_pickup_lacks_is_listed(lacks, named):
    source = guitar()
    source = replace(source, pickup=replace(source.pickup, **lacks))
    (finding,) = findings_of(replace(lead_of(500), sources=(source,)), "T01")
    assert finding.message.startswith(named)


def test_an_input_of_few_ohm_is_named_in_ohm():
    assert "is 89 ohm and" in findings_of(lead_of(500, amps=(amp(input_ohm=89),)), "T04")[0].message
