"""What every edit of a board shares: one transaction, the edit number seen, refusals in sentences."""

from collections.abc import Callable
from functools import wraps
from typing import Any, Concatenate, cast

from django.db.models import F
from django.utils import timezone

from boardshop.boards.constraints import BOARD_REFUSALS
from boardshop.boards.errors import NotOfThisBoard, NotOfThisShop, StaleEdit
from boardshop.boards.models import Board, Item
from boardshop.crew.constraints import refusals_by

UNNAMED = {
    "thing": "It",
    "ref": "This ref",
    "target": "This input",
    "jack": "This power jack",
    "outlet": "This outlet",
    "unit": "This unit",
    "there": "on a board",
}
"""What a refusal calls things where only Postgres noticed it and the constraint alone is known."""

type Service[**P, R] = Callable[Concatenate[Board, P], R]
type Edit[**P, R] = Callable[Concatenate[Board, int, P], R]


class _Unchanged(Exception):
    """What was sent is what is stored already."""


def board_edit[**P, R](
    service: Callable[Concatenate[Board, P], R],
) -> Callable[Concatenate[Board, int, P], R]:
    """Make a service an edit: `service(board, ...)` is called as `service(board, seen, ...)`.

    `seen` is the edit number that the person's page showed.  Raises StaleEdit when the board has moved on;
    otherwise the board carries the next number, and the row stays locked until the edit is stored whole.
    A service that only calls `change_columns` leaves the number as it is where nothing differs.
    """

    @wraps(service)
    def edit(board: Board, seen: int, /, *args: P.args, **values: P.kwargs) -> R:
        named = UNNAMED | ({"ref": f"“{values['ref']}”"} if values.get("ref") else {})
        changed_at = board.changed_at
        try:
            with refusals_by(BOARD_REFUSALS, **named, board=board.name):
                _count_edit(board, seen)
                return service(board, *args, **values)
        except _Unchanged:
            board.edit_number, board.changed_at = seen, changed_at
            return cast("R", None)  # What only changes columns gives nothing back.

    return edit


def _count_edit(board: Board, seen: int) -> None:
    now = timezone.now()
    rows = Board.objects.filter(pk=board.pk, edit_number=seen)
    if not rows.update(edit_number=F("edit_number") + 1, changed_at=now):
        raise StaleEdit(board=board.name)
    board.edit_number, board.changed_at = seen + 1, now


def check_shop(board: Board, *things: Any) -> None:
    """Raises NotOfThisShop for gear of another shop; None is nobody's."""
    for thing in things:
        if thing is not None and thing.shop_id != board.shop_id:
            raise NotOfThisShop(thing=str(thing))


def check_board(board: Board, *things: Any) -> None:
    """Raises NotOfThisBoard for a row of another board."""
    for thing in things:
        if thing.board_id != board.pk:
            raise NotOfThisBoard(thing=str(thing), board=board.name)


def free_ref(board: Board, letter: str) -> str:
    """The first of P1, P2, ... that nothing of the board is called."""
    taken = {ref.casefold() for ref in Item.objects.filter(board=board).values_list("ref", flat=True)}
    return next(ref for n in range(1, len(taken) + 2) if (ref := f"{letter}{n}").casefold() not in taken)


def next_position(board: Board) -> int:
    """Behind everything else that is listed."""
    last = Item.objects.filter(board=board).order_by("-position").values_list("position", flat=True).first()
    return 0 if last is None else last + 1


def set_columns(row: Any, values: dict[str, Any]) -> None:
    """Store these columns of one row and no others."""
    for name, value in values.items():
        setattr(row, name, value)
    if values:
        row.save(update_fields=list(values))


def change_columns(row: Any, values: dict[str, Any]) -> None:
    """As `set_columns`, for a service that does nothing else: the same values again are no edit."""
    if all(getattr(row, name) == value for name, value in values.items()):
        raise _Unchanged
    set_columns(row, values)
