"""What a comparison says of made cables: one sentence, whichever of its facts changed."""

import pytest

from boardshop.core.diff import compare_plans
from tests.core.cable_boards import pair

SEVEN = {"made": 300, "made_id": "7K3M", "made_test": "passed"}
NINE = {"made": 350, "made_id": "9ABC"}


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ({}, SEVEN, ["W1 is made cable 7K3M, 300 mm."]),
        (SEVEN, NINE, ["W1 is made cable 9ABC instead of 7K3M, 350 mm."]),
        (SEVEN, {}, ["W1: made cable 7K3M is no longer on it."]),
        (SEVEN, SEVEN, []),
        (SEVEN, SEVEN | {"made_test": "failed"}, ["W1: test of its made cable failed instead of passed."]),
        ({"made": 300}, {"made": 350}, ["W1: made as 350 mm instead of 300 mm."]),
    ],
)
def test_one_sentence_for_each_cable(before, after, said):
    assert [one.sentence for one in compare_plans(pair(**before), pair(**after))] == said
