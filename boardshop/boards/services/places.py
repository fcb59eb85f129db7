"""Where things lie: several pedals and supplies put down, moved or taken off in one edit."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from boardshop.boards.errors import NotOfThisBoard
from boardshop.boards.history.recording import Unchanged
from boardshop.boards.models import Board, Placement, SupplyPlacement
from boardshop.boards.services.editing import board_edit
from boardshop.core.index import fold
from boardshop.core.plan import Turn


@dataclass(frozen=True)
class Spot:
    """A thing and its front left corner after its turn; x and y None takes it off the frame.

    What is None of the rest stays as it is: a pedal keeps its pin, a supply its side of the frame's top.
    """

    ref: str
    x: int | None = None
    y: int | None = None
    turn: Turn | None = None
    pinned: bool | None = None
    under: bool | None = None


@board_edit
def place_bodies(board: Board, spots: Sequence[Spot]) -> None:
    """Put each thing where its spot says; raises NotOfThisBoard for a ref that is none of its bodies."""
    wanted = {fold(spot.ref): spot for spot in spots}
    pedals = _change(Placement, board, wanted, ("x", "y", "turn", "pinned"))
    supplies = _change(SupplyPlacement, board, wanted, ("x", "y", "turn", "under"))
    if missing := wanted.keys() - pedals.keys() - supplies.keys():
        raise NotOfThisBoard(thing=wanted[min(missing)].ref, board=board.name)
    if not any((*pedals.values(), *supplies.values())):
        raise Unchanged


def _change(
    model: type[Placement] | type[SupplyPlacement],
    board: Board,
    wanted: Mapping[str, Spot],
    columns: tuple[str, ...],
) -> dict[str, bool]:
    """By folded ref, whether the row is another one then."""
    rows = [row for row in _list_rows(model, board) if fold(row.ref) in wanted]
    changed = {fold(row.ref): _set(row, wanted[fold(row.ref)], columns) for row in rows}
    model.objects.bulk_update([row for row in rows if changed[fold(row.ref)]], columns)
    return changed


def _list_rows(model: Any, board: Board) -> list[Any]:
    return list(
        model.objects.filter(board=board).only(
            "ref", "x", "y", "turn", "pinned" if model is Placement else "under"
        )
    )


def _set(row: Any, spot: Spot, columns: Sequence[str]) -> bool:
    values = {name: getattr(spot, name) for name in columns}
    # A place is set whole; of the rest only what is said.
    values = {name: value for name, value in values.items() if name in ("x", "y") or value is not None}
    is_changed = any(getattr(row, name) != value for name, value in values.items())
    for name, value in values.items():
        setattr(row, name, value)
    return is_changed
