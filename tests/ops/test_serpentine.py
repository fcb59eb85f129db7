"""The placing in rows: it obeys the rules, goes there and back, and says when there is no room."""

import json

import pytest

from boardshop.core.boardfile import load_plan_text
from boardshop.ops.layout_instances import draw_board
from boardshop.ops.serpentine import place_in_rows
from tests.core.placing_checker import list_violations


def places_of(plan):
    return {p.ref: {"x": p.place.x, "y": p.place.y, "turn": p.place.turn} for p in plan.pedals}


@pytest.mark.parametrize(("number", "seed"), [(8, 2), (12, 0), (12, 3)])
def test_what_it_places_breaks_no_rule(number, seed):
    document = draw_board(number, 0.55, seed)
    placed = place_in_rows(load_plan_text(json.dumps(document).encode()))
    assert placed is not None
    assert list_violations(document, places_of(placed)) == []


def test_it_goes_there_and_back():
    """Where the signal arrives on the right: two in front from the right, two behind from the left."""
    plain = {"kind": "boost", "width": 90, "depth": 100}
    document = {
        "format": "boardshop-board",
        "version": 1,
        "frame": {"width": 190, "depth": 240},
        "pedals": [{"ref": f"P{n}"} | plain for n in (1, 2, 3, 4)],
    }
    placed = place_in_rows(load_plan_text(json.dumps(document).encode()))
    assert placed is not None
    spots = [(p.place.x, p.place.y) for p in placed.pedals if p.place]
    assert spots == [(100, 0), (5, 0), (0, 120), (95, 120)]


def test_it_says_when_there_is_no_room():
    assert place_in_rows(load_plan_text(json.dumps(draw_board(8, 0.75, 0)).encode())) is None
