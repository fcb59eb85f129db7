"""What the bench of placing measures: bodies alone, the narrowest frame, the serpentine's cable."""

import pytest

from boardshop.core.plan import BoardPlan, Frame, Pedal, Place
from boardshop.ops.bench_placing import (
    bodies_alone,
    cable_of,
    load_board,
    narrowest_packed,
    narrowest_searched,
)
from boardshop.ops.layout_instances import draw_board
from tests.core.placing_checker import measure


def blocks(*sizes):
    pedals = [Pedal(f"P{n}", "other", width, depth) for n, (width, depth) in enumerate(sizes, start=1)]
    return bodies_alone(BoardPlan(Frame(1000, 100), pedals=tuple(pedals)))


def test_bodies_alone_are_rectangles_and_nothing_else():
    plan = bodies_alone(load_board(12, 0.55, 0))
    assert len(plan.pedals) == 12
    assert not plan.links
    assert not any(pedal.jacks or pedal.switches or pedal.treadle or pedal.pinned for pedal in plan.pedals)
    assert (plan.rules.gap_mm, plan.frame.keepouts) == (0, ())


@pytest.mark.parametrize(
    ("sizes", "narrowest"),
    [
        ([(50, 100), (30, 100)], 80),
        ([(50, 60), (50, 40)], 50),
        ([(50, 60), (50, 41)], 100),
    ],
)
def test_the_narrowest_frame(sizes, narrowest):
    plan = blocks(*sizes)
    area = sum(width * depth for width, depth in sizes)
    packed = narrowest_packed(plan, area)
    assert -(-packed // 10) * 10 == packed == narrowest
    assert narrowest_searched(plan, area, packed + 20) == narrowest
    assert narrowest_searched(plan, area, packed - 10) == narrowest


def test_the_cable_of_a_placing_is_that_of_the_board_file():
    document, plan = draw_board(8, 0.55, 2), load_board(8, 0.55, 2)
    spots = {pedal.ref: Place(90 * n, 10 * n, 0) for n, pedal in enumerate(plan.pedals)}
    places = {ref: {"x": spot.x, "y": spot.y, "turn": spot.turn} for ref, spot in spots.items()}
    assert cable_of(plan, spots) == measure(document, places)[1]
