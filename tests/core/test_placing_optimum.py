"""Placings called the best there is, against every placing tried by hand and judged by the checker."""

from functools import cache
from itertools import product
from random import Random

import pytest

from tests.core.placing_boards import place
from tests.core.placing_checker import judge, list_violations, measure


def two_tiny_pedals(number):
    """On a frame so small that every pair of places can be tried."""
    dice = Random(number)
    pedals = [tiny_pedal(dice, ref) for ref in ("P1", "P2")]
    links = [("G1.OUT", "P1.IN"), ("P1.OUT", "P2.IN"), ("P2.OUT", "A1.IN")]
    return {
        "format": "boardshop-board",
        "version": 1,
        "frame": {"width": dice.randint(17, 22), "depth": dice.randint(8, 15)},
        "pedals": pedals,
        "plugs": [{"ref": "J1", "connector": "6.35 TS", "reach": 2, "width": 3}],
        "sources": [{"ref": "G1"}],
        "amps": [{"ref": "A1"}],
        "links": [
            {"ref": f"W{n}", "from": a, "to": b, "plug_from": "J1", "plug_to": "J1"}
            for n, (a, b) in enumerate(links)
        ],
        "rules": {"gap_mm": 1, "plug_gap_mm": 1, "switch_gap_mm": 7, "switch_min_mm": 4},
    }


def tiny_pedal(dice, ref):
    width, depth = dice.randint(4, 7), dice.randint(4, 7)
    sides = dice.choice([("right", "left"), ("rear", "left"), ("right", "front")])
    jacks = [
        {"name": name, "role": role, "side": side, "offset": dice.randint(1, 3)}
        for name, role, side in zip(("IN", "OUT"), ("in", "out"), sides, strict=True)
    ]
    pedal = {"ref": ref, "kind": "boost", "width": width, "depth": depth, "jacks": jacks}
    return pedal | {
        "switches": [{"x": 2, "y": 1}],
        "use": dice.randint(0, 5),
        "turns": dice.choice([[0], [90]]),
    }


@cache
def least_score(number):
    """By trying every pair of places; None where none is right."""
    document, spots = two_tiny_pedals(number), []
    frame = document["frame"]
    for pedal in document["pedals"]:
        corners = product(range(frame["width"]), range(frame["depth"]), pedal["turns"])
        places = [{pedal["ref"]: {"x": x, "y": y, "turn": turn}} for x, y, turn in corners]
        spots.append([one for one in places if not list_violations(document, one)])
    pairs = (one | other for one, other in product(*spots))
    return min(
        (measure(document, pair)[0] for pair in pairs if not list_violations(document, pair)), default=None
    )


@pytest.mark.parametrize("number", range(8))
def test_the_best_is_the_best_of_all(number):
    document = two_tiny_pedals(number)
    answer, least = place(document), least_score(number)
    assert judge(document, answer) == []
    if least is None:
        assert answer["left_out"]
    else:
        assert (answer["left_out"], answer["score"], answer["optimal"]) == ([], least, True)


def test_among_them_are_boards_with_and_without_room():
    rooms = {least_score(number) is None for number in range(8)}
    assert rooms == {True, False}
