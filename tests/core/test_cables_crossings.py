"""Where two ways cross, touch or run together; each case is drawn beside it, rear at the top."""

import random

import pytest

from boardshop.core.cables.crossings import find_contacts, list_crossings, list_meetings
from boardshop.core.plan import Jack
from tests.core.builders import board, link, pedal

STRAIGHT = [(0, 5), (10, 5)]
STAIRS = [(0, 0), (5, 0), (5, 9)]


@pytest.mark.parametrize(
    ("one", "other", "contacts"),
    [
        # ──┼──
        (STRAIGHT, [(5, 0), (5, 10)], [(0, (5, 5))]),
        # ──┬──  ends on it
        (STRAIGHT, [(5, 0), (5, 5)], [(0, None)]),
        # ┌╧══╧┐ comes and goes on one side
        (STRAIGHT, [(4, 0), (4, 5), (8, 5), (8, 0)], [(4, None)]),
        # comes from the front, leaves to the rear
        (STRAIGHT, [(4, 0), (4, 5), (8, 5), (8, 9)], [(4, (8, 5))]),
        # the same, laid the other way round
        (STRAIGHT, [(8, 9), (8, 5), (4, 5), (4, 0)], [(4, (8, 5))]),
        # both turn the corner together, and part as they came
        (STAIRS, [(2, -3), (2, 0), (5, 0), (5, 4), (9, 4)], [(7, None)]),
        (STAIRS, [(2, 3), (2, 0), (5, 0), (5, 4), (9, 4)], [(7, (5, 4))]),
        # corner against corner
        ([(0, 0), (5, 0), (5, 5)], [(10, 0), (5, 0), (5, -5)], [(0, None)]),
        # one through the corner of the other
        ([(0, 0), (5, 0), (5, 5)], [(5, -5), (5, 0), (9, 0)], [(0, None)]),
        # twice
        (STRAIGHT, [(2, 0), (2, 8), (7, 8), (7, 0)], [(0, (2, 5)), (0, (7, 5))]),
        # nothing
        (STRAIGHT, [(0, 6), (10, 6)], []),
    ],
)
def test_contacts(one: list, other: list, contacts: list) -> None:
    assert list(find_contacts(one, other)) == contacts
    assert {length for length, _ in find_contacts(other, one)} == {length for length, _ in contacts}
    assert [bool(at) for _, at in find_contacts(other, one)] == [bool(at) for _, at in contacts]


# An independent reference: two closed ways through the same area cross an even number of times; so the parity
# of crossings between two ways from left to right edge tells which of them is in front at each end.


def wander(chance: random.Random, start_y: int, end_y: int) -> list[tuple[int, int]]:
    """From the left edge to the right one, going only to the right, along whole heights."""
    points, x, y = [(0, start_y)], 0, start_y
    while x < 40:
        x = min(40, x + chance.randint(1, 9))
        points.append((x, y))
        to = end_y if x == 40 else chance.randint(1, 8) * 2
        if to != y:
            points.append((x, to))
            y = to
    return [point for at, point in enumerate(points) if at == 0 or point != points[at - 1]]


@pytest.mark.parametrize("number", range(300))
def test_crossings_are_odd_where_the_two_ways_change_places(number: int) -> None:
    chance = random.Random(number)
    low, high = sorted(chance.sample(range(-3, 20, 3), 2))
    swapped = chance.random() < 0.5
    ends = (high, low) if swapped else (low, high)
    # Both end beyond the edge, so that neither ends on the other.
    one = [(-5, low), *wander(chance, low, ends[0]), (45, ends[0])]
    other = [(-5, high), *wander(chance, high, ends[1]), (45, ends[1])]
    crossings = [at for _, at in find_contacts(one, other) if at is not None]
    assert len(crossings) % 2 == swapped
    assert [bool(at) for _, at in find_contacts(other, one)].count(True) == len(crossings)


def cross() -> tuple:
    """W1 from P1 in front to P2 at the rear, W2 from left to right through between them."""
    out, into = (Jack("OUT", "out", "rear", 36),), (Jack("IN", "in", "front", 36),)
    beside = (Jack("OUT", "out", "right", 65),), (Jack("IN", "in", "left", 65),)
    stands = (
        pedal("P1", at=(264, 0), depth=60, jacks=out, switches=()),
        pedal("P2", at=(264, 240), depth=60, jacks=into, switches=()),
        pedal("P3", at=(20, 90), jacks=beside[0], switches=()),
        pedal("P4", at=(480, 90), jacks=beside[1], switches=()),
    )
    return stands, (link("W1", "P1.OUT", "P2.IN"), link("W2", "P3.OUT", "P4.IN"))


def test_crossings_of_a_board() -> None:
    stands, links = cross()
    (crossing,) = list_crossings(board(*stands, links=links))
    assert (crossing.one, crossing.other, crossing.route, crossing.at) == ("W1", "W2", "top", (300, 155))


def test_runs_on_the_two_sides_of_the_top_never_cross() -> None:
    stands, (one, _) = cross()
    under = link("W2", "P3.OUT", "P4.IN", route="under")
    assert list_crossings(board(*stands, links=(one, under))) == ()
    both = (link("W1", "P1.OUT", "P2.IN", route="under"), under)
    assert [crossing.route for crossing in list_crossings(board(*stands, links=both))] == ["under"]


def test_what_two_runs_share_is_summed() -> None:
    stands, _ = cross()
    twice = (link("W1", "P3.OUT", "P4.IN"), link("W2", "P3.OUT", "P4.IN"))
    (met,) = list_meetings(board(*stands, links=twice))
    assert (met.shared_mm, met.crossings) == (480 - 93 - 28, ())
