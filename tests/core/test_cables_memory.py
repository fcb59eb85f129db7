"""After an edit only what has changed is routed again, and the answer is that of routing from nothing."""

import json
import random
from collections.abc import Callable
from dataclasses import replace

import pytest

from boardshop.core.boardfile import load_plan_text
from boardshop.core.cables import routing
from boardshop.core.cables.routing import MOST_ANSWERS, Answer, Way, find_way, remembered, still_holds
from boardshop.core.cables.runs import MeasuredRun, measure_runs
from boardshop.core.layout.geometry import Box
from boardshop.core.plan import BoardPlan, Place, Point
from tests.core.builders import board, chain, pedal
from tests.core.fine_grid import random_board

FLOOR = Box(0, 0, 600, 320)
THIN = pedal("P5", at=(250, 180), width=8, depth=40, jacks=(), switches=())


def forget() -> None:
    for memory in (measure_runs, routing.remembered, routing._search_grid):
        memory.cache_clear()


def searches_of(work: Callable[[], object], monkeypatch: pytest.MonkeyPatch) -> list[tuple[Point, Point]]:
    """The ends of every search that some work takes."""
    searched: list[tuple[Point, Point]] = []
    search = routing._search

    def watched(start: Point, end: Point, *rest: object) -> Answer:
        searched.append((start, end))
        return search(start, end, *rest)

    with monkeypatch.context() as patch:
        patch.setattr(routing, "_search", watched)
        work()
    return searched


def row() -> BoardPlan:
    """Four pedals in a row in front, from right to left, and the narrow P5 alone at the rear."""
    stands = [pedal(f"P{n}", at=(600 - 120 * n, 20)) for n in range(1, 5)]
    return board(*stands, THIN, links=chain("P1", "P2", "P3", "P4"))


def moved(plan: BoardPlan, ref: str, x: int, y: int) -> BoardPlan:
    return replace(
        plan,
        pedals=tuple(replace(p, place=Place(x, y)) if p.ref == ref else p for p in plan.pedals),
    )


def test_a_pedal_that_touches_no_run_is_moved_without_any_search(monkeypatch: pytest.MonkeyPatch) -> None:
    forget()
    assert len(searches_of(lambda: measure_runs(row()), monkeypatch)) == 3
    assert searches_of(lambda: measure_runs(moved(row(), "P5", 300, 185)), monkeypatch) == []


def test_only_the_runs_of_a_moved_pedal_are_searched_for(monkeypatch: pytest.MonkeyPatch) -> None:
    forget()
    measure_runs(row())
    searched = searches_of(lambda: measure_runs(moved(row(), "P2", 360, 30)), monkeypatch)
    assert len(searched) == 2  # into P2 and out of it; the one from P3 to P4 stays


def test_a_body_put_into_a_run_has_that_run_searched_for_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    forget()
    before = measure_runs(row())
    into = moved(row(), "P5", 332, 90)  # between P2 and P3
    searched = searches_of(lambda: measure_runs(into), monkeypatch)
    assert len(searched) == 1
    assert measure_runs(into)[1].path_mm > before[1].path_mm


def test_a_body_that_leaves_the_way_has_its_run_shortened(monkeypatch: pytest.MonkeyPatch) -> None:
    forget()
    into = moved(row(), "P5", 332, 90)
    longer = measure_runs(into)
    searched = searches_of(lambda: measure_runs(row()), monkeypatch)
    assert len(searched) == 1
    assert measure_runs(row())[1].path_mm < longer[1].path_mm


def test_a_move_and_back_is_remembered(monkeypatch: pytest.MonkeyPatch) -> None:
    forget()
    measure_runs(row())
    measure_runs(moved(row(), "P5", 332, 90))
    measure_runs.cache_clear()
    assert searches_of(lambda: measure_runs(row()), monkeypatch) == []


def test_what_is_remembered_for_two_ends_is_bounded() -> None:
    forget()
    start, end = Point(10, 100), Point(500, 100)
    for x in range(20, 20 + 10 * MOST_ANSWERS, 5):
        find_way(start, end, [Box(x, 50, x + 10, 150)], FLOOR)
    assert len(remembered(start, end, FLOOR)) == MOST_ANSWERS


ACROSS = Box(20, 10, 40, 30)


@pytest.mark.parametrize(
    ("met", "way", "boxes", "holds"),
    [
        ((), Way(50, ()), (), True),
        ((), Way(50, ()), (Box(20, 20, 40, 40),), True),  # which the way touches
        ((), Way(50, ()), (Box(20, 19, 40, 40),), False),  # which it crosses
        ((ACROSS,), Way(70, ((10, 10), (60, 10))), (ACROSS,), True),
        ((ACROSS,), Way(70, ((10, 10), (60, 10))), (), False),  # without it a shorter one may be open
        ((ACROSS,), None, (ACROSS, Box(0, 0, 5, 5)), True),
        ((ACROSS,), None, (Box(0, 0, 5, 5),), False),
    ],
)
def test_when_an_answer_still_holds(
    met: tuple[Box, ...], way: Way | None, boxes: object, holds: bool
) -> None:
    answer = Answer(frozenset(met), way)
    assert still_holds(answer, Point(10, 20), Point(60, 20), boxes) == holds


def measured_from_nothing(plan: BoardPlan) -> tuple[MeasuredRun, ...]:
    forget()
    return measure_runs(plan)


def check_moves(number: int, moves: int) -> None:
    """Moves by lot, each routed with what the ones before left behind, then all of them from nothing."""
    chance = random.Random(number)
    plan = load_plan_text(json.dumps(random_board(number, 160, 110, 6)))
    forget()
    states, answers = [], []
    for _ in range(moves):
        one = chance.choice(plan.pedals)
        plan = replace(
            plan,
            pedals=tuple(
                replace(p, place=Place(chance.randint(0, 140), chance.randint(0, 95), chance.choice([0, 90])))
                if p is one
                else p
                for p in plan.pedals
            ),
        )
        states.append(plan)
        answers.append(measure_runs(plan))
    for state, answer in zip(states, answers, strict=True):
        assert measured_from_nothing(state) == answer


@pytest.mark.parametrize("number", range(25))
def test_moves_by_lot_come_to_what_routing_from_nothing_gives(number: int) -> None:
    check_moves(number, 12)


@pytest.mark.long
@pytest.mark.parametrize("number", range(1_000, 1_150))
def test_long_sequences_of_moves(number: int) -> None:
    check_moves(number, 60)
