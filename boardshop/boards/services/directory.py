"""What an edit must know of a board's jacks and refs, in one query whatever the board's size."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from django.db.models import OuterRef

from boardshop.boards.errors import JackUnknown
from boardshop.boards.models import Board, Item, Link
from boardshop.core.index import fold, split_end
from boardshop.core.plan import SOURCE_JACK_NAME
from boardshop.gear.models import PedalJack
from boardshop.gear.sheets import rows_as_json


@dataclass(frozen=True)
class End:
    """One end of a link: the item, its jack's name and role, and the jack's key at a pedal."""

    item_id: int
    ref: str
    name: str
    role: str
    jack_id: int | None
    is_taken: bool
    """A link that allows no second one leads here."""

    def __str__(self) -> str:
        return f"{self.ref}.{self.name}"

    def columns(self, side: str) -> dict[str, Any]:
        """The columns of a link that hold this end; `side` is from or to."""
        return {
            f"{side}_item_id": self.item_id,
            f"{side}_jack_id": self.jack_id,
            f"{side}_name": "" if self.jack_id else self.name,
        }


class Directory:
    """Every item of a board, its jacks, and which refs and positions are taken."""

    def __init__(self, board: Board) -> None:
        jacks = PedalJack.objects.filter(model=OuterRef("placement__model")).exclude(role="power")
        links = Link.objects.filter(to_item=OuterRef("pk"), carries__in=("signal", "midi"))
        self.items: list[Any] = list(
            Item.objects.filter(board=board)
            .select_related("source", "amp", "computer")
            .annotate(
                jack_rows=rows_as_json(jacks, "pk", "name", "role"),
                taken_rows=rows_as_json(links, "to_jack_id", "to_name"),
            )
        )
        ends = (end for item in self.items for end in _ends_of(item))
        self.ends = {fold(str(end)): end for end in ends}
        self.taken = {fold(item.ref) for item in self.items}
        self.next_position = max((item.position for item in self.items), default=-1) + 1

    def find(self, end: str) -> End:
        """The jack that `P3.OUT` names; raises JackUnknown."""
        found = self.ends.get(fold(end))
        if found is None:
            raise JackUnknown(end=end, item=split_end(end)[0])
        return found

    def free_ref(self, letter: str) -> str:
        """The first of W1, W2, ... that nothing of the board is called; taken from then on."""
        numbers = range(1, len(self.taken) + 2)
        ref = next(ref for n in numbers if fold(ref := f"{letter}{n}") not in self.taken)
        self.taken.add(fold(ref))
        return ref

    def first(self, kind: str) -> Any:
        """The first instrument (`source`) or amp of the board; None where there is none."""
        return next((getattr(item, kind) for item in self.items if hasattr(item, kind)), None)


def _ends_of(item: Any) -> Iterable[End]:
    """The signal, MIDI, control and USB jacks of an item."""
    taken = {(row["to_jack_id"], fold(row["to_name"])) for row in item.taken_rows}
    for row in item.jack_rows:
        yield End(item.pk, item.ref, row["name"], row["role"], row["pk"], (row["pk"], "") in taken)
    if hasattr(item, "source"):
        yield End(item.pk, item.ref, SOURCE_JACK_NAME, "out", None, is_taken=False)
    end = getattr(item, "amp", None) or getattr(item, "computer", None)
    for jack in end.all_jacks() if end is not None else ():
        is_taken = (None, fold(jack["name"])) in taken
        yield End(item.pk, item.ref, jack["name"], jack["role"], None, is_taken)
