"""The table of rules: each speaks in its severity, and every word that the page prints is there."""

import json
from dataclasses import replace

import pytest

from boardshop.core.boardfile import dump_plan, load_plan_text
from boardshop.core.cables import compute_cables
from boardshop.core.cables.beside import PARALLEL_FROM_MM
from boardshop.core.cables.foot_paths import SHOE_WIDTH_MM
from boardshop.core.cables.rules import (
    BESIDE_DC_MM,
    BESIDE_MAINS_MM,
    CABLE_RULES,
    FROM_SWITCHING_MM,
    LONG_ON_TOP_MM,
    MIDI_MAX_MM,
    NEAR_MAINS_MM,
)
from boardshop.core.plan import BoardPlan, Jack, Keepout, Point, Rail, StockLength
from boardshop.core.vocabulary import SEVERITIES
from tests.core.builders import board, chain, feed, frame, outlet, pedal, plug_type
from tests.core.cable_boards import pair
from tests.core.test_cables_spacing import brick, fed, wah
from tests.core.test_cables_spacing import row as beside
from tests.core.test_cables_ways import row as stepped
from tests.core.test_cables_ways import shared

SLOTTED = frame(surface="slotted")
WALL = frame(keepouts=(Keepout(230, -5, 10, 400, "hinge"),))


def stereo() -> BoardPlan:
    jacks = (Jack("IN", "in", "right", 86, 20, "6.35 TRS", "stereo"),)
    return replace(pair(), pedals=(pair().pedals[0], replace(pair().pedals[1], jacks=jacks)))


def midi() -> BoardPlan:
    jacks = (Jack("OUT", "midi-out", "left", 86), Jack("IN", "midi-in", "right", 86))
    plan = pair(carries="midi", length=20_000)
    return replace(plan, pedals=tuple(replace(p, jacks=jacks) for p in plan.pedals))


def crossing() -> BoardPlan:
    front = pedal("P4", at=(264, 0), depth=30, jacks=(Jack("OUT", "out", "rear", 36),), switches=())
    rear = pedal(
        "P5", at=(264, 200), depth=60, jacks=(Jack("IN", "in", "front", 36),), switches=(Point(36, 1),)
    )
    plan = stepped()
    link = replace(plan.links[0], ref="W2", source="P4.OUT", target="P5.IN")
    return replace(plan, pedals=(*plan.pedals[:2], front, rear), links=(*plan.links, link))


def near_dc() -> BoardPlan:
    load = pedal(
        "P3", at=(600, 165), width=60, depth=80, jacks=(Jack("DC", "power", "left", 10),), switches=()
    )
    source = brick(150, 165, depth=20, outlet_side="right", mains=None, outlets=(outlet("1"),))
    return beside(load, supplies=[source], feeds=[feed("S1.1", "P3.DC")])


LEDGER: list[tuple[str, str, BoardPlan]] = [
    ("C01", "unknown", pair(plug_to=None)),
    ("C02", "fault", pair(frame=WALL)),
    ("C03", "fault", pair(made=10)),
    ("C04", "fault", pair(route="under")),
    ("C05", "fault", pair(plug_to="J2", plugs=(plug_type(), plug_type("J2", connector="XLR")))),
    ("C06", "caution", pair(made=130)),
    ("C07", "caution", stereo()),
    ("C08", "caution", replace(pair(), stock=(StockLength("C1", 50),))),
    ("C09", "advice", pair(right=(500, 100), frame=SLOTTED)),
    ("C10", "caution", midi()),
    ("C11", "unknown", board(pedal("P1", at=(300, 100)), links=chain("G1", "P1"))),
    ("C12", "caution", crossing()),
    ("C13", "advice", stepped()),
    ("C14", "caution", beside(supplies=[brick(200, 200)])),
    ("C15", "caution", fed(200, current="ac")),
    ("C16", "advice", near_dc()),
    ("C17", "caution", wah(10)),
    ("C18", "advice", shared(3)),
    ("C19", "fault", pair(route="under", frame=frame(surface="slotted", rails=(Rail(0, 320),)))),
    ("C20", "caution", pair(route="under", frame=frame(surface="slotted", rails=(Rail(50, 320),)))),
    ("C21", "unknown", fed(200, current=None)),
    ("C22", "fault", pair(made=140, made_id="7K3M", made_test="failed")),
    ("C23", "unknown", pair(made=140, made_id="7K3M")),
]


@pytest.mark.parametrize(("rule", "severity", "plan"), LEDGER, ids=[rule for rule, _, _ in LEDGER])
def test_each_rule_speaks_in_its_severity(rule: str, severity: str, plan: BoardPlan) -> None:
    assert (rule, severity) in {(f.rule, f.severity) for f in compute_cables(plan).findings}


def test_the_table_tells_every_rule_and_severity_there_is() -> None:
    assert [(rule, row.severity) for rule, row in CABLE_RULES.items()] == [pair[:2] for pair in LEDGER]
    spoken = {(f.rule, f.severity) for _, _, plan in LEDGER for f in compute_cables(plan).findings}
    assert spoken <= {(rule, row.severity) for rule, row in CABLE_RULES.items()}


def test_every_rule_has_all_its_words() -> None:
    for row in CABLE_RULES.values():
        assert row.severity in SEVERITIES
        assert all((row.when, row.cure, row.basis))
        assert not row.when.endswith(".")
        assert row.cure.endswith(".")


def test_figures_in_words_are_those_of_the_checks() -> None:
    said = {rule: f"{row.when} {row.cure}" for rule, row in CABLE_RULES.items()}
    assert f"longer than {LONG_ON_TOP_MM} mm" in said["C09"]
    assert f"longer than {MIDI_MAX_MM // 1000} m" in said["C10"]
    assert f"{SHOE_WIDTH_MM} mm wide" in said["C13"]
    for rule in ("C14", "C15"):
        assert f"nearer than {BESIDE_MAINS_MM} mm" in said[rule]
        assert f"with {NEAR_MAINS_MM} mm between" in said[rule]
    assert f"nearer than {BESIDE_DC_MM} mm" in said["C16"]
    assert f"nearer than {FROM_SWITCHING_MM} mm" in said["C17"]
    assert PARALLEL_FROM_MM < BESIDE_MAINS_MM


def test_messages_name_what_blocks_and_never_call_anything_safe() -> None:
    (blocked,) = [f for f in compute_cables(pair(frame=WALL)).findings if f.rule == "C02"]
    assert "keep-out 1 (hinge) stands in it" in blocked.message
    texts = [f.message + f.cure for _, _, plan in LEDGER for f in compute_cables(plan).findings]
    texts += [row.when + row.cure for row in CABLE_RULES.values()]
    assert not any(" safe" in text for text in texts)


def test_findings_are_the_same_of_a_plan_read_again() -> None:
    for rule, _, plan in LEDGER:
        again = load_plan_text(json.dumps(dump_plan(plan)))
        assert rule in {f.rule for f in compute_cables(again).findings}
