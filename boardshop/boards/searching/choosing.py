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
from boardshop.boards.searching.turns import is_lost
from boardshop.core.index import fold
from boardshop.core.placing import Placing
from boardshop.core.plan import BoardPlan, Pedal

BEST = "best"


@dataclass(frozen=True)
class Choice:
    """One placing; `on` is the frame of the catalogue that it lies on, where that is not the board's own;
    `cure` says what must be otherwise for it; `ref` is the pedal that room was made for.
    """

    key: str
    placing: Placing
    on: CatalogueFrame | None = None
    cure: Cure | None = None
    ref: str = ""

    @property
    def can_be_taken(self) -> bool:
        """Another plug is a change of the wiring, which is made on the page of cables."""
        return self.cure is None or self.cure.kind != "plug"

    def moves(self, ref: str, *, is_pinned: bool) -> bool:
        """Whether the pedal goes where the placing has it: a pin holds on its own frame alone."""
        return not is_pinned or self.on is not None or fold(ref) == fold(self.ref)

    @property
    def left(self) -> tuple[str, ...]:
        """Who was to be placed and is not."""
        return tuple(ref for ref in self.placing.left_out if not self.ref or fold(ref) == fold(self.ref))

    def lay_out(self, plan: BoardPlan) -> BoardPlan:
        """The plan as it would be: pinned pedals, and those that the search did not know, stay.

        A supply on top of the frame comes off when the frame is another one.
        """
        places = {fold(ref): place for ref, place in self.placing.places}
        off = {fold(ref) for ref in self.placing.left_out}

        def put(pedal: Pedal) -> Pedal:
            key = fold(pedal.ref)
            if key not in places and key not in off:
                return pedal
            is_held = pedal.pinned and pedal.place is not None
            return replace(pedal, place=places.get(key)) if self.moves(key, is_pinned=is_held) else pedal

        laid = replace(plan, pedals=tuple(put(pedal) for pedal in plan.pedals))
        if self.on is None:
            return laid
        supplies = tuple(
            one if one.place is None or one.place.under else replace(one, place=None) for one in plan.supplies
        )
        return replace(laid, frame=self.on.filled, supplies=supplies)


def list_choices(search: LayoutSearch) -> list[Choice]:
    """The answers in their order, then the cures, least first; of one that found none the best so far."""
    answers, frames = read_answers(search.answers), read_frames(search.frames)
    choices = [
        Choice(str(number), one.placing, None if one.frame is None else frames[one.frame], ref=search.ref)
        for number, one in enumerate(answers.placings, start=1)
    ]
    by_name = {frame.name: frame for frame in frames}
    for number, cure in enumerate(answers.cures, start=1):
        on = by_name.get(cure.subject) if cure.kind == "frame" else None
        choices.append(Choice(f"c{number}", cure.placing, on, cure, search.ref))
    is_on_own_frame = search.wanted != LayoutSearch.Wanted.FRAMES
    is_over = not search.is_under_way or is_lost(search)
    if not choices and search.best is not None and is_on_own_frame and is_over:
        choices.append(Choice(BEST, read_placing(search.best), ref=search.ref))
    return choices


def find_choice(search: LayoutSearch, key: str) -> Choice:
    """Raises NoSuchAnswer, also for one that cannot be taken."""
    for choice in list_choices(search):
        if choice.key == key and choice.can_be_taken:
            return choice
    raise NoSuchAnswer
