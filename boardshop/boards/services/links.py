"""Links between jacks: connect, change, remove."""

from typing import Any, TypedDict, Unpack

from boardshop.boards.errors import InputTaken, LoopsBack, WrongDirection
from boardshop.boards.models import Board, Link
from boardshop.boards.services.directory import Directory, End
from boardshop.boards.services.editing import board_edit, check_board, check_shop, set_columns
from boardshop.boards.services.made_cables import check_given
from boardshop.core.index import fold
from boardshop.core.vocabulary import JOINS
from boardshop.gear.models import CableType, PlugType

ONE_LINK = ("signal", "midi")
"""What only one link may bring to an input."""


class LinkColumns(TypedDict, total=False):
    """What may be said of a link besides its ends."""

    ref: str
    cable: CableType | None
    plug_from: PlugType | None
    plug_to: PlugType | None
    route: str
    length: int | None
    made: int | None
    screen: str


@board_edit
def connect_jacks(board: Board, source: str, target: str, **columns: Unpack[LinkColumns]) -> Link:
    """Link two jacks written as `P3.OUT` and `P4.IN`, in signal direction."""
    _check_columns(board, columns)
    directory = Directory(board)
    ends = _end_columns(directory, source, target)
    columns["ref"] = columns.get("ref") or directory.free_ref("W")
    return Link.objects.create(board=board, position=directory.next_position, **ends, **columns)


@board_edit
def change_link(board: Board, link: Link, source: str, target: str, **columns: Unpack[LinkColumns]) -> None:
    """Other ends, cable, plugs, route or lengths."""
    check_board(board, link)
    _check_columns(board, columns)
    check_given(link, {**columns})
    now = (ends_of(link)[0], ends_of(link)[1])
    is_moved = (fold(source), fold(target)) != (fold(now[0]), fold(now[1]))
    ends = _end_columns(Directory(board), source, target, but=now[1]) if is_moved else {}
    set_columns(link, {**ends, **columns})


@board_edit
def remove_link(board: Board, link: Link) -> None:
    check_board(board, link)
    link.delete()


def ends_of(link: Link) -> tuple[str, str]:
    """Both ends as `P3.OUT` and `P4.IN`; no query where the link was read with its items and jacks."""
    source = f"{link.from_item.ref}.{link.from_jack or link.from_name}"
    return source, f"{link.to_item.ref}.{link.to_jack or link.to_name}"


def what_passes(role: str) -> str:
    """What a link from a jack of this role carries."""
    return {"midi-out": "midi", "control": "control", "usb": "usb"}.get(role, "signal")


def check_join(start: End, end: End) -> None:
    """Raises LoopsBack or WrongDirection for two jacks that no link may join."""
    if start.item_id == end.item_id:
        raise LoopsBack(source=start, target=end)
    if (start.role, end.role) not in JOINS:
        raise WrongDirection(source=start, target=end)


def _end_columns(directory: Directory, source: str, target: str, but: str = "") -> dict[str, Any]:
    """`but` is the input that the link itself holds."""
    start, end = directory.find(source), directory.find(target)
    check_join(start, end)
    carries = what_passes(start.role)
    if carries in ONE_LINK and end.is_taken and fold(str(end)) != fold(but):
        raise InputTaken(target=end)
    return start.columns("from") | end.columns("to") | {"carries": carries}


def _check_columns(board: Board, columns: LinkColumns) -> None:
    check_shop(board, columns.get("cable"), columns.get("plug_from"), columns.get("plug_to"))
