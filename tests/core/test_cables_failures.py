"""Failures counted: every one once in each table, and no share from fewer than 20 cables."""

import random

import pytest

from boardshop.core.cables.failures import CableRecord, FailureCount, FaultRecord, count_failures

CABLES = (
    CableRecord("2A", "Flat", "Flat", ("first",)),
    CableRecord("2B", "Flat", "Straight", ("between", "last")),
    CableRecord("2C", "", "Straight"),
)
FAULTS = (
    FaultRecord("2A", "A", "joint", "first"),
    FaultRecord("2B", "B", "bend break", "last"),
    FaultRecord("2B", "middle", "crush", "between"),
    FaultRecord("2C", "A"),
    FaultRecord("2C"),
    FaultRecord("2B", "A", "jack was guilty", "last"),
)


def rows(counts):
    return {one.name: (one.cables, one.failures) for one in counts}


def test_by_plug_end_and_place():
    found = count_failures(CABLES, FAULTS)
    assert (found.cables, found.failures, found.jacks_guilty) == (3, 5, 1)
    assert rows(found.by_plug) == {
        "Flat": (2, 1),
        "plug not recorded": (1, 1),
        "Straight": (2, 1),
        "in the middle": (3, 1),
        "end not found": (3, 1),
    }
    assert rows(found.by_end) == {
        "end A": (3, 2),
        "end B": (3, 1),
        "in the middle": (3, 1),
        "end not found": (3, 1),
    }
    assert rows(found.by_place) == {"first": (1, 1), "last": (1, 1), "between": (1, 1), "on no board": (1, 2)}


@pytest.mark.parametrize(("cables", "percent"), [(19, None), (20, 15), (21, 14)])
def test_fewer_than_twenty_are_not_judged_by(cables, percent):
    assert FailureCount("Flat", cables, 3).percent == percent
    assert FailureCount("Flat", cables, 3).is_too_few == (percent is None)


def test_faults_of_other_cables_are_left_aside():
    assert count_failures(CABLES, [FaultRecord("9Z", "A", "joint")]).failures == 0


def test_no_failure_is_lost_or_counted_twice():
    dice = random.Random(4)
    codes = [cable.code for cable in CABLES]
    for _ in range(200):
        faults = [
            FaultRecord(
                dice.choice(codes),
                dice.choice(("A", "B", "middle", "")),
                dice.choice(("joint", "crush", "", "jack was guilty")),
                dice.choice(("first", "last", "between", "")),
            )
            for _ in range(dice.randrange(12))
        ]
        found = count_failures(CABLES, faults)
        sums = {sum(row.failures for row in table) for table in (found.by_plug, found.by_end, found.by_place)}
        assert sums == {found.failures}
        assert found.failures + found.jacks_guilty == len(faults)
