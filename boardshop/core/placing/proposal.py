"""Proposed layouts: every pedal at the best place that the search finds, and up to three answers unlike."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from boardshop.core.index import fold, index_plan
from boardshop.core.layout.geometry import Box, turned_size
from boardshop.core.naming import called, say_all
from boardshop.core.placing.answers import USUAL_WISHES, Placing, Progress, Watch, Wishes
from boardshop.core.placing.arrays import FAR, Ints
from boardshop.core.placing.impossible import Impossible, list_impossible, list_too_many
from boardshop.core.placing.problem import Problem, make_problem
from boardshop.core.placing.score import score_places
from boardshop.core.placing.strategy import Outcome, Show, Strategy
from boardshop.core.plan import BoardPlan, Place

ANSWERS = 3
UNLIKE_MM = 60
"""A pedal stands elsewhere when it is turned, or this far away counted in x and y together."""
MOST_NAMED = 5
MOST_REASONS = 3
NO_PEDALS = "The board has no pedals to place."
NOT_FOUND = "not found in this time"
IMPOSSIBLE = "impossible"


def propose_layout(plan: BoardPlan, wishes: Wishes = USUAL_WISHES, watch: Watch | None = None) -> Placing:
    """The best placing found in the work asked for: of all pedals where that works, else of most of them."""
    return propose_layouts(plan, wishes, watch, answers=1)[0]


def propose_layouts(
    plan: BoardPlan, wishes: Wishes = USUAL_WISHES, watch: Watch | None = None, answers: int = ANSWERS
) -> tuple[Placing, ...]:
    """Up to so many answers, best first, each with a fourth of its pedals elsewhere than in every better one.

    The same plan and wishes give the same answers.  ``watch`` that returns False ends the search early.
    """
    writer = make_writer(plan, wishes)
    first = make_problem(writer.able, wishes)

    def make(dropped: tuple[int, ...]) -> Problem:
        return _without(writer.able, wishes, first, dropped)

    outcome = Strategy(make, wishes.seconds, wishes.seed, writer.shown_to(watch)).run()
    return writer.write_all(outcome, answers)


def list_barred(impossible: Sequence[Impossible]) -> set[str]:
    """Folded refs to leave out before any search, so that no certificate about one or two holds any more.

    Who is in most of them goes first; of equals the last named.
    """
    open_ones = [[fold(ref) for ref in one.refs] for one in impossible if 0 < len(one.refs) <= 2]
    barred: set[str] = set()
    while open_ones:
        named = [ref for refs in reversed(open_ones) for ref in reversed(refs)]
        worst = max(named, key=named.count)
        barred.add(worst)
        open_ones = [refs for refs in open_ones if worst not in refs]
    return barred


def _without(plan: BoardPlan, wishes: Wishes, first: Problem, dropped: tuple[int, ...]) -> Problem:
    refs = {fold(first.things[i].ref) for i in dropped if first.things[i].ref}
    rooms = [i for i, thing in enumerate(first.things[: first.movable]) if not thing.ref]
    kept = tuple(room for i, room in zip(rooms, wishes.reserved, strict=True) if i not in dropped)
    smaller = replace(plan, pedals=tuple(p for p in plan.pedals if fold(p.ref) not in refs))
    return make_problem(smaller, replace(wishes, reserved=kept))


def make_writer(plan: BoardPlan, wishes: Wishes) -> "Writer":
    impossible = list_impossible(plan, wishes)
    barred = list_barred(impossible)
    stuck = {pedal.ref for pedal in plan.pedals if fold(pedal.ref) in barred}
    too_many = list_too_many(make_problem(plan, wishes), stuck) if impossible else []
    return Writer(plan, wishes, impossible, barred | {fold(ref) for ref in too_many})


@dataclass(frozen=True)
class Writer:
    """Turns what the search found into answers about the whole plan."""

    plan: BoardPlan
    wishes: Wishes
    impossible: Sequence[Impossible]
    barred: set[str]

    @property
    def able(self) -> BoardPlan:
        """The plan without those that no search needs to try."""
        kept = tuple(pedal for pedal in self.plan.pedals if fold(pedal.ref) not in self.barred)
        return replace(self.plan, pedals=kept)

    def shown_to(self, watch: Watch | None) -> Show:
        """What a search calls to tell the watch how far it is."""

        def show(part: float, problem: Problem, best: Ints | None, cost: int) -> bool:
            if watch is None:
                return True
            so_far = None if best is None or cost >= FAR else self.write(problem, best)
            return watch(Progress(int(100 * part), so_far))

        return show

    def write_all(self, outcome: Outcome, answers: int) -> tuple[Placing, ...]:
        if not outcome.found:
            return (self._nothing(outcome),)
        if not self.plan.pedals:
            return (
                replace(self.write(outcome.problem, outcome.found[0].places), why=NO_PEDALS, optimal=True),
            )
        chosen: list[Placing] = []
        for found in outcome.found:
            placing = self.write(outcome.problem, found.places)
            if len(chosen) < answers and all(is_unlike(placing, other) for other in chosen):
                chosen.append(placing)
        return tuple(self._judge(outcome, placing) for placing in chosen)

    def write(self, problem: Problem, rows: Ints) -> Placing:
        places = {
            fold(problem.things[i].ref): problem.read_place(rows[i])
            for i in range(len(problem.things))
            if problem.things[i].ref
        }
        score, cable = score_places(self.plan, places)
        return Placing(
            places=tuple((p.ref, places[fold(p.ref)]) for p in self.plan.pedals if fold(p.ref) in places),
            left_out=tuple(p.ref for p in self.plan.pedals if fold(p.ref) not in places),
            why="",
            score=score,
            total_mm=cable,
            optimal=False,
            bound=0,
            reserved=tuple(_room_boxes(problem, rows)),
        )

    def _judge(self, outcome: Outcome, placing: Placing) -> Placing:
        is_whole = not placing.left_out and len(placing.reserved) == len(self.wishes.reserved)
        bound = min(outcome.bound, placing.score)
        optimal = is_whole and outcome.is_optimal and placing.score == score_of(self, outcome)
        return replace(placing, why=self._why(outcome, placing), optimal=optimal, bound=bound)

    def _nothing(self, outcome: Outcome) -> Placing:
        everyone = tuple(pedal.ref for pedal in self.plan.pedals)
        empty = Placing((), everyone, "", 0, 0, not everyone, 0)
        return replace(empty, why=self._why(outcome, empty))

    def _why(self, outcome: Outcome, placing: Placing) -> str:
        """Why some are left out: with a certificate, or only that the search found nothing."""
        reasons = _first_few([one.sentence for one in self.impossible if one.is_proved])
        found = [f"{IMPOSSIBLE}: {' '.join(reasons)}"] if reasons else []
        too_large = _first_few([one.sentence for one in self.impossible if not one.is_proved])
        found += [f"{NOT_FOUND}: {' '.join(too_large)}"] if too_large else []
        others = self._name_others(placing)
        if others and outcome.is_impossible:
            found.append(f"{IMPOSSIBLE}: a complete search shows that not all have room together.")
        elif others and not reasons:
            found.append(f"{NOT_FOUND}: a placing of the rest together with {others}.")
        elif others:
            found.append(f"{NOT_FOUND}: room for {others} beside the rest.")
        return " ".join(found)

    def _name_others(self, placing: Placing) -> str:
        index = index_plan(self.plan)
        names = [called(index, ref) for ref in placing.left_out if fold(ref) not in self.barred]
        if len(placing.reserved) < len(self.wishes.reserved):
            names.append("the reserved room")
        if len(names) > MOST_NAMED + 1:
            names = [*names[:MOST_NAMED], f"{len(names) - MOST_NAMED} others"]
        return say_all(names)


def _first_few(sentences: Sequence[str]) -> list[str]:
    told = list(dict.fromkeys(sentences))
    if len(told) <= MOST_REASONS + 1:
        return told
    return [*told[:MOST_REASONS], f"{len(told) - MOST_REASONS} more reasons of the kind."]


def score_of(writer: Writer, outcome: Outcome) -> int:
    """The best found score."""
    return writer.write(outcome.problem, outcome.found[0].places).score


def is_unlike(one: Placing, other: Placing) -> bool:
    """Whether a fourth of the pedals, at least one, stands elsewhere."""
    places = dict(other.places)
    elsewhere = [ref for ref, place in one.places if _is_elsewhere(place, places.get(ref))]
    return len(elsewhere) >= max(1, len(one.places) // 4)


def _is_elsewhere(place: Place, other: Place | None) -> bool:
    if other is None or place.turn != other.turn:
        return True
    return abs(place.x - other.x) + abs(place.y - other.y) >= UNLIKE_MM


def _room_boxes(problem: Problem, rows: Ints) -> list[Box]:
    boxes = []
    for i, thing in enumerate(problem.things[: problem.movable]):
        if not thing.ref:
            body, place = thing.shapes[0].parts[0].box, problem.read_place(rows[i])
            wide, deep = turned_size(body.width, body.depth, place.turn)
            boxes.append(Box(place.x, place.y, place.x + wide, place.y + deep))
    return boxes
