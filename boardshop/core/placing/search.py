"""The search: rounds of annealing on two threads, of fixed work, watched and stopped from outside."""

from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, ThreadPoolExecutor, wait
from dataclasses import dataclass, field

import numpy as np

from boardshop.core.placing.anneal import run_steps, settle, whole_cost
from boardshop.core.placing.arrays import FAR, Ints, State
from boardshop.core.placing.depths import LARGEST_MM
from boardshop.core.placing.problem import Problem
from boardshop.core.placing.schedules import CHUNK, LOGS, STEPS, Cooling

THREADS = 2
LOOK = 0.1
"""Seconds between two looks of the waiting thread; nothing that is found depends on it."""
SEED_STEP = 0x9E3779B97F4A7C15
"""2^64 over the golden ratio: seeds that differ by one start far apart."""


@dataclass(frozen=True, slots=True)
class Round:
    """One annealing: how many moves, how it cools, and where it starts (None = anew)."""

    seed: int
    moves: int
    cooling: Cooling
    start: Ints | None = None


@dataclass(frozen=True)
class Found:
    """Where a round came to: its cheapest places without overlap, or those it ended with."""

    cost: int
    places: Ints
    penalty: int
    overlap: Ints
    """[thing, thing]: who stood in whose way at the end."""

    @property
    def is_whole(self) -> bool:
        return self.cost < FAR


@dataclass
class Race:
    """Several rounds, on two threads; ``looking`` is asked now and then and may end it."""

    problem: Problem
    looking: Callable[[float, int, Ints | None], bool]
    """Given the part done, the least cost so far and its places; False ends the search."""
    whole_work: int
    done_work: int = 0
    best_cost: int = FAR
    best: Ints | None = None
    is_stopped: bool = False
    notes: deque[tuple[int, int, Ints]] = field(default_factory=deque)
    """From the running rounds: moves made, and the least cost with its places."""

    def run(self, rounds: Sequence[Round]) -> list[Found]:
        """What each round found, in the rounds' order; fewer when it is ended from outside."""
        with ThreadPoolExecutor(THREADS) as pool:
            waiting = [pool.submit(self._run_round, one) for one in rounds]
            left = set(waiting)
            while left:
                _, left = wait(left, timeout=LOOK, return_when=FIRST_COMPLETED)
                self._look()
        return [found for one in waiting if (found := one.result()) is not None]

    def _look(self) -> None:
        while self.notes:
            moves, cost, places = self.notes.popleft()
            self.done_work += moves
            if cost < self.best_cost:
                self.best_cost, self.best = cost, places
        part = min(1.0, self.done_work / max(1, self.whole_work))
        if not self.is_stopped and not self.looking(part, self.best_cost, self.best):
            self.is_stopped = True

    def _is_over(self) -> bool:
        return self.is_stopped

    def _run_round(self, one: Round) -> Found | None:
        if self._is_over():
            return None
        problem, rows = self.problem, one.cooling.rows()
        state = begin(problem, one)
        for first in range(0, STEPS, CHUNK):
            if self._is_over():
                break
            run_steps(
                problem.model, state, problem.movable, rows[first : first + CHUNK], LOGS, one.moves // STEPS
            )
            cost = int(state.best_cost[0])
            self.notes.append((one.moves * CHUNK // STEPS, cost, state.best.copy()))
        return _found(state)


def begin(problem: Problem, one: Round) -> State:
    """At the round's start: given places, or home, or along the signal from right to left, y by lot."""
    state = problem.start()
    state.random[0] = np.uint64(((one.seed + 1) * SEED_STEP) % 2**64 | 1)
    if one.start is None:
        _scatter(problem, state, one.seed)
    else:
        state.place[:, :] = one.start
    settle(problem.model, state)
    state.sums[0] = whole_cost(problem.model, state)
    if state.sums[1] == 0:
        state.best[:, :], state.best_cost[0] = state.place, state.sums[0]
    return state


def _scatter(problem: Problem, state: State, seed: int) -> None:
    lot = np.random.RandomState(seed % 2**32)
    width = min(problem.plan.frame.width, LARGEST_MM)
    for i in range(problem.movable):
        if problem.model.home[i, 3] > 0:
            state.place[i] = problem.model.home[i, :3]
            continue
        shapes = [shape for shape in problem.things[i].shapes if shape.is_possible]
        shape = shapes[lot.randint(len(shapes))]
        x = width - width * (2 * i + 1) // (2 * problem.movable) - shape.parts[0].box.width // 2
        y = shape.ys[lot.randint(len(shape.ys))]
        state.place[i] = min(max(x, shape.low_x), shape.high_x), y, shape.turn // 90


def _found(state: State) -> Found:
    cost = int(state.best_cost[0])
    places = state.best if cost < FAR else state.place
    return Found(cost, places.copy(), int(state.sums[1]), state.overlap.copy())


def alternate(moves: int, seed: int, coolings: Sequence[Cooling]) -> Iterator[Round]:
    """Rounds without end, each with the next seed and the next way of cooling."""
    number = 0
    while True:
        yield Round(seed + number, moves, coolings[number % len(coolings)])
        number += 1
