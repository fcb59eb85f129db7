"""What of the demo is on stage: boards as they were released, and what was changed on one since."""

from __future__ import annotations

from dataclasses import dataclass, replace

from boardshop.boards.access import get_board_for
from boardshop.boards.models import Board, Placement
from boardshop.boards.services.pedals import place_pedal
from boardshop.boards.services.revisions import release_revision
from boardshop.core.plan import BoardPlan, Pedal, Place
from boardshop.crew.models import Person


@dataclass(frozen=True)
class Release:
    """A first revision: what is new in it, and why it goes out with what was found, if anything was."""

    note: str
    reason: str = ""


RELEASES = {
    "Oakhollow main": Release(
        "As it left the last change-over.",
        "The delay’s outlet is over its limit; left so for two nights, until the other supply is here.",
    ),
    "Oakhollow fly rig": Release("Packed for the flights; every cable tested."),
    "Tallow right": Release("Rebuilt on the four rail frame."),
}
"""By board. Tallow left cannot be released, with a missing earth and a fuzz that its feed would destroy;
Brindlecroft order 14 is still being made; Tallow centre waits for its first rehearsal."""

STOOD_AT = {"Tallow right": {"P9": Place(105, 216)}}
"""By board, where pedals stood when it was released: the reverb went back by 8 mm since."""


def as_released(plan: BoardPlan) -> BoardPlan:
    """The demo's board as it was before what was changed since."""
    places = STOOD_AT.get(plan.name, {})
    return replace(plan, pedals=tuple(_placed(pedal, places.get(pedal.ref)) for pedal in plan.pedals))


def release(board: Board, plan: BoardPlan, owner: Person) -> None:
    """Put the board on stage, where it is one of those, and bring the working copy to where it is now."""
    told = RELEASES.get(plan.name)
    if told is None:
        return
    own = get_board_for(owner, board.code, editing=True)
    release_revision(own, own.edit_number, told.note, told.reason)
    for ref in STOOD_AT.get(plan.name, {}):
        pedal = next(pedal for pedal in plan.pedals if pedal.ref == ref)
        assert pedal.place is not None
        row = Placement.objects.get(board=own, ref=ref)
        place_pedal(own, own.edit_number, row, pedal.place.x, pedal.place.y, pedal.place.turn)


def _placed(pedal: Pedal, place: Place | None) -> Pedal:
    return pedal if place is None else replace(pedal, place=place)
