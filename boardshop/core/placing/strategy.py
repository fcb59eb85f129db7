"""Which rounds are run one after the other, and who is left out where not all can be placed."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import islice

from boardshop.core.placing.arrays import FAR, Ints
from boardshop.core.placing.bounds import score_bound
from boardshop.core.placing.exact import MOST_THINGS, Proof, prove
from boardshop.core.placing.problem import Problem
from boardshop.core.placing.schedules import MOVES_PER_SECOND, Cooling
from boardshop.core.placing.search import THREADS, Found, Race, Round, alternate

FIRST_ROUND = 400_000
"""Moves of the two rounds that are to show a first whole placing at once."""
ROUND_PART = 0.1
"""Part of one thread's moves that one round takes, so that many starts are tried."""
SHORTEST, LONGEST = 300_000, 4_000_000
"""Moves that a round takes at least and at most."""
SEARCHING = (Cooling(), Cooling(growth=32, decay=8), Cooling(hot=600.0))
POLISHING = (Cooling(hot=60.0, cold=2.0, cheap=60.0, dear=200.0, window=30),)
POLISH_PART = 0.1
"""Part of the work that goes into the best two placings once more, from barely warm."""
WHOLE_PART, DROP_PART = 0.65, 0.06
"""Parts of the work spent on placing all, and on each try with one thing less."""
MANY_THINGS = 24
"""Beyond so many a move takes longer, about in proportion."""
PROOF_PART = 0.3
"""Part of the seconds for a complete search where few things move."""
SOLVER_PACE = 0.6
"""The solver's deterministic seconds in one second, measured."""

type Show = Callable[[float, Problem, Ints | None, int], bool]
"""Given the part of the work done, the problem, the best whole placing of it so far and its cost."""


@dataclass(frozen=True)
class Outcome:
    """What a search came to: placings of ``problem`` without overlap, cheapest first."""

    problem: Problem
    found: tuple[Found, ...]
    dropped: tuple[int, ...]
    """Numbers of the first problem's things that are not in this one, for want of room."""
    bound: int
    is_optimal: bool
    is_impossible: bool
    """Proved: the first problem's things cannot all be placed."""


@dataclass
class Strategy:
    """``make`` gives the problem without some of the first one's things, by their numbers there."""

    make: Callable[[tuple[int, ...]], Problem]
    seconds: int
    seed: int
    show: Show
    may_drop: bool = True
    """Whether a thing is left out where not all have room."""
    may_prove: bool = True
    """Whether the cost is the score alone, which is what the bounds and the complete search know."""
    proof_part: float = 0.0
    size: int = 0
    """Things that may move, at first."""
    spent: int = 0
    is_stopped: bool = False
    shown: Problem | None = None
    best_cost: int = FAR
    best: Ints | None = None
    """What was shown so far, and of which problem: it never gets worse."""

    @property
    def work(self) -> int:
        """Moves of both threads together."""
        crowd = max(1.0, self.size / MANY_THINGS)
        return int(self.seconds * (1 - self.proof_part) * MOVES_PER_SECOND / crowd * THREADS)

    def run(self) -> Outcome:
        dropped: tuple[int, ...] = ()
        problem = self.make(dropped)
        self.size = problem.movable
        if self.may_prove and problem.movable <= MOST_THINGS:
            self.proof_part = PROOF_PART
        found = self._seek(problem, WHOLE_PART, is_first=True)
        is_impossible = False
        if self.may_drop and not _whole(found) and problem.movable:
            proof = self._prove(problem, None)
            if proof is not None and proof.places is not None:
                found = [self._refine(problem, proof.places)]
            is_impossible = proof is not None and proof.is_impossible
            problem, found, dropped = self._drop(problem, found)
        found += self._seek(problem, 1 - POLISH_PART - self.spent / self.work)
        found += self._polish(problem, _whole(found))
        return self._conclude(problem, _whole(found), dropped, is_impossible)

    def _drop(self, problem: Problem, found: list[Found]) -> tuple[Problem, list[Found], tuple[int, ...]]:
        """Leave things out, many at first where many are too many, until the rest has room."""
        dropped: tuple[int, ...] = ()
        numbers = list(range(len(problem.things)))
        while not _whole(found) and problem.movable and not self.is_stopped:
            in_the_way = _most_in_the_way(problem, found)
            worst = in_the_way[: max(1, len(in_the_way) // 2)]
            dropped += tuple(numbers[i] for i in worst)
            numbers = [number for i, number in enumerate(numbers) if i not in worst]
            problem = self.make(dropped)
            found = self._seek(problem, DROP_PART)
        for one in sorted(dropped) if len(dropped) > 1 else ():
            if self.is_stopped or self.spent > (1 - POLISH_PART) * self.work:
                break
            fewer = tuple(number for number in dropped if number != one)
            larger = self.make(fewer)
            if again := _whole(self._seek(larger, DROP_PART)):
                problem, found, dropped = larger, again, fewer
        return problem, found, dropped

    def _conclude(
        self, problem: Problem, whole: list[Found], dropped: tuple[int, ...], is_impossible: bool
    ) -> Outcome:
        bound, is_optimal = score_bound(problem) if self.may_prove else 0, False
        if self.may_prove and whole and whole[0].cost > bound:
            proof = self._prove(problem, whole[0])
            if proof is not None:
                bound, is_optimal = max(bound, proof.bound), proof.is_optimal
                if proof.places is not None:
                    whole = _whole([self._refine(problem, proof.places), *whole])
        is_optimal = bool(whole) and (is_optimal or whole[0].cost <= bound)
        return Outcome(problem, tuple(whole), dropped, bound, is_optimal, is_impossible)

    def _seek(self, problem: Problem, part: float, *, is_first: bool = False) -> list[Found]:
        """Rounds from new starts for about this part of the work; the first two are short."""
        if not problem.movable or part <= 0 or self.is_stopped:
            return [_as_it_stands(problem)] if not problem.movable else []
        moves = min(max(int(self.work / THREADS * ROUND_PART), SHORTEST), LONGEST)
        moves = SHORTEST if self.spent > self.work else moves
        amount = max(1, round(part * self.work / moves))
        amount += amount % THREADS
        seed = self.seed * 1_000_003 + self.spent // 1000
        rounds = list(islice(alternate(moves, seed, SEARCHING), amount))
        if is_first:
            first = islice(alternate(min(FIRST_ROUND, moves), seed + 500, SEARCHING), THREADS)
            rounds = [*first, *rounds]
        return self._race(problem, rounds)

    def _polish(self, problem: Problem, whole: Sequence[Found]) -> list[Found]:
        if not whole or self.is_stopped or not problem.movable:
            return []
        moves = max(SHORTEST, int(self.work * POLISH_PART / THREADS))
        starts = [one.places for one in whole[:THREADS]]
        return self._race(
            problem, [Round(self.seed + k, moves, POLISHING[0], start) for k, start in enumerate(starts)]
        )

    def _refine(self, problem: Problem, places: Ints) -> Found:
        return self._race(problem, [Round(self.seed, SHORTEST, POLISHING[0], places)])[0]

    def _race(self, problem: Problem, rounds: list[Round]) -> list[Found]:
        before = self.spent
        if self.shown is not problem:
            self.shown, self.best_cost, self.best = problem, FAR, None

        def look(part: float, cost: int, best: Ints | None) -> bool:
            del part
            if cost < self.best_cost:
                self.best_cost, self.best = cost, best
            done = (before + race.done_work) / self.work
            return self.show(min(1.0, done), problem, self.best, self.best_cost)

        race = Race(problem, look, self.work)
        found = race.run(rounds)
        # As planned and not as counted, so that what follows is the same on every run.
        self.spent += sum(one.moves for one in rounds)
        self.is_stopped = race.is_stopped
        return found

    def _prove(self, problem: Problem, known: Found | None) -> Proof | None:
        if self.is_stopped or problem.movable > MOST_THINGS:
            return None
        work = self.seconds * PROOF_PART * SOLVER_PACE
        return prove(problem, None if known is None else known.places, known.cost if known else FAR, work)


def _whole(found: Sequence[Found]) -> list[Found]:
    """Those without overlap, cheapest first; of equally cheap ones the first found."""
    return sorted((one for one in found if one.is_whole), key=lambda one: one.cost)


def _as_it_stands(problem: Problem) -> Found:
    state = problem.start()
    return Found(0, state.place, 0, state.overlap)


def _most_in_the_way(problem: Problem, found: Sequence[Found]) -> list[int]:
    """Who would have to go at the end of the round that came nearest, the worst first; the larger of equals.

    One after the other goes who overlaps most, until nobody overlaps.
    """
    nearest = min(found, key=lambda one: one.penalty)
    overlap = nearest.overlap.copy()

    def rank(i: int) -> tuple[int, int]:
        return int(overlap[i].sum()), problem.things[i].shapes[0].parts[0].box.area

    gone: list[int] = []
    while len(gone) < problem.movable and (overlap.any() or not gone):
        worst = max((i for i in range(problem.movable) if i not in gone), key=rank)
        gone.append(worst)
        overlap[worst, :] = overlap[:, worst] = 0
    return gone
