"""Made cables on a board: still reaching after a pedal has moved, and tested or not.

W1 of `pair()` runs 99 mm and takes 123 mm with both plugs; a new one is cut to 135 mm.
"""

import json

import pytest

from boardshop.core.boardfile import RefusedBoardFile, dump_plan, load_plan_text
from boardshop.core.cables.made import chain_place, list_reaches
from boardshop.core.plan import Amp, Source
from tests.core.builders import board, chain, pedal
from tests.core.cable_boards import findings_of, pair


@pytest.mark.parametrize(
    ("made", "state", "spare"),
    [
        (122, "too short", -1),
        (123, "no slack", 0),
        (134, "no slack", 11),
        (135, "reaches", 12),
        (136, "reaches", 13),
    ],
)
def test_reach_agrees_with_the_findings(made, state, spare):
    plan = pair(made=made, made_id="7K3M")
    reach = list_reaches(plan)["w1"]
    assert (reach.state, reach.spare_mm) == (state, spare)
    assert bool(findings_of(plan, "C03")) == (state == "too short")
    assert bool(findings_of(plan, "C06")) == (state == "no slack")


def test_a_moved_pedal_tells_whether_its_cable_still_reaches():
    assert list_reaches(pair(made=140))["w1"].said == "reaches, 17 mm to spare"
    assert list_reaches(pair(left=(60, 100), made=140))["w1"].said == "does not reach, 23 mm too short"
    assert list_reaches(pair(left=None, made=140))["w1"].said == "not known whether it reaches"


def test_a_finding_names_the_cable_by_its_id():
    (finding,) = findings_of(pair(made=122, made_id="7K3M"), "C03")
    assert finding.message.startswith("W1 from P1.OUT to P2.IN, cable 7K3M, was made 122 mm long")
    (finding,) = findings_of(pair(made=122), "C03")
    assert finding.message.startswith("W1 from P1.OUT to P2.IN was made 122 mm long")


@pytest.mark.parametrize(
    ("values", "rules"),
    [
        ({"made": 140}, []),
        ({"made": 140, "made_id": "7K3M", "made_test": "passed"}, []),
        ({"made": 140, "made_id": "7K3M"}, [("C23", "unknown")]),
        ({"made": 140, "made_id": "7K3M", "made_test": "failed"}, [("C22", "fault")]),
        ({"made_test": "failed"}, [("C22", "fault")]),
    ],
)
def test_a_cable_that_failed_is_a_fault_and_an_untested_one_is_unknown(values, rules):
    plan = pair(**values)
    found = [*findings_of(plan, "C22"), *findings_of(plan, "C23")]
    assert [(one.rule, one.severity) for one in found] == rules
    assert all(one.subjects == ("W1",) for one in found)


def test_id_and_test_stand_in_the_board_file():
    plan = pair(made=140, made_id="7K3M", made_test="passed")
    document = dump_plan(plan)
    assert document["links"][0]["made_id"] == "7K3M"
    assert document["links"][0]["made_test"] == "passed"
    assert load_plan_text(json.dumps(document).encode()) == plan
    assert not {"made_id", "made_test"} & dump_plan(pair())["links"][0].keys()


@pytest.mark.parametrize("values", [{"made_test": "fine"}, {"made_id": " "}, {"made_id": 7}])
def test_other_words_are_refused(values):
    document = dump_plan(pair(made=140))
    document["links"][0] |= values
    with pytest.raises(RefusedBoardFile):
        load_plan_text(json.dumps(document).encode())


def test_where_in_the_chain_a_cable_is():
    plan = board(
        pedal("P1"),
        pedal("P2"),
        links=chain("G1", "P1", "P2", "A1"),
        sources=(Source("G1"),),
        amps=(Amp("A1"),),
    )
    assert [chain_place(plan, link) for link in plan.links] == ["first", "between", "last"]
