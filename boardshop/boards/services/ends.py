"""Instruments, amps, computers and supplies: what stands around the pedals."""

from typing import Any

from boardshop.boards.models import Amp, Board, Computer, Item, Source, SupplyPlacement
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
from boardshop.gear.models import SupplyModel, Unit

type End = Source | Amp | Computer

LETTERS: dict[type[Item], str] = {Source: "G", Amp: "A", Computer: "M", SupplyPlacement: "S"}
"""First letter of the refs that are given when nobody types one."""


@board_edit
def add_end[T: (Source, Amp, Computer)](board: Board, /, kind: type[T], **columns: Any) -> T:
    """An instrument, amp or computer with these columns."""
    columns["ref"] = columns.get("ref") or free_ref(board, LETTERS[kind])
    return kind.objects.create(board=board, position=next_position(board), **columns)


@board_edit
def change_end(board: Board, /, end: End, **columns: Any) -> None:
    check_board(board, end)
    set_columns(end, columns)


@board_edit
def remove_end(board: Board, end: End) -> None:
    """Take it off the board, with its links."""
    check_board(board, end)
    end.delete()


@board_edit
def add_supply(board: Board, model: SupplyModel, unit: Unit | None = None, ref: str = "") -> SupplyPlacement:
    """A supply of this model, feeding nothing yet."""
    check_shop(board, model, unit)
    check_unit_free(unit)
    return SupplyPlacement.objects.create(
        board=board,
        position=next_position(board),
        ref=ref or free_ref(board, "S"),
        model=model,
        unit=unit,
    )


@board_edit
def place_supply(
    board: Board, supply: SupplyPlacement, x: int | None, y: int | None, turn: int, under: bool
) -> None:
    """Put the supply on the frame or under it; x and y None takes it away from there."""
    check_board(board, supply)
    change_columns(supply, {"x": x, "y": y, "turn": turn, "under": under})


@board_edit
def remove_supply(board: Board, supply: SupplyPlacement) -> None:
    """Take the supply off the board; what it fed is unfed then."""
    check_board(board, supply)
    board.feeds.filter(outlets__supply=supply).delete()
    supply.delete()
