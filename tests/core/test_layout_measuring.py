"""Distances in plan, by hand and against a search of every pair of points."""

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boardshop.core.layout.geometry import Box, clearance
from boardshop.core.layout.measuring import (
    EDGES,
    NeedsEdge,
    UnknownThing,
    edge_of,
    find_box,
    list_things,
    measure_between,
    measure_boxes,
)
from boardshop.core.plan import Keepout, Point, Rail
from tests.core import builders as b

ONE = Box(0, 0, 10, 10)


@pytest.mark.parametrize(("left", "x"), [(9, -1), (10, 0), (11, 1)])
def test_beside_each_other_below_at_and_above_touching(left: int, x: int) -> None:
    found = measure_boxes(ONE, Box(left, 0, left + 10, 10))
    assert (found.x, found.y) == (x, -10)
    assert found.overlap == (x < 0)
    assert found.least_squared == max(x, 0) ** 2


def test_over_a_corner_the_straight_line_is_pythagorass() -> None:
    found = measure_boxes(ONE, Box(13, 14, 20, 20))
    assert (found.x, found.y, found.least_squared, found.least_tenths) == (3, 4, 25, 50)
    assert (found.start, found.end) == (Point(10, 10), Point(13, 14))


def test_a_straight_line_is_rounded_down() -> None:
    # The diagonal of a square of 1 mm is 1.414 mm.
    assert measure_boxes(ONE, Box(11, 11, 12, 12)).least_tenths == 14


def test_the_line_stands_in_the_middle_of_what_lies_side_by_side() -> None:
    found = measure_boxes(ONE, Box(15, 4, 20, 8))
    assert (found.start, found.end) == (Point(10, 6), Point(15, 6))


def test_two_edges_measure_between_lines() -> None:
    found = measure_boxes(edge_of(ONE, "left"), edge_of(Box(50, 0, 90, 10), "right"))
    assert (found.x, found.y, found.overlap) == (90, -10, False)


def test_edges_that_cross_are_nothing_apart_and_share_no_area() -> None:
    found = measure_boxes(edge_of(ONE, "left"), Box(-5, 2, 5, 4))
    assert (found.least_squared, found.overlap) == (0, False)


sizes = st.integers(0, 6)
boxes = st.builds(lambda x, y, w, d: Box(x, y, x + w, y + d), sizes, sizes, sizes, sizes)


@given(boxes, boxes)
def test_no_two_points_are_nearer(one: Box, other: Box) -> None:
    def points(box: Box) -> list[tuple[int, int]]:
        return list(product(range(box.x0, box.x1 + 1), range(box.y0, box.y1 + 1)))

    found = measure_boxes(one, other)
    nearest = min((x - u) ** 2 + (y - v) ** 2 for x, y in points(one) for u, v in points(other))
    assert found.least_squared == nearest
    assert measure_boxes(other, one).least_squared == nearest


@given(boxes, boxes)
def test_what_is_free_is_the_clearance_of_the_findings(one: Box, other: Box) -> None:
    found = measure_boxes(one, other)
    if one.area and other.area and not found.overlap:
        assert clearance(one, other) == max(found.x, found.y)


def test_things_are_found_by_name_without_case() -> None:
    frame = b.frame(rails=(Rail(40, 60),), keepouts=(Keepout(10, 300, 50, 20, "hand hole"),))
    supply = b.under_frame(b.supply("S1"), 300, 60)
    plan = b.wired_board(
        b.pedal("P1", at=(100, 20)),
        b.pedal("P2", at=(300, 20)),
        b.pedal("P3"),
        frame=frame,
        supplies=(supply,),
    )
    names = [thing.name for thing in list_things(plan)]
    assert names[:6] == ["frame edge", "P1", "P2", "S1", "keepout 1", "rail 1"]
    assert set(names[6:]) == {"P1.IN", "P1.OUT", "P2.IN", "P2.OUT"}
    assert find_box(plan, "p1:left") == Box(100, 20, 100, 150)
    assert find_box(plan, "S1") == Box(300, 60, 460, 150)


def test_from_a_pedal_to_the_frames_edge() -> None:
    plan = b.board(b.pedal("P1", at=(30, 20)))
    assert measure_between(plan, "P1", "frame edge:left").x == 30
    assert measure_between(plan, "P1:rear", "frame edge:rear").y == 320 - 150


@pytest.mark.parametrize("name", ["P9", "P1:top", "", ":left", "P2"])
def test_what_is_not_there_is_refused(name: str) -> None:
    plan = b.board(b.pedal("P1", at=(30, 20)), b.pedal("P2"))
    with pytest.raises(UnknownThing):
        measure_between(plan, "P1", name)


def test_the_frame_is_measured_from_an_edge() -> None:
    plan = b.board(b.pedal("P1", at=(30, 20)))
    with pytest.raises(NeedsEdge):
        measure_between(plan, "P1", "frame edge")


@pytest.mark.parametrize("edge", EDGES)
def test_an_edge_has_no_area_and_lies_on_its_box(edge: str) -> None:
    line = edge_of(Box(1, 2, 5, 9), edge)
    assert line.area == 0
    assert measure_boxes(line, Box(1, 2, 5, 9)).least_squared == 0
