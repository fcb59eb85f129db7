"""What nobody recorded is named once and stops nothing else."""

from dataclasses import replace

from boardshop.core.plan import Incomplete, Jack, SupplyPlace
from tests.core.builders import board, feed, link, pedal, plug_type, supply, under_frame
from tests.core.layout_boards import PLAIN, findings_of, two


def test_what_is_not_recorded_is_named_once():
    jacks = (Jack("IN", "in", None, 86), Jack("OUT", "out", "left", None))
    bare = pedal("P1", "wah", at=(100, 0), height=None, use=2, **(PLAIN | {"jacks": jacks}))
    lost = pedal("P2", **PLAIN)
    links = [
        link("W1", "G1.OUT", "P1.IN", plug_to=None),
        link("W2", "P1.OUT", "P2.IN", plug_from="J2"),
    ]
    plan = board(
        bare,
        lost,
        links=links,
        plugs=[plug_type("J1"), plug_type("J2", reach=None, width=None)],
        supplies=[
            under_frame(supply(), 0, 0),
            supply("S2"),
            replace(supply("S3", depth=None), place=SupplyPlace(0, 0)),
        ],
    )
    assert [(f.rule, f.severity, f.subjects) for f in findings_of(plan)] == [
        ("L21", "unknown", ("P2",)),
        ("L22", "unknown", ("S2",)),
        ("L22", "unknown", ("S3",)),
        ("L23", "unknown", ("P1.IN", "P1.OUT")),
        ("L24", "unknown", ("P1.IN",)),
        ("L25", "unknown", ("J2",)),
        ("L26", "unknown", ("P1",)),
        ("L28", "unknown", ("S1",)),
        ("L29", "unknown", ("P1",)),
        ("L30", "unknown", ("P1",)),
        ("L43", "unknown", ("S1",)),
        ("L47", "unknown", ("S1",)),
    ]


def test_a_power_jack_without_a_place_on_the_pedal_is_unknown():
    bare = pedal("P1", at=(100, 0), jacks=(), switches=())
    assert [f.subjects for f in findings_of(board(bare, feeds=[feed("S1.1", "P1.DC")]), "L23")] == [
        ("P1.DC",)
    ]


def test_unplaced_pedals_stop_nothing_else():
    plan = board(pedal("P1"), *two(72).pedals[1:], pedal("P3", at=(72, 0), **PLAIN), pedal("P4"))
    assert [(f.rule, f.subjects) for f in findings_of(plan, "L03", "L21")] == [
        ("L03", ("P2", "P3")),
        ("L21", ("P1", "P4")),
    ]


def test_an_entry_without_its_numbers_is_named():
    plan = replace(board(), incomplete=(Incomplete("frame/keepouts", ("depth",), '{"x": 5}'),))
    (finding,) = findings_of(plan)
    assert (finding.rule, finding.severity, finding.subjects) == ("K02", "unknown", ("frame",))


def test_an_entry_whose_pedal_is_gone_is_not_named():
    plan = replace(board(), incomplete=(Incomplete("P9/switches", ("x",), "{}"),))
    assert findings_of(plan) == []
