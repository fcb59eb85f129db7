"""What a search computes: which of core's functions answers it, and when cures are looked for.

Only the process of a search imports this: core's searches load a compiler.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from boardshop.boards.models import LayoutSearch
from boardshop.boards.searching.stored import Answer, Answers, CatalogueFrame, Cure
from boardshop.core.index import fold
from boardshop.core.placing import Placing, Watch, Wishes
from boardshop.core.placing.answers import NamedFrame
from boardshop.core.placing.cures import find_cures
from boardshop.core.placing.frames import choose_frames
from boardshop.core.placing.proposal import propose_layouts
from boardshop.core.placing.room import make_room
from boardshop.core.plan import BoardPlan


@dataclass(frozen=True)
class Task:
    """All that a search needs to know; the same task has the same answers."""

    wanted: str
    plan: BoardPlan
    wishes: Wishes
    frames: Sequence[CatalogueFrame] = ()
    ref: str = ""

    @property
    def named_frames(self) -> list[NamedFrame]:
        return [NamedFrame(frame.name, frame.filled) for frame in self.frames]


def find_answers(task: Task, watch: Watch, found: Callable[[Answers], bool]) -> Answers:
    """The placings, and cures where the best of them leaves somebody out.

    `found` is told of the placings before cures are sought; False from it leaves them unsought.
    """
    if task.wanted == LayoutSearch.Wanted.FRAMES:
        return Answers(_choose_frames(task, watch))
    answers = Answers(tuple(Answer(placing) for placing in _propose(task, watch)))
    best = answers.placings[0].placing if answers.placings else None
    if best is None or not _lacks(task, best) or not found(answers):
        return answers
    cures = find_cures(task.plan, best, task.named_frames, wishes_of(task), watch)
    found_cures = (Cure(one.kind, one.subject, one.sentence, one.placing) for one in cures)
    return replace(answers, cures=tuple(found_cures))


def _lacks(task: Task, placing: Placing) -> bool:
    """Whether somebody is left out who was to be placed; room for one pedal is sought for that one alone."""
    left = {fold(ref) for ref in placing.left_out}
    return fold(task.ref) in left if task.wanted == LayoutSearch.Wanted.ROOM else bool(left)


def wishes_of(task: Task) -> Wishes:
    """To finish a layout is to let all that has a place keep it."""
    if task.wanted != LayoutSearch.Wanted.FINISH:
        return task.wishes
    placed = tuple(pedal.ref for pedal in task.plan.pedals if pedal.place is not None)
    return replace(task.wishes, staying=placed)


def _propose(task: Task, watch: Watch) -> Sequence[Placing]:
    if task.wanted == LayoutSearch.Wanted.ROOM:
        return (make_room(task.plan, task.ref, task.wishes, watch),)
    return propose_layouts(task.plan, wishes_of(task), watch)


def _choose_frames(task: Task, watch: Watch) -> tuple[Answer, ...]:
    frames = task.named_frames
    chosen = choose_frames(task.plan, frames, task.wishes, watch)
    return tuple(Answer(one.placing, frames.index(one.named)) for one in chosen)
