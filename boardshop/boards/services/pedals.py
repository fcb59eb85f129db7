"""Pedals of a board: put on, change, place, take off."""

from typing import TypedDict, Unpack

from boardshop.boards.errors import WrongUnit
from boardshop.boards.models import Board, Placement
from boardshop.boards.services.editing import (
    board_edit,
    check_board,
    check_shop,
    free_ref,
    next_position,
    set_columns,
)
from boardshop.core.index import fold
from boardshop.gear.models import PedalModel, Unit


class PedalColumns(TypedDict, total=False):
    """What may be said of a pedal on a board."""

    ref: str
    role: str
    on: bool | None
    use: int
    turns: list[int] | None
    settings: str


@board_edit
def add_pedal(
    board: Board, model: PedalModel, unit: Unit | None = None, **columns: Unpack[PedalColumns]
) -> Placement:
    """A pedal of this model, not placed and not wired yet; its ref is the next free P unless given."""
    check_shop(board, model, unit)
    _check_unit(model, unit)
    ref = columns.pop("ref", "") or free_ref(board, "P")
    return Placement.objects.create(
        board=board,
        frame=board.frame,
        position=next_position(board),
        ref=ref,
        model=model,
        unit=unit,
        **columns,
    )


@board_edit
def change_pedal(
    board: Board,
    pedal: Placement,
    model: PedalModel,
    unit: Unit | None,
    together: list[Placement],
    **columns: Unpack[PedalColumns],
) -> None:
    """Other columns, another unit, or another model: links and feeds move to the jacks of the same names.

    A link or feed on a jack that the new model does not have is removed, since its plug has nowhere to go.
    """
    check_board(board, pedal, *together)
    check_shop(board, model, unit)
    _check_unit(model, unit)
    if model.pk != pedal.model_id:
        _move_to_model(pedal, model)
    set_columns(pedal, {**columns, "model": model, "unit": unit})
    pedal.together.set(together)


@board_edit
def place_pedal(
    board: Board, pedal: Placement, x: int | None, y: int | None, turn: int, pinned: bool = False
) -> None:
    """Put the front left corner of the turned box there; x and y None takes the pedal off the frame."""
    check_board(board, pedal)
    set_columns(pedal, {"x": x, "y": y, "turn": turn, "pinned": pinned})


@board_edit
def remove_pedal(board: Board, pedal: Placement) -> None:
    """Take the pedal off the board, with its links and feeds; the gear itself stays in the shop."""
    check_board(board, pedal)
    feeds = [row.feed for row in pedal.feed_jacks.select_related("feed")]
    pedal.delete()
    for feed in feeds:
        if not feed.jacks.exists():
            feed.delete()


def _check_unit(model: PedalModel, unit: Unit | None) -> None:
    if unit is not None and unit.pedal_id != model.pk:
        raise WrongUnit(unit=unit.serial or unit.pk, model=unit.pedal or unit.supply)


def _move_to_model(pedal: Placement, model: PedalModel) -> None:
    jacks = {fold(jack.name): jack for jack in model.jacks.all()}
    for side, links in (("from_jack", pedal.links_out.all()), ("to_jack", pedal.links_in.all())):
        for link in links.select_related(side):
            jack = jacks.get(fold(getattr(link, side).name))
            if jack is None:
                link.delete()
            else:
                set_columns(link, {side: jack})
    power_jacks = {fold(jack.name): jack for jack in model.power_jacks.all()}
    for row in pedal.feed_jacks.select_related("jack", "feed"):
        power_jack = power_jacks.get(fold(row.jack.name))
        if power_jack is not None:
            set_columns(row, {"jack": power_jack})
        elif row.feed.jacks.count() == 1:
            row.feed.delete()
        else:
            row.delete()
