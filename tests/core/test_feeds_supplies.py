"""Which supply suits a board: the ranking, what is left free, room under the frame, mains."""

from dataclasses import replace

import pytest

from boardshop.core.feeds.room import do_fit_under, first_fitting_y
from boardshop.core.feeds.supplies import choose_beside, choose_instead
from boardshop.core.plan import BoardPlan, Mains, Under, Venue
from tests.core.builders import board, draws, feed, frame, outlet, pedal, supply

EUROPE, AMERICA = Venue(230_000, 50), Venue(120_000, 60)
"""Nominal mains by EN 50160 and ANSI C84.1."""


def three_pedals(**parts) -> BoardPlan:
    pedals = [draws(pedal(f"P{n}"), rated=ma, share="never") for n, ma in enumerate((20, 60, 180), 1)]
    return board(*pedals, **parts)


def of(model: str, *limits: int, **facts):
    outlets = [outlet(str(n), max_ma=ma) for n, ma in enumerate(limits, 1)]
    return supply("X1", *outlets, model=model, **facts)


SMALL = of("small", 100, 100, weight=300, price=50.0)
ENOUGH = of("enough", 100, 100, 300, weight=700, price=120.0)
LARGE = of("large", 100, 100, 300, 300, 300, weight=900, price=200.0)


def names(plan: BoardPlan, *catalogue, **options) -> list[tuple[str, ...]]:
    found = choose_instead(plan, catalogue, **options)
    return [tuple(catalogue[n].model for n in one.models) for one in found]


def test_what_feeds_all_comes_first_and_then_the_lighter():
    assert names(three_pedals(), LARGE, SMALL, ENOUGH)[:2] == [("enough",), ("large",)]


def test_a_pair_is_made_where_none_alone_does_it():
    strong = of("strong", 300, weight=400)
    assert names(three_pedals(), SMALL, strong)[0] == ("small", "strong")


def test_no_pairs_are_made_where_one_does_it():
    assert all(len(one) == 1 for one in names(three_pedals(), SMALL, ENOUGH))


def test_isolation_comes_before_weight():
    grouped = replace(ENOUGH, outlets=tuple(replace(o, group="A") for o in ENOUGH.outlets), weight=200)
    digital = [draws(pedal(f"P{n}", circuit="digital"), rated=20) for n in (1, 2)]
    assert names(board(*digital), replace(grouped, model="grouped"), LARGE)[0] == ("large",)


def test_headroom_comes_before_price():
    tight = of("tight", 100, 100, 200, weight=100, price=10.0)
    assert names(three_pedals(), tight, ENOUGH)[0] == ("enough",)


def test_what_is_left_free_is_named():
    (best, *_) = choose_instead(three_pedals(), [LARGE])
    assert (best.unfed, len(best.free)) == ((), 2)
    assert set(best.free) <= {"1", "2", "3", "4", "5"}


def test_who_stays_unfed_is_named():
    (best, *_) = choose_instead(three_pedals(), [of("one", 100)])
    assert len(best.unfed) == 2 or len(best.models) == 2


def test_beside_what_is_there_the_feeds_stay():
    plan = three_pedals(
        supplies=[supply("S1", outlet("1"), outlet("2"))], feeds=[feed("S1.1", "P1.DC", 9000)]
    )
    (best, *_) = choose_beside(plan, [of("one", 300)])
    assert (best.unfed, best.free) == ((), ())


@pytest.mark.parametrize(
    ("mains", "asked", "takes"),
    [
        (Mains(90_000, 264_000, (50, 60)), (EUROPE, AMERICA), True),
        (Mains(200_000, 264_000, (50, 60)), (EUROPE, AMERICA), False),
        (Mains(90_000, 264_000, (60,)), (EUROPE,), False),
        (Mains(90_000, 264_000), (EUROPE,), None),
        (None, (EUROPE,), None),
        (Mains(90_000, 264_000, (50, 60)), (), None),
    ],
)
def test_it_is_told_whether_it_takes_every_mains_of_the_tour(mains, asked, takes):
    (best, *_) = choose_instead(three_pedals(), [replace(ENOUGH, mains=mains)], asked)
    assert best.takes_mains is takes


def test_the_mains_of_the_tour_come_before_weight():
    light = replace(ENOUGH, model="light", weight=100, mains=Mains(90_000, 132_000, (60,)))
    assert names(three_pedals(), light, ENOUGH, mains=(EUROPE,))[0] == ("enough",)


def test_an_unknown_weight_or_price_is_unknown_and_comes_last():
    untold = replace(ENOUGH, model="untold", weight=None, price=None)
    (*_, last) = choose_instead(three_pedals(), [untold, ENOUGH])
    assert (last.models, last.weight, last.price) == ((0,), None, None)


def sloping(depth: int, front: float = 18, rear: float | None = None) -> BoardPlan:
    """A frame that rises by 8 degrees: tan 8 deg = 0.140541."""
    rear = front + depth * 0.140541 if rear is None else rear
    return board(frame=frame(600, depth, under=Under(front, round(rear, 3))))


def brick(width: int, depth: int, height: int):
    return supply("S1", width=width, depth=depth, height=height)


@pytest.mark.parametrize(("depth", "fits"), [(320, True), (254, True), (253, False), (240, False)])
def test_under_a_sloping_frame(depth, fits):
    """Worked example of the trade: front 18, 8 deg, 38 + 3 high, 90 deep: front edge at y >= 163.7."""
    plan = sloping(depth)
    assert first_fitting_y(plan, 41) == 164
    assert do_fit_under(plan, [brick(700, 90, 38)]) is False  # wider than the frame, either way round
    assert do_fit_under(plan, [brick(160, 90, 38)]) is fits


def test_a_frame_that_falls_to_the_rear_is_measured_from_there():
    assert do_fit_under(sloping(320, 62.9, 18), [brick(160, 90, 38)]) is True
    assert do_fit_under(sloping(320, 40, 18), [brick(160, 90, 38)]) is False


def test_two_supplies_lie_side_by_side_or_one_behind_the_other():
    plan = board(frame=frame(300, 200, under=Under(50, 50)))
    assert do_fit_under(plan, [brick(148, 90, 40), brick(148, 90, 40)]) is True
    assert do_fit_under(plan, [brick(250, 98, 40), brick(250, 98, 40)]) is True
    assert do_fit_under(plan, [brick(250, 99, 40), brick(250, 98, 40)]) is False


def test_room_is_unknown_where_a_size_is():
    assert do_fit_under(sloping(320), [replace(brick(160, 90, 38), height=None)]) is None
    assert do_fit_under(board(), [brick(160, 90, 38)]) is None
