"""The page on which a board's name, limits, venue and frame are changed."""

from __future__ import annotations

from typing import Any

from django.urls import reverse

from boardshop.boards.forms.edits import EditForm
from boardshop.boards.forms.whole import BoardForm, BoardFrameForm, board_values
from boardshop.boards.models import Board
from boardshop.boards.pages.page import FormPage
from boardshop.boards.plan.frames import frame_value
from boardshop.core import plan as core
from boardshop.gear.forms.frames import WIDE
from boardshop.gear.records import FrameRecord

BOARD_KEY, FRAME_KEY, REMOVE_KEY = "board", "frame", "remove-board"


def whole_page(board: Board) -> FormPage:
    return FormPage(
        template="boards/change_board.html",
        back=reverse("board", args=[board.code]),
        tab="board",
        context={},
        forms={
            BOARD_KEY: lambda: board_form(board),
            FRAME_KEY: lambda: frame_form(board),
            REMOVE_KEY: lambda: EditForm(key=REMOVE_KEY),
        },
    )


def board_form(board: Board, data: Any = None) -> BoardForm:
    return BoardForm(data, key=BOARD_KEY, shop=board.shop, initial=board_values(board))


def frame_form(board: Board, data: Any = None) -> BoardFrameForm:
    """The frame as it is, or as it was typed."""
    frame, shown = frame_value(board.frame), board.frame
    columns = ("width", "depth", "surface", "under_front", "under_rear", "lid", "weight", "plate_thickness")
    points = ("entry_x", "entry_y", "exit_x", "exit_y")
    values = {name: getattr(shown, name) for name in (*columns, *points)}
    values |= {name: getattr(frame, name) for name in WIDE}
    return BoardFrameForm(data, key=FRAME_KEY, unit=board.shop.length_unit, initial=values)


def frame_of(record: FrameRecord) -> core.Frame:
    """The frame that a checked record describes."""
    front, rear = record.under_front, record.under_rear
    return core.Frame(
        width=record.width,
        depth=record.depth,
        surface=record.surface,
        rails=record.rails,
        tiers=record.tiers,
        under=None if front is None or rear is None else core.Under(float(front), float(rear)),
        lid=record.lid,
        keepouts=record.keepouts,
        entry=_point(record.entry_x, record.entry_y),
        exit=_point(record.exit_x, record.exit_y),
        weight=record.weight,
        plate_thickness=record.plate_thickness,
        members=record.members,
    )


def _point(x: int | None, y: int | None) -> core.Point | None:
    return None if x is None or y is None else core.Point(x, y)
