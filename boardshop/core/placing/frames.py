"""Which frame: the smallest ones that hold this set, each with a layout."""

from collections.abc import Sequence
from dataclasses import replace

from boardshop.core.defaults import fill_frame
from boardshop.core.placing.answers import (
    USUAL_WISHES,
    FrameAnswer,
    NamedFrame,
    Placing,
    Progress,
    Watch,
    Wishes,
)
from boardshop.core.placing.impossible import list_impossible
from boardshop.core.placing.proposal import propose_layout
from boardshop.core.plan import BoardPlan

ENOUGH = 3


def choose_frames(
    plan: BoardPlan,
    frames: Sequence[NamedFrame],
    wishes: Wishes = USUAL_WISHES,
    watch: Watch | None = None,
    enough: int = ENOUGH,
) -> tuple[FrameAnswer, ...]:
    """The smallest frames, by area, on which all pedals were placed; ends when ``enough`` are found.

    Pins, places that were to stay and supplies on the top belong to the old frame and do not count.
    A frame on which nothing was found in its part of the work may still hold the set.
    """
    freed = free_of_frame(plan)
    wanted = sorted(frames, key=lambda one: (one.frame.width * one.frame.depth, one.name))
    found: list[FrameAnswer] = []
    for number, named in enumerate(wanted):
        board = replace(freed, frame=fill_frame(named.frame))
        if list_impossible(board, replace(wishes, staying=())):
            continue
        part = _Part(watch, number, len(wanted), found[-1].placing if found else None)
        placing = propose_layout(board, replace(wishes, staying=()), part.show)
        if not placing.left_out and len(placing.reserved) == len(wishes.reserved):
            found.append(FrameAnswer(named, placing))
        if len(found) == enough or part.is_stopped:
            break
    return tuple(found)


def free_of_frame(plan: BoardPlan) -> BoardPlan:
    """The set alone: nobody pinned, no supply on the top."""
    pedals = tuple(replace(pedal, pinned=False) for pedal in plan.pedals)
    supplies = tuple(
        supply if supply.place is None or supply.place.under else replace(supply, place=None)
        for supply in plan.supplies
    )
    return replace(plan, pedals=pedals, supplies=supplies)


class _Part:
    """One frame's part of the whole progress."""

    def __init__(self, watch: Watch | None, number: int, count: int, best: Placing | None) -> None:
        self.watch, self.number, self.count, self.best = watch, number, count, best
        self.is_stopped = False

    def show(self, progress: Progress) -> bool:
        if self.watch is not None and not self.is_stopped:
            percent = (100 * self.number + progress.percent) // self.count
            self.is_stopped = not self.watch(Progress(percent, progress.best or self.best))
        return not self.is_stopped
