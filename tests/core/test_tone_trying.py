"""What if a cable, a length or a buffer were different: on a copy, never on the plan."""

from dataclasses import replace

import pytest

from boardshop.core.boardfile import dump_plan
from boardshop.core.plan import Jack, Scene
from boardshop.core.tone.section import compute_tone
from boardshop.core.tone.trying import (
    AddedBuffer,
    NothingBehind,
    OtherCable,
    OtherLength,
    tell_states,
    try_tone,
)
from tests.core.builders import amp, board, cable_type, chain, computer, guitar, link, pedal
from tests.core.tone_boards import BYPASSED, HOT_LEAD, tone_of, wired

LOW = cable_type("C9", pf_per_m=60, name="Low sixty")


def totals(trial, source="G1"):
    """pF of each state before and after."""
    return [(one.before.state.pf, one.after.state.pf) for one in trial.states[source]]


def test_a_buffer_at_the_entry_is_the_worked_example():
    """Worked example (calculation): 1950 to 670 pF, peak 2145 to 3350 Hz, gain +4.23 and +10.68 dB."""
    trial = try_tone(wired(*BYPASSED), [AddedBuffer("G1")])
    (bypassed, _as_used) = trial.states["G1"]
    assert totals(trial) == [(1950, 670)] * 2
    assert bypassed.after.state.f0_hz == pytest.approx(3604, abs=1)
    assert bypassed.after.state.resonance_hz == pytest.approx(3350, abs=10)
    assert bypassed.after.state.peak_db == pytest.approx(4.82, abs=0.05)
    gains = [
        after.no_cable_db - before.no_cable_db
        for before, after in zip(bypassed.before.against, bypassed.after.against, strict=True)
    ]
    assert gains == pytest.approx([4.23, 10.68], abs=0.05)
    # the buffer drives 1290 pF: 123.4 kHz from 1 kohm alone, 123.5 beside the amp's 1 Mohm
    assert compute_tone(trial.plan).sources[0].segments[1].corner_hz == pytest.approx(123_499.5, abs=1)


def test_what_it_settles_and_what_it_brings():
    trial = try_tone(wired(*BYPASSED), [AddedBuffer("G1")])
    assert [finding.rule for finding in trial.settles] == ["T09", "T02"]
    assert trial.brings == ()
    back = try_tone(wired(*BYPASSED[:2]), [OtherLength("W1", 30_000)])
    assert [finding.rule for finding in back.brings] == []  # 1 620 pF and then more: T09 stays a caution
    weak = try_tone(wired(pedal("P1")), [AddedBuffer("G1", output_ohm=20_000)])
    assert [finding.rule for finding in weak.brings] == ["T05"]


def test_the_plan_is_not_touched():
    plan = wired(*BYPASSED)
    before = dump_plan(plan)
    try_tone(plan, [AddedBuffer("G1"), OtherCable(LOW), OtherLength("W1", 1000)])
    assert dump_plan(plan) == before


def test_a_buffer_behind_a_pedal():
    #   G1 --W1-- P1 (wire) -[B]- W2 -- P2 ... A1
    trial = try_tone(wired(*BYPASSED[:3]), [AddedBuffer("p1", input_pf=25)])
    assert totals(trial)[0] == (660 + 60 + 40 + 990, 660 + 20 + 25)
    segments = compute_tone(trial.plan).sources[0].segments
    assert segments[1].pf == 20 + 20 + 20 + 20 + 990


def test_a_buffer_behind_each_output_of_a_stereo_pedal():
    jacks = (Jack("IN", "in"), Jack("OUT", "out"), Jack("B", "out"))
    links = (*chain("G1", "P1", "A1", length=1000), link("W3", "P1.B", "A2.IN", length=1000))
    plan = board(pedal("P1", jacks=jacks), links=links, amps=(amp("A1"), amp("A2")))
    trial = try_tone(plan, [AddedBuffer("P1")])
    assert totals(trial)[0] == (100 + 20 + 200, 100 + 20 + 20)
    assert [one.ref for one in trial.plan.pedals] == ["P1", "B1", "B2"]


def test_another_cable_for_all_signal_links_or_for_one():
    plan = wired(*BYPASSED)  # 6 m and 9 m of 110, 7 x 0.2 m of 100 pF/m
    assert totals(try_tone(plan, [OtherCable(LOW)]))[0] == (1950, 360 + 160 + 84 + 540)
    assert totals(try_tone(plan, [OtherCable(LOW, "w1")]))[0] == (1950, 360 + 160 + 140 + 990)


def test_a_type_that_the_board_has_is_taken_and_another_is_added():
    plan = wired(*BYPASSED)
    assert len(try_tone(plan, [OtherCable(replace(HOT_LEAD, ref=""), "W2")]).plan.cables) == 2
    tried = try_tone(plan, [OtherCable(replace(LOW, ref="C1"), "W2")]).plan
    assert [cable.ref for cable in tried.cables] == ["C1", "C2", "C3"]


def test_another_length_is_a_given_one():
    trial = try_tone(wired(*BYPASSED), [OtherLength("W1", 3000)])
    assert totals(trial)[0] == (1950, 1950 - 330)


def test_several_at_once():
    changes = [OtherCable(LOW), OtherLength("W1", 3000), AddedBuffer("G1"), AddedBuffer("P4")]
    trial = try_tone(wired(*BYPASSED), changes)
    assert totals(trial)[0] == (1950, 180 + 10)
    drivers = [segment.driven_by for segment in compute_tone(trial.plan).sources[0].segments]
    assert drivers == ["G1", "B1", "B2"]


def test_scenes_are_compared_too():
    plan = wired(pedal("P1"), pedal("P2"), scenes=(Scene("solo", ("P2",)),))
    trial = try_tone(plan, [AddedBuffer("P1")])
    assert [one.name for one in trial.states["G1"]] == ["all_bypassed", "as_used", "solo"]
    assert totals(trial)[2] == (660 + 20 + 20, 660 + 20 + 10)


def test_the_figures_before_are_those_of_the_section():
    plan = wired(*BYPASSED)
    bypassed, used = tell_states(plan, plan.sources[0])
    assert bypassed.state == tone_of(plan).all_bypassed
    assert used.state == tone_of(plan).as_used


def test_a_length_that_does_not_reach_is_told():
    """The run as it is placed needs so much at least; of a given lead nobody knows."""
    plan = board(pedal("P1", at=(300, 100)), pedal("P2", at=(100, 100)), links=chain("G1", "P1", "P2", "A1"))
    (short,) = try_tone(plan, [OtherLength("W2", 20)]).too_short
    assert (short.link, short.tried_mm) == ("W2", 20)
    assert short.needed_mm > 20
    assert try_tone(plan, [OtherLength("W2", short.needed_mm)]).too_short == ()
    assert try_tone(wired(*BYPASSED), [OtherLength("W1", 1)]).too_short == ()


def test_an_unknown_stays_unknown():
    plan = wired(pedal("P1", bypass=None))
    (bypassed, _) = try_tone(plan, [OtherLength("W1", 100)]).states["G1"]
    assert (bypassed.before.state, bypassed.after.state) == (None, None)
    (bypassed, _) = try_tone(plan, [AddedBuffer("G1")]).states["G1"]
    assert bypassed.after.state.pf == 670


def test_other_instruments_keep_theirs():
    links = (*chain("G1", "P1", "A1", length=1000), link("W3", "G2.OUT", "A2.IN", length=5000))
    plan = board(pedal("P1"), links=links, sources=(guitar(), guitar("G2")), amps=(amp(), amp("A2")))
    trial = try_tone(plan, [AddedBuffer("G1")])
    assert totals(trial, "G2") == [(500, 500)] * 2


@pytest.mark.parametrize("change", [OtherLength("W77", 1), OtherCable(LOW, "W77"), AddedBuffer("P77")])
def test_what_is_not_there_is_refused(change):
    with pytest.raises(KeyError, match="77"):
        try_tone(wired(*BYPASSED), [change])


@pytest.mark.parametrize("ref", ["P9", "G9", "A1", "M1"])
def test_nothing_leaves_it(ref):
    plan = replace(
        wired(*BYPASSED),
        pedals=(*BYPASSED, pedal("P9")),
        sources=(guitar(), guitar("G9")),
        computers=(computer(),),
    )
    with pytest.raises(NothingBehind):
        try_tone(plan, [AddedBuffer(ref)])
