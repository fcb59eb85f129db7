"""Pedals of a board: put on, change, place, take off."""

from collections.abc import Mapping
from typing import TypedDict, Unpack

from django.utils import timezone

from boardshop.boards.errors import WrongUnit
from boardshop.boards.models import Board, Placement
from boardshop.boards.services.editing import (
    board_edit,
    change_columns,
    check_board,
    check_shop,
    free_ref,
    next_position,
    set_columns,
)
from boardshop.boards.units import check_unit_free
from boardshop.core.index import fold
from boardshop.core.vocabulary import JOINS
from boardshop.gear.models import PedalModel, Unit, UnitDraw


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
    check_unit_free(unit)
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
def play_pedal(board: Board, pedal: Placement, role: str, on: bool | None, use: int) -> None:
    """How it is played; the role of its data sheet needs no writing down."""
    check_board(board, pedal)
    change_columns(pedal, {"role": "" if role == pedal.model.role else role, "on": on, "use": use})


@board_edit
def change_pedal(
    board: Board,
    pedal: Placement,
    model: PedalModel,
    unit: Unit | None,
    together: list[Placement],
    draws: Mapping[str, int | None] | None = None,
    **columns: Unpack[PedalColumns],
) -> None:
    """Other columns, another unit, or another model: links and feeds move to the jacks of the same names.

    A link or feed on a jack that the new model does not have, or has for something else, is removed, since
    its plug has nowhere to go.
    `draws` is what was measured at each power jack, mA; a pedal without a unit gets one to hold it.
    They were measured on the unit that the pedal is now, so none goes to another unit or model.
    """
    check_board(board, pedal, *together)
    if (model.pk, unit and unit.pk) != (pedal.model_id, pedal.unit_id):
        draws = None
    check_shop(board, model, unit)
    _check_unit(model, unit)
    check_unit_free(unit, but=pedal)
    if model.pk != pedal.model_id:
        _move_to_model(pedal, model)
    draws = draws or {}
    if unit is None and any(ma is not None for ma in draws.values()):
        unit = Unit.objects.create(shop=board.shop, pedal=model, owner=board.client)
    set_columns(pedal, {**columns, "model": model, "unit": unit})
    pedal.together.set(together)
    if unit is not None:
        _set_draws(unit, draws)


@board_edit
def place_pedal(
    board: Board, pedal: Placement, x: int | None, y: int | None, turn: int, pinned: bool = False
) -> None:
    """Put the front left corner of the turned box there; x and y None takes the pedal off the frame."""
    check_board(board, pedal)
    change_columns(pedal, {"x": x, "y": y, "turn": turn, "pinned": pinned})


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


def _set_draws(unit: Unit, draws: Mapping[str, int | None]) -> None:
    """Only what differs is written, so that an old measurement keeps its date."""
    known = {fold(draw.jack): draw for draw in unit.draws.all()}
    for jack, measured in draws.items():
        draw = known.get(fold(jack))
        if measured is None:
            if draw is not None:
                draw.delete()
        elif draw is None:
            UnitDraw.objects.create(unit=unit, jack=jack, measured=measured, on=timezone.localdate())
        elif draw.measured != measured:
            set_columns(draw, {"measured": measured, "on": timezone.localdate(), "by": ""})


def _move_to_model(pedal: Placement, model: PedalModel) -> None:
    jacks = {fold(jack.name): jack for jack in model.jacks.all()}
    for side, links in (("from_jack", pedal.links_out.all()), ("to_jack", pedal.links_in.all())):
        for link in links.select_related(side):
            former = getattr(link, side)
            jack = jacks.get(fold(former.name))
            if jack is not None and _joins_alike(side, jack.role, former.role):
                set_columns(link, {side: jack})
            else:
                link.delete()
    power_jacks = {fold(jack.name): jack for jack in model.power_jacks.all()}
    for row in pedal.feed_jacks.select_related("jack", "feed"):
        power_jack = power_jacks.get(fold(row.jack.name))
        if power_jack is not None:
            set_columns(row, {"jack": power_jack})
        elif row.feed.jacks.count() == 1:
            row.feed.delete()
        else:
            row.delete()


def _joins_alike(side: str, role: str, former: str) -> bool:
    """Whether this end may join what the former could, and so carries the same: a send as an out does."""
    at, other = (0, 1) if side == "from_jack" else (1, 0)
    joined, before = ({pair[other] for pair in JOINS if pair[at] == one} for one in (role, former))
    return bool(joined) and joined == before
