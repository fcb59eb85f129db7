"""What the stages that drive have hanging on them."""

from dataclasses import replace

import pytest

from boardshop.core.plan import Scene
from boardshop.core.tone.later import first_order_db, list_later_stages
from boardshop.core.tone.states import list_states
from tests.core.builders import active_source, amp, cable_type, pedal
from tests.core.tone_boards import lead_of, tone_of, wired


def later(plan, state=0):
    return list_later_stages(list_states(plan)["G1"][state])


def test_each_driver_with_what_it_drives():
    """1 kohm in parallel with 1 Mohm, 999.001 ohm, into 20 and into 990 pF (calculation)."""
    plan = wired(pedal("P1", bypass="buffered"), pedal("P2", bypass="buffered"))
    first, second = later(plan)
    assert (first.driver.ref, [s.ref for s in first.stages], first.pf) == ("P1", ["P2"], 20)
    assert (second.driver.ref, [s.ref for s in second.stages], second.pf) == ("P2", ["A1"], 990)
    assert (second.output_ohm, second.into_ohm, second.from_ohm) == (1_000, 1_000_000, 999.001)
    assert second.corner_hz == pytest.approx(160_923.35, abs=0.1)
    assert [one.corner_hz for one in (first, second)] == [
        segment.corner_hz for segment in tone_of(plan).segments[1:]
    ]
    assert not first.is_low
    assert first.lacks == ()


def test_three_db_down_at_the_corner():
    assert first_order_db(1_000, 1_000) == pytest.approx(-3.0103, abs=1e-4)
    assert first_order_db(10_000, 1_000) == pytest.approx(-20.043, abs=1e-3)
    plan = wired(pedal("P1", bypass="buffered", output_ohm=20_000), last_mm=20_000)
    (stage,) = later(plan)
    assert stage.is_low
    assert stage.db_at_10_khz == pytest.approx(first_order_db(10_000, stage.corner_hz), abs=1e-3)


def test_an_engaged_pedal_drives_in_its_scene_only():
    plan = wired(pedal("P1"), scenes=(Scene("solo", ("P1",)),))
    assert later(plan) == ()
    assert [one.driver.ref for one in later(plan, state=2)] == ["P1"]


def test_an_active_instrument_drives_its_own_lead():
    (stage,) = later(lead_of(990, sources=(active_source(output_ohm=1000),)))
    assert (stage.driver.ref, stage.pf) == ("G1", 990)
    assert stage.corner_hz == pytest.approx(160_923.35, abs=0.1)


def test_a_passive_pedal_is_marked():
    volume = pedal("P1", "volume", bypass="always-on", circuit="passive")
    (stage,) = later(wired(volume))
    assert not stage.drives


@pytest.mark.parametrize(
    ("pedals", "options", "lacks"),
    [
        ([pedal("P1", bypass="buffered", output_ohm=None)], {}, "the output impedance of P1"),
        ([pedal("P1", bypass="buffered")], {"amps": (amp(input_ohm=None),)}, "the input impedance of A1"),
        ([pedal("P1", bypass="buffered"), pedal("P2", bypass=None)], {}, "the bypass of P2"),
        (
            [pedal("P1", bypass="buffered")],
            {"cables": (cable_type(), cable_type("C2", None))},
            "the capacitance of W2",
        ),
    ],
)
def test_what_is_not_recorded_is_named_and_no_corner_is_told(pedals, options, lacks):
    (stage,) = later(wired(*pedals, **options))
    assert lacks in stage.lacks
    assert (stage.corner_hz, stage.db_at_10_khz, stage.is_low) == (None, None, False)


def test_a_driver_that_leads_nowhere():
    plan = lead_of(500, pedal("P1", bypass="buffered"), pedal("P2"))
    ends_there = tuple(link for link in plan.links if link.source != "P2.OUT")
    (stage,) = later(replace(plan, links=ends_there))
    assert stage.lacks == ("an input at the end",)
