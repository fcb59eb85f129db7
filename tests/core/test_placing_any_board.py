"""Placings of boards drawn by lot, judged by the checker that knows nothing of the search."""

import json

import pytest

from boardshop.ops.layout_instances import draw_board
from tests.core.placing_boards import draw_placing_board, place
from tests.core.placing_checker import judge

SHORT, LONG = range(8), range(1000, 2000)


@pytest.mark.parametrize("number", SHORT)
def test_every_answer_obeys_the_rules(number):
    document = draw_placing_board(number)
    assert judge(document, place(document)) == []


@pytest.mark.parametrize(("number", "fill"), [(8, 0.55), (12, 0.65), (16, 0.75)])
def test_answers_for_full_boards_obey_the_rules(number, fill):
    document = draw_board(number, fill, 5)
    assert judge(document, place(document)) == []


@pytest.mark.parametrize("number", [3, 7])
def test_the_same_board_and_seed_give_the_same_answer(number):
    document = draw_placing_board(number)
    first, again = (json.dumps(place(document, seed=number)) for _ in range(2))
    assert first == again


@pytest.mark.long
def test_no_rule_is_broken_in_a_thousand_answers():
    broken = {}
    for number in LONG:
        document = draw_placing_board(number)
        wrong = judge(document, place(document, seed=number))
        if wrong:
            broken[number] = wrong
    assert broken == {}
