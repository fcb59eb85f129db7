"""Ways around boxes against a search of every millimetre and against all shortest ways written out."""

import random
from collections import deque

import pytest

from boardshop.core.cables.routing import find_blockers, find_way, floor_around
from boardshop.core.layout.geometry import Box
from boardshop.core.plan import Point

# An independent reference: the plain grid of every millimetre.


def can_step(x: int, y: int, dx: int, dy: int, boxes: list[Box], floor: Box) -> bool:
    to_x, to_y = x + dx, y + dy
    if not (floor.x0 <= to_x <= floor.x1 and floor.y0 <= to_y <= floor.y1):
        return False
    mid_x, mid_y = x + dx / 2, y + dy / 2
    return not any(b.x0 < mid_x < b.x1 and b.y0 < mid_y < b.y1 for b in boxes)


def distances_to(end: Point, boxes: list[Box], floor: Box) -> dict[tuple[int, int], int]:
    """Breadth first from the end over every millimetre."""
    found = {(end.x, end.y): 0}
    queue = deque(found)
    while queue:
        x, y = queue.popleft()
        for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1)):
            to = (x + dx, y + dy)
            if to not in found and can_step(x, y, dx, dy, boxes, floor):
                found[to] = found[x, y] + 1
                queue.append(to)
    return found


def all_corner_lists(start: Point, end: Point, boxes: list[Box], floor: Box) -> list[tuple]:
    """The corners of every shortest way there is."""
    to_go = distances_to(end, boxes, floor)
    lists, open_ways = [], [((start.x, start.y), None, ())]
    while open_ways:
        (x, y), heading, corners = open_ways.pop()
        if (x, y) == (end.x, end.y):
            lists.append(corners)
        for step in ((1, 0), (-1, 0), (0, 1), (0, -1)):
            to = (x + step[0], y + step[1])
            if to_go.get(to) == to_go[x, y] - 1 and can_step(x, y, *step, boxes, floor):
                more = corners if heading in (None, step) else (*corners, (x, y))
                open_ways.append((to, step, more))
    return lists


def random_scene(chance: random.Random, size: int, count: int) -> tuple[Point, Point, list[Box], Box]:
    def box() -> Box:
        x, y = chance.randint(0, size - 1), chance.randint(0, size - 1)
        return Box(
            x, y, min(size, x + chance.randint(1, size // 2)), min(size, y + chance.randint(1, size // 2))
        )

    def spot() -> Point:
        return Point(chance.randint(0, size), chance.randint(0, size))

    return spot(), spot(), [box() for _ in range(count)], Box(0, 0, size, size)


@pytest.mark.parametrize("seed", range(150))
def test_length_is_that_of_a_search_of_every_millimetre(seed):
    chance = random.Random(seed)
    start, end, boxes, floor = random_scene(chance, size=chance.randint(12, 70), count=chance.randint(1, 12))
    way = find_way(start, end, boxes, floor)
    shortest = distances_to(end, boxes, floor).get((start.x, start.y))
    covered = any(b.x0 < p.x < b.x1 and b.y0 < p.y < b.y1 for b in boxes for p in (start, end))
    assert (way.length if way else None) == (None if covered else shortest)


@pytest.mark.parametrize("seed", range(300))
def test_best_of_all_shortest_ways_on_a_tiny_floor(seed):
    chance = random.Random(10_000 + seed)
    while True:
        start, end, boxes, floor = random_scene(chance, size=chance.randint(3, 7), count=chance.randint(0, 5))
        if (start.x, start.y) in distances_to(end, boxes, floor):
            break
    best = min(all_corner_lists(start, end, boxes, floor), key=lambda corners: (len(corners), corners))
    assert find_way(start, end, boxes, floor).corners == best


@pytest.mark.parametrize("seed", range(40))
def test_a_way_does_not_depend_on_the_order_of_the_boxes(seed):
    chance = random.Random(20_000 + seed)
    start, end, boxes, floor = random_scene(chance, size=60, count=9)
    shuffled = chance.sample(boxes, len(boxes))
    assert find_way(start, end, boxes, floor) == find_way(start, end, shuffled, floor)


FLOOR = Box(0, 0, 100, 50)


def test_straight_ahead_has_no_corner():
    way = find_way(Point(10, 20), Point(60, 20), [], FLOOR)
    assert (way.length, way.corners) == (50, ())


def test_of_two_ways_with_one_corner_the_smaller_list():
    way = find_way(Point(60, 30), Point(10, 20), [], FLOOR)
    assert (way.length, way.corners) == (60, ((10, 30),))


def test_around_a_box_along_its_edge():
    #   S [####] E   front and rear are equally far: 10 down or 10 up
    way = find_way(Point(10, 20), Point(60, 20), [Box(20, 10, 40, 30)], FLOOR)
    assert way.length == 70
    assert way.corners == ((10, 10), (60, 10))


def test_between_two_boxes_that_touch():
    boxes = [Box(20, 0, 40, 25), Box(20, 25, 40, 50)]
    assert find_way(Point(10, 25), Point(60, 25), boxes, FLOOR).corners == ()


def test_a_wall_that_overlaps_blocks_and_is_named():
    boxes = [Box(70, 0, 80, 10), Box(20, -5, 40, 26), Box(20, 25, 40, 55)]
    assert find_way(Point(10, 25), Point(60, 25), boxes, FLOOR) is None
    assert find_blockers(Point(10, 25), Point(60, 25), boxes, FLOOR) == (1, 2)


def test_a_box_over_an_end_blocks():
    boxes = [Box(70, 0, 80, 10), Box(50, 15, 65, 30)]
    assert find_way(Point(10, 25), Point(60, 25), boxes, FLOOR) is None
    assert find_blockers(Point(10, 25), Point(60, 25), boxes, FLOOR) == (1,)


@pytest.mark.parametrize(("x", "found"), [(49, True), (50, True), (51, False)])
def test_an_end_may_touch_a_box_but_not_lie_in_it(x, found):
    way = find_way(Point(10, 25), Point(x, 25), [Box(50, 15, 65, 30)], FLOOR)
    assert (way is not None) == found


def test_both_ends_in_one_spot():
    assert find_way(Point(10, 10), Point(10, 10), [], FLOOR).length == 0


def test_both_ends_in_one_spot_under_a_box():
    box = Box(0, 0, 20, 20)
    assert find_way(Point(10, 10), Point(10, 10), [box], FLOOR) is None
    assert find_blockers(Point(10, 10), Point(10, 10), [box], FLOOR) == (0,)


def test_the_floor_reaches_to_ends_beyond_the_frame():
    assert floor_around(100, 50, [Point(-5, 10), Point(50, 60)]) == Box(-5, 0, 100, 60)
    assert floor_around(100, 50, [Point(5, 10)]) == FLOOR


def test_a_box_that_sticks_out_over_the_floor_cannot_be_passed_outside():
    boxes = [Box(20, -5, 40, 40)]
    assert find_way(Point(10, 5), Point(60, 5), boxes, FLOOR).corners == ((10, 40), (60, 40))
