"""Links between jacks: connect, change, remove."""

from dataclasses import dataclass
from typing import Any, TypedDict, Unpack

from boardshop.boards.errors import InputTaken, JackUnknown, LoopsBack, WrongDirection
from boardshop.boards.models import Amp, Board, Computer, Item, Link, Placement, Source
from boardshop.boards.services.editing import (
    board_edit,
    check_board,
    check_shop,
    free_ref,
    next_position,
    set_columns,
)
from boardshop.core.index import fold, split_end
from boardshop.core.plan import SOURCE_JACK_NAME
from boardshop.core.vocabulary import JOINS
from boardshop.gear.models import CableType, PedalJack, PlugType


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


@dataclass(frozen=True)
class End:
    """One end of a link: the item, its jack's name and role, and the jack's row at a pedal."""

    item: Item
    name: str
    role: str
    jack: PedalJack | None

    def __str__(self) -> str:
        return f"{self.item.ref}.{self.name}"

    def columns(self, side: str) -> dict[str, Any]:
        """The columns of a link that hold this end; `side` is from or to."""
        return {
            f"{side}_item": self.item,
            f"{side}_jack": self.jack,
            f"{side}_name": "" if self.jack else self.name,
        }


@board_edit
def connect_jacks(board: Board, source: str, target: str, **columns: Unpack[LinkColumns]) -> Link:
    """Link two jacks written as `P3.OUT` and `P4.IN`, in signal direction."""
    _check_columns(board, columns)
    columns["ref"] = columns.get("ref") or free_ref(board, "W")
    return Link.objects.create(
        board=board, position=next_position(board), **_end_columns(board, source, target), **columns
    )


@board_edit
def change_link(board: Board, link: Link, source: str, target: str, **columns: Unpack[LinkColumns]) -> None:
    """Other ends, cable, plugs, route or lengths."""
    check_board(board, link)
    _check_columns(board, columns)
    set_columns(link, {**_end_columns(board, source, target, but=link), **columns})


@board_edit
def remove_link(board: Board, link: Link) -> None:
    check_board(board, link)
    link.delete()


def find_end(board: Board, end: str) -> End:
    """The jack that `P3.OUT` names on this board; raises JackUnknown."""
    ref, name = split_end(end)
    for item in Item.objects.filter(board=board, ref__iexact=ref).select_related(
        "placement", "source", "amp", "computer"
    ):
        for found in jacks_of(item):
            if fold(found.name) == fold(name):
                return found
    raise JackUnknown(end=end, item=ref)


def jacks_of(item: Item) -> list[End]:
    """The signal, MIDI, control and USB jacks of an item."""
    if hasattr(item, "placement"):
        placement: Placement = item.placement
        jacks = placement.model.jacks.exclude(role="power")
        return [End(placement, jack.name, jack.role, jack) for jack in jacks]
    if hasattr(item, "source"):
        source: Source = item.source
        return [End(source, SOURCE_JACK_NAME, "out", None)]
    end: Amp | Computer | None = getattr(item, "amp", None) or getattr(item, "computer", None)
    return [] if end is None else [End(end, jack["name"], jack["role"], None) for jack in end.all_jacks()]


def _end_columns(board: Board, source: str, target: str, but: Link | None = None) -> dict[str, Any]:
    start, end = find_end(board, source), find_end(board, target)
    if start.item.pk == end.item.pk:
        raise LoopsBack(source=start, target=end)
    if (start.role, end.role) not in JOINS:
        raise WrongDirection(source=start, target=end)
    carries = what_passes(start.role)
    _check_input(end, carries, but)
    return start.columns("from") | end.columns("to") | {"carries": carries}


def what_passes(role: str) -> str:
    """What a link from a jack of this role carries."""
    return {"midi-out": "midi", "control": "control", "usb": "usb"}.get(role, "signal")


def _check_input(end: End, carries: str, but: Link | None) -> None:
    if carries not in ("signal", "midi"):
        return
    taken = Link.objects.filter(to_item=end.item, to_jack=end.jack, to_name="" if end.jack else end.name)
    if but is not None:
        taken = taken.exclude(pk=but.pk)
    if taken.exists():
        raise InputTaken(target=end)


def _check_columns(board: Board, columns: LinkColumns) -> None:
    check_shop(board, columns.get("cable"), columns.get("plug_from"), columns.get("plug_to"))
