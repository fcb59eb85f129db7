"""The layouts of one search that somebody may choose from, each by the key that its button sends."""

from __future__ import annotations

from dataclasses import dataclass, replace

from boardshop.boards.errors import NoSuchAnswer
from boardshop.boards.models import LayoutSearch
from boardshop.boards.searching.stored import (
    CatalogueFrame,
    Cure,
    read_answers,
    read_frames,
    read_placing,
)
from boardshop.core.index import fold
from boardshop.core.placing import Placing
from boardshop.core.plan import BoardPlan, Pedal

BEST = "best"


@dataclass(frozen=True)
class Choice:
    """One placing; `on` is the frame of the catalogue that it lies on, where that is not the board's own;
    `cure` says what must be otherwise for it."""

    key: str
    placing: Placing
    on: CatalogueFrame | None = None
    cure: Cure | None = None

    @property
    def can_be_taken(self) -> bool:
        """Another plug is a change of the wiring, which is made on the page of cables."""
        return self.cure is None or self.cure.kind != "plug"

    def lay_out(self, plan: BoardPlan) -> BoardPlan:
        """The plan as it would be: pinned pedals, and those that the search did not know, stay."""
        places = {fold(ref): place for ref, place in self.placing.places}
        off = {fold(ref) for ref in self.placing.left_out}

        def put(pedal: Pedal) -> Pedal:
            key = fold(pedal.ref)
            if pedal.pinned or (key not in places and key not in off):
                return pedal
            return replace(pedal, place=places.get(key))

        frame = plan.frame if self.on is None else self.on.filled
        return replace(plan, frame=frame, pedals=tuple(put(pedal) for pedal in plan.pedals))


def list_choices(search: LayoutSearch) -> list[Choice]:
    """The answers in their order, then the cures, least first; of one that found none the best so far."""
    answers, frames = read_answers(search.answers), read_frames(search.frames)
    choices = [
        Choice(str(number), one.placing, None if one.frame is None else frames[one.frame])
        for number, one in enumerate(answers.placings, start=1)
    ]
    by_name = {frame.name: frame for frame in frames}
    for number, cure in enumerate(answers.cures, start=1):
        on = by_name.get(cure.subject) if cure.kind == "frame" else None
        choices.append(Choice(f"c{number}", cure.placing, on, cure))
    is_on_own_frame = search.wanted != LayoutSearch.Wanted.FRAMES
    if not choices and search.best is not None and is_on_own_frame and not search.is_under_way:
        choices.append(Choice(BEST, read_placing(search.best)))
    return choices


def find_choice(search: LayoutSearch, key: str) -> Choice:
    """Raises NoSuchAnswer, also for one that cannot be taken."""
    for choice in list_choices(search):
        if choice.key == key and choice.can_be_taken:
            return choice
    raise NoSuchAnswer
