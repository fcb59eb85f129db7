"""Where bodies, jacks and plugs are, against a raster turned by numpy and against hand-drawn cases."""

import numpy as np
import pytest

from boardshop.core.layout.geometry import (
    Box,
    body_box,
    clearance,
    is_nearer,
    jack_point,
    overlaps,
    plug_box,
    plug_end,
    room_inside,
    supply_box,
    switch_points,
)
from boardshop.core.plan import Jack, Place, Point
from tests.core.builders import pedal, plug_type, supply, under_frame

TURNS = (0, 90, 180, 270)
SIDES = ("left", "right", "front", "rear")


def paint(box: Box, size: int = 60) -> np.ndarray:
    """A raster [x, y] of one mm cells, true inside the box."""
    raster = np.zeros((size, size), dtype=bool)
    raster[box.x0 : box.x1, box.y0 : box.y1] = True
    return raster


def turn_raster(raster: np.ndarray, turn: int) -> np.ndarray:
    # rot90 turns from the first axis towards the second: from x to y is counter-clockwise seen from above.
    return np.rot90(raster, turn // 90, axes=(0, 1))


def extent(raster: np.ndarray) -> Box:
    x, y = np.nonzero(raster)
    return Box(int(x.min()), int(y.min()), int(x.max()) + 1, int(y.max()) + 1)


@pytest.mark.parametrize("turn", TURNS)
@pytest.mark.parametrize("side", SIDES)
@pytest.mark.parametrize("plug_width", [6, 7])
def test_a_turned_pedal_is_a_turned_raster(turn, side, plug_width):
    jack = Jack("IN", "in", side, 6)
    plug = plug_type(reach=5, width=plug_width)
    flat, turned = (
        pedal("P1", width=13, depth=17, jacks=(jack,), at=(20, 20, 0)),
        pedal("P1", width=13, depth=17, jacks=(jack,), at=(20, 20, turn)),
    )
    body, stick = paint(body_box(flat)), paint(plug_box(flat, jack, plug))
    body_after, stick_after = turn_raster(body, turn), turn_raster(stick, turn)
    # The raster turns about its own middle: shift it so that the body's corner is at the place again.
    corner = extent(body_after)
    moved = extent(stick_after).moved(20 - corner.x0, 20 - corner.y0)
    assert body_box(turned) == corner.moved(20 - corner.x0, 20 - corner.y0)
    assert plug_box(turned, jack, plug) == moved


@pytest.mark.parametrize(
    ("side", "box", "end"),
    [
        ("right", Box(173, 239, 187, 261), Point(187, 250)),
        ("left", Box(86, 239, 100, 261), Point(86, 250)),
        ("rear", Box(139, 330, 161, 344), Point(150, 344)),
        ("front", Box(139, 186, 161, 200), Point(150, 186)),
    ],
)
def test_a_plug_stands_out_from_the_middle_of_its_jack(side, box, end):
    jack = Jack("IN", "in", side, 50)
    standing = pedal("P1", at=(100, 200), jacks=(jack,))
    assert plug_box(standing, jack, plug_type(reach=14, width=22)) == box
    assert plug_end(standing, jack, plug_type(reach=14, width=22)) == end


def test_odd_plug_widths_are_rounded_outward():
    jack = Jack("IN", "in", "rear", 10)
    assert plug_box(pedal("P1", at=(0, 0), jacks=(jack,)), jack, plug_type(reach=14, width=13)).width == 14


@pytest.mark.parametrize("turn", TURNS)
def test_the_end_of_a_plug_is_the_middle_of_its_outer_edge(turn):
    jack = Jack("OUT", "out", "left", 40)
    standing = pedal("P1", at=(100, 100, turn), jacks=(jack,))
    start, end, box = (
        jack_point(standing, jack),
        plug_end(standing, jack, plug_type()),
        plug_box(standing, jack, plug_type()),
    )
    assert abs(end.x - start.x) + abs(end.y - start.y) == 14
    assert (start.x + end.x, start.y + end.y) == (box.x0 + box.x1, box.y0 + box.y1)


def test_a_quarter_turn_counter_clockwise_brings_the_right_side_to_the_rear():
    jack = Jack("IN", "in", "right", 30)
    # Unturned the jack is 30 mm from the front on the right; turned it is 30 mm from the right on the rear.
    assert jack_point(pedal("P1", at=(0, 0, 90), jacks=(jack,)), jack) == Point(130 - 30, 73)


def test_switches_turn_with_the_body():
    assert switch_points(pedal("P1", at=(10, 10, 180), switches=(Point(36, 25),))) == (Point(47, 115),)
    assert switch_points(pedal("P1", switches=(Point(36, 25),))) == ()


def test_another_place_can_be_tried():
    assert body_box(pedal("P1", at=(0, 0)), Place(5, 6, 90)) == Box(5, 6, 135, 79)
    assert body_box(pedal("P1"), Place(5, 6)) == Box(5, 6, 78, 136)


def test_what_is_not_recorded_has_no_geometry():
    no_side, no_offset = Jack("IN", "in", None, 5), Jack("IN", "in", "rear", None)
    placed = pedal("P1", at=(0, 0))
    assert body_box(pedal("P1")) is None
    assert jack_point(placed, no_side) is None
    assert plug_end(placed, no_offset, plug_type()) is None
    assert plug_box(placed, Jack("IN", "in", "rear", 5), plug_type(width=None)) is None
    assert plug_end(placed, Jack("IN", "in", "rear", 5), plug_type(width=None)) == Point(5, 144)


def test_a_supply_under_the_frame_turns_too():
    assert supply_box(under_frame(supply(), 10, 20, 90)) == Box(10, 20, 100, 180)
    assert supply_box(supply()) is None


@pytest.mark.parametrize(("shift", "apart", "overlapping"), [(9, -1, True), (10, 0, False), (11, 1, False)])
def test_clearance_is_the_free_distance(shift, apart, overlapping):
    one, other = Box(0, 0, 10, 10), Box(shift, 3, shift + 10, 13)
    assert clearance(one, other) == clearance(other, one) == apart
    assert overlaps(one, other) is overlapping


@pytest.mark.parametrize("gap", [0, 1, 4, 5, 6])
@pytest.mark.parametrize(("x", "y"), [(15, 0), (-15, 0), (0, 15), (0, -15), (14, 15), (15, 14), (4, -3)])
def test_boxes_are_nearer_where_their_clearance_is_less(x, y, gap):
    one, other = Box(0, 0, 10, 10), Box(x, y, x + 10, y + 10)
    assert is_nearer(one, other, gap) == (clearance(one, other) < gap)


def test_random_boxes_overlap_exactly_where_their_rasters_do():
    draw = np.random.default_rng(7)
    for _ in range(300):
        one, other = (
            Box(int(x), int(y), int(x + w), int(y + d))
            for x, y, w, d in draw.integers((0, 0, 1, 1), (40, 40, 20, 20), (2, 4))
        )
        assert overlaps(one, other) == bool((paint(one) & paint(other)).any())
        assert overlaps(one, other) == (clearance(one, other) < 0)


def test_room_inside_is_the_nearest_edge():
    assert room_inside(Box(3, 5, 8, 9), Box(0, 0, 10, 10)) == 1
    assert room_inside(Box(-4, 5, 8, 9), Box(0, 0, 10, 10)) == -4
