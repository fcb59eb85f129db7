"""What every edit of a board shares: one transaction, the edit number seen, refusals in sentences."""

from collections.abc import Callable
from functools import wraps
from typing import Any, Concatenate, cast

from boardshop.boards.errors import NotOfThisBoard, NotOfThisShop
from boardshop.boards.history.recording import UNNAMED, Unchanged, recorded
from boardshop.boards.models import Board, Item

type Service[**P, R] = Callable[Concatenate[Board, P], R]
type Edit[**P, R] = Callable[Concatenate[Board, int, P], R]


def board_edit[**P, R](
    service: Callable[Concatenate[Board, P], R],
) -> Callable[Concatenate[Board, int, P], R]:
    """Make a service an edit: `service(board, ...)` is called as `service(board, seen, ...)`.

    `seen` is the edit number that the person's page showed; what the edit changes is recorded for the
    person for whom the board was got.  A service that changes nothing leaves no record.
    Raises StaleEdit when the board has moved on.
    """

    @wraps(service)
    def edit(board: Board, seen: int, /, *args: P.args, **values: P.kwargs) -> R:
        given: list[R] = []
        with recorded(board, seen, ref=f"“{values['ref']}”" if values.get("ref") else UNNAMED["ref"]):
            given.append(service(board, *args, **values))
        # What only changes columns, and found nothing to change, gives nothing.
        return given[0] if given else cast("R", None)

    return edit


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
        raise Unchanged
    set_columns(row, values)
