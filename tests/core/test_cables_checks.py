"""What the cables section finds: values nobody recorded, and each rule at its limits."""

from dataclasses import replace

import pytest

from boardshop.core.cables import compute_cables, list_runs
from boardshop.core.plan import Jack, StockLength
from tests.core.builders import board, cable_type, chain, computer, frame, link, pedal, plug_type
from tests.core.cable_boards import findings_of, pair, run_of

# What is not recorded.


@pytest.mark.parametrize(
    ("change", "subject"),
    [
        ({"left": None}, "P2"),
        ({"plug_to": None}, "W1"),
        ({"plugs": (plug_type(reach=None),)}, "J1"),
    ],
)
def test_a_run_without_ends_has_no_numbers(change, subject):
    run = run_of(pair(**change))
    assert (run.path_mm, run.corners, run.cut_mm, run.pf, run.blocked_by) == (None, (), None, None, ())
    (finding,) = findings_of(pair(**change), "C01")
    assert finding.severity == "unknown"
    assert finding.subjects[0] == subject


def test_a_jack_whose_side_nobody_recorded():
    blank = pedal("P2", at=(100, 100), jacks=(Jack("IN", "in"),))
    plan = replace(pair(), pedals=(pair().pedals[0], blank))
    assert run_of(plan).path_mm is None
    assert [f.subjects for f in findings_of(plan, "C01")] == [("P2.IN",)]


@pytest.mark.parametrize(
    ("change", "subject"), [({"cable": None}, "W1"), ({"plugs": (plug_type(inside=None),)}, "J1")]
)
def test_a_run_may_be_known_where_its_cut_is_not(change, subject):
    plan = pair(**change)
    assert run_of(plan).path_mm == 99
    assert run_of(plan).pf is None
    assert [f.subjects[0] for f in findings_of(plan, "C01")] == [subject]


def test_an_unknown_bend_matters_only_at_corners():
    stiff = (cable_type(min_bend=None, diameter=None),)
    assert run_of(pair(cables=stiff)).cut_mm == 135
    bent = pair(cables=stiff, left=(100, 50))
    assert (run_of(bent).path_mm, run_of(bent).cut_mm) == (99 + 50, None)
    assert [f.subjects for f in findings_of(bent, "C01")] == [("C1",)]


def test_an_unknown_capacitance_is_said_once_for_the_cable():
    plan = board(
        *(pedal(f"P{n}", at=(500 - 100 * n, 100)) for n in range(1, 4)),
        links=chain("P1", "P2", "P3"),
        cables=(cable_type(pf_per_m=None),),
    )
    assert [run.pf for run in list_runs(plan)] == [None, None]
    assert all(run.cut_mm for run in list_runs(plan))
    assert [f.subjects for f in findings_of(plan, "C01")] == [("C1",)]


def test_pedals_without_a_place_are_said_together():
    plan = board(pedal("P1"), pedal("P2"), pedal("P3"), links=chain("P1", "P2", "P3"))
    assert [f.subjects for f in findings_of(plan, "C01")] == [("P1", "P2", "P3")]


def test_a_computer_stands_beside_the_frame():
    jacks = (*pedal("P1").jacks, Jack("USB", "usb", "rear", 20))
    plan = board(
        pedal("P1", at=(300, 100), jacks=jacks),
        computers=(computer(),),
        links=(link("W1", "M1.USB", "P1.USB", carries="usb"),),
    )
    assert run_of(plan).path_mm is None
    assert "W1" in findings_of(plan, "C01")[0].subjects


# Rules.


@pytest.mark.parametrize(
    ("made", "rule"), [(122, "C03"), (123, "C06"), (134, "C06"), (135, None), (136, None)]
)
def test_a_made_cable_that_no_longer_fits(made, rule):
    """The run takes 99 + 24 mm at least, and a new cable would be cut to 135."""
    found = [f for f in compute_cables(pair(made=made)).findings if f.rule in ("C03", "C06")]
    assert [f.rule for f in found] == ([] if rule is None else [rule])
    assert [f.severity for f in found] == ([] if rule is None else ["fault" if rule == "C03" else "caution"])


def test_nothing_passes_through_a_closed_frame():
    assert [f.severity for f in findings_of(pair(route="under"), "C04")] == ["fault"]
    assert findings_of(pair(route="under", frame=frame(surface="slotted")), "C04") == []


@pytest.mark.parametrize(
    ("plug", "jack", "rule"),
    [
        ("6.35 TS", "6.35 TS", None),
        ("6.35 TS", "6.35 TRS", None),
        ("6.35 TRS", "6.35 TS", None),
        ("3.5 TRS", "3.5 mono", None),
        ("3.5 TRS", "6.35 TRS", "C05"),
        ("XLR", "6.35 TS", "C05"),
    ],
)
def test_plug_and_jack_go_together(plug, jack, rule):
    jacks = (Jack("IN", "in", "right", 86, 20, jack, "mono"),)
    plan = pair(plug_to="J2", plugs=(plug_type(), plug_type("J2", connector=plug)))
    plan = replace(plan, pedals=(plan.pedals[0], replace(plan.pedals[1], jacks=jacks)))
    found = findings_of(plan, "C05")
    assert [f.subjects for f in found] == ([] if rule is None else [("W1", "P2.IN")])


@pytest.mark.parametrize(
    ("name", "said"), [("Flat angle", "Plug Flat angle (J2, XLR)"), ("", "Plug J2 (XLR)")]
)
def test_a_plug_is_called_by_its_name_and_then_its_code(name, said):
    plan = pair(plug_to="J2", plugs=(plug_type(), plug_type("J2", connector="XLR", name=name)))
    (found,) = findings_of(plan, "C05")
    assert found.message.startswith(said)


def test_types_that_lack_something_are_called_by_name_and_code():
    plan = pair(plugs=(plug_type(reach=None, name="Flat angle"),))
    said = " ".join(finding.message for finding in findings_of(plan, "C01"))
    assert "a mated plug Flat angle (J1) stands out" in said


def test_a_two_pole_plug_in_a_stereo_jack_loses_a_side():
    jacks = (Jack("IN", "in", "right", 86, 20, "6.35 TRS", "stereo"),)
    plan = replace(pair(), pedals=(pair().pedals[0], replace(pair().pedals[1], jacks=jacks)))
    assert [f.severity for f in findings_of(plan, "C07")] == ["caution"]


@pytest.mark.parametrize(("x", "found"), [(434, False), (437, False), (438, True)])
def test_a_long_run_on_top_of_a_slotted_frame(x, found):
    """Runs of 247, 250 and 251 mm."""
    plan = pair(right=(x + 14, 100), frame=frame(surface="slotted"))
    assert run_of(plan).path_mm == x - 187
    assert (len(findings_of(plan, "C09")) == 1) == found


@pytest.mark.parametrize(("length", "found"), [(14_999, False), (15_000, False), (15_001, True)])
def test_midi_cables_have_a_longest_length(length, found):
    """MIDI 1.0: at most 15 m."""
    jacks = (Jack("OUT", "midi-out", "left", 86), Jack("IN", "midi-in", "right", 86))
    plan = pair(carries="midi", length=length)
    plan = replace(plan, pedals=tuple(replace(p, jacks=jacks) for p in plan.pedals))
    assert (len(findings_of(plan, "C10")) == 1) == found


def test_stock_that_is_too_short():
    plan = replace(pair(), stock=(StockLength("C1", 100),))
    assert [f.subjects for f in findings_of(plan, "C08")] == [("C1",)]
    assert findings_of(replace(plan, stock=(StockLength("C1", 135),)), "C08") == []
    assert findings_of(replace(plan, stock=()), "C08") == []


def test_findings_name_part_and_ref():
    named = replace(pair(made=10).pedals[0], name="Low Ember")
    plan = replace(pair(made=10), pedals=(named, pair().pedals[1]))
    assert "W1 from Low Ember (P1.OUT) to P2.IN" in findings_of(plan, "C03")[0].message
