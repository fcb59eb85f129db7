"""Whole boards: begin, import, copy, change."""

from collections.abc import Callable
from dataclasses import replace
from functools import wraps
from typing import Any, Concatenate

from django.db import transaction

from boardshop.boards.constraints import BOARD_REFUSALS, IMPORT_REFUSALS
from boardshop.boards.errors import BegunAlready, NameMissing
from boardshop.boards.history.recording import UNNAMED, record_begin
from boardshop.boards.models import Board, Frame
from boardshop.boards.models import Link as LinkRow
from boardshop.boards.plan.frames import frame_columns
from boardshop.boards.plan.made_cables import say_left
from boardshop.boards.plan.read import load_plan
from boardshop.boards.plan.write import store_plan
from boardshop.boards.services.editing import board_edit, change_columns, check_shop, set_columns
from boardshop.core.boardfile import load_plan_text
from boardshop.core.index import fold
from boardshop.core.plan import BoardPlan, Link, Pedal, Rules
from boardshop.core.plan import Frame as FrameValue
from boardshop.crew.constraints import refusals_by
from boardshop.crew.models import Client, Person, Shop
from boardshop.gear.models import FrameModel


def begun_once[**P](
    service: Callable[Concatenate[Any, P], Board],
) -> Callable[Concatenate[Any, P], Board]:
    """For a service of a shop, or of one of its boards, that begins a board and takes `begun_by`.

    The board that the same `begun_by` has begun is given back instead of another one, also where two
    requests came at once: the second waits at the constraint until the first is stored.  Blank begins a
    board in any case.
    """

    @wraps(service)
    def begin(where: Any, /, *args: P.args, **values: P.kwargs) -> Board:
        begun_by, shop = values.get("begun_by"), where if isinstance(where, Shop) else where.shop
        begun = Board.objects.filter(shop=shop, begun_by=begun_by)
        known = begun.first() if begun_by else None
        try:
            return known or service(where, *args, **values)
        except BegunAlready:
            return begun.get()

    return begin


@begun_once
@transaction.atomic
def begin_board(
    shop: Shop,
    *,
    name: str,
    client: Client | None,
    frame: FrameValue,
    model: FrameModel | None = None,
    begun_by: str = "",
    by: Person | None = None,
) -> Board:
    """An empty board on a frame of these sizes; `model` says where the sizes come from."""
    with refusals_by(BOARD_REFUSALS, **UNNAMED, board=name):
        board = Board.objects.create(shop=shop, name=name, client=client, begun_by=begun_by)
        check_shop(board, client, model)
        Frame.objects.create(board=board, model=model, **frame_columns(frame))
        record_begin(board, by, "The board was begun on an empty frame.")
    return board


@begun_once
def import_board(
    shop: Shop,
    text: bytes,
    *,
    name: str = "",
    client: Client | None = None,
    models_only: bool = False,
    begun_by: str = "",
    by: Person | None = None,
) -> Board:
    """A board from a board file, with its gear where the shop does not have it yet.

    `models_only` leaves serials and measured draws out, for a second board of the same gear.
    Raises RefusedBoardFile with every fault listed; nothing is stored then.
    """
    plan = load_plan_text(text)
    if models_only:
        plan = _without_units(plan)
    title = name or plan.name
    if not title:
        raise NameMissing
    with refusals_by(IMPORT_REFUSALS, **UNNAMED, board=title, name=title):
        board = store_plan(shop, plan, name=title, client=client, begun_by=begun_by)
        record_begin(
            board, by, " ".join(["The board was begun from a board file.", *_say_left_cables(board, plan)])
        )
    return board


@begun_once
def copy_board(
    board: Board, *, name: str, client: Client | None, begun_by: str = "", by: Person | None = None
) -> Board:
    """Another board with the same gear, places, wiring and feeds; the units stay with the first one.

    One unit cannot be on two boards, so the copy names models only, without what was measured on units; what
    is made of a cable of the register is to be made anew.
    """
    plan = _without_cables(_without_units(load_plan(board)))
    with refusals_by(BOARD_REFUSALS, **UNNAMED, board=name):
        copy = store_plan(board.shop, plan, name=name, client=client, begun_by=begun_by)
        record_begin(copy, by, f"The board was begun as a copy of {board.name} ({board.code}).")
    return copy


def _say_left_cables(board: Board, plan: BoardPlan) -> list[str]:
    """A sentence for each made cable of the file that was not taken."""
    if all(link.made_id is None and link.made_test is None for link in plan.links):
        return []
    taken = LinkRow.objects.filter(board=board, made_cable__isnull=False).values_list("ref", flat=True)
    return say_left(plan.links, map(fold, taken))


def _without_units(plan: BoardPlan) -> BoardPlan:
    return replace(plan, pedals=tuple(_without_unit(pedal) for pedal in plan.pedals))


def _without_cables(plan: BoardPlan) -> BoardPlan:
    return replace(plan, links=tuple(map(_without_cable, plan.links)))


def _without_cable(link: Link) -> Link:
    return link if link.made_id is None else replace(link, made=None, made_id=None, made_test=None)


def _without_unit(pedal: Pedal) -> Pedal:
    return replace(pedal, unit=None, power=tuple(replace(jack, measured=None) for jack in pedal.power))


@board_edit
def change_board(board: Board, /, **columns: Any) -> None:
    """Other name, client, note, rules or venue."""
    check_shop(board, columns.get("client"))
    set_columns(board, columns)


@board_edit
def follow_school(board: Board, /, school: str) -> None:
    """Judge the order by this school from now on; nothing is moved."""
    others = {name: value for name, value in board.rules.items() if name != "school"}
    change_columns(board, {"rules": others if school == Rules().school else others | {"school": school}})


@board_edit
def change_frame(board: Board, /, frame: FrameValue, model: FrameModel | None = None) -> None:
    """Other sizes, rails, tiers or room; the pedals stay where they are."""
    check_shop(board, model)
    set_columns(board.frame, {**frame_columns(frame), "model": model})
