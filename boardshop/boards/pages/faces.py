"""A supply as the unit that it is: its outlets in a row as they lie on it, with what hangs on each."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import groupby

from boardshop.boards.pages.beside import Beside, BySubject
from boardshop.boards.pages.load_words import LoadWords, say_outlet, say_sum
from boardshop.boards.pages.wording import say_load, say_settings, say_volts
from boardshop.boards.sheet import BoardSheet
from boardshop.core.index import fold, index_plan
from boardshop.core.plan import Outlet, Supply
from boardshop.core.power import OutletRow, SumRow
from boardshop.core.power.connections import find_power_jack

WIDEST = 4
"""So many outlets stand side by side where there is room."""


@dataclass(frozen=True)
class Chip:
    """One power jack as something that can be taken and put on an outlet."""

    ref: str
    number: int | str
    name: str
    draws: str

    @property
    def key(self) -> str:
        return f"chip-{self.ref.replace('.', '-')}"

    @property
    def anchor(self) -> str:
        """The row of the same jack further down."""
        return f"feed-{self.ref.replace('.', '-')}"


@dataclass(frozen=True)
class OutletCard:
    """One outlet with its load; the numbers are the core's own row."""

    outlet: Outlet
    row: OutletRow
    load: LoadWords
    set_to: str
    """The voltage in use; blank where nothing tells."""
    offers: tuple[str, ...]
    """Each voltage that it has, with its limit."""
    chips: tuple[Chip, ...]
    beside: Beside

    @property
    def ref(self) -> str:
        return self.row.ref

    @property
    def key(self) -> str:
        return f"outlet-{self.ref.replace('.', '-')}"


@dataclass(frozen=True)
class Bay:
    """An isolated outlet, or neighbours of one group; `total` stands once, where a group begins."""

    group: str
    cards: tuple[OutletCard, ...]
    total: LoadWords | None
    is_rest: bool
    """Whether the group has stood further up already."""
    beside: Beside

    @property
    def span(self) -> int:
        return min(len(self.cards), WIDEST)


@dataclass(frozen=True)
class Face:
    """One supply, its outlets and the sum of all."""

    supply: Supply
    total: SumRow
    load: LoadWords
    bays: tuple[Bay, ...]
    beside: Beside


class FaceDrawing:
    """What the faces of one board's supplies are made from."""

    def __init__(self, sheet: BoardSheet, found: BySubject) -> None:
        self.sheet, self.found, self.planned = sheet, found, sheet.plan.rules.planned_percent
        self.outlets = _by_ref(sheet.power.outlets)
        self.groups, self.supplies = _by_ref(sheet.power.groups), _by_ref(sheet.power.supplies)

    def draw(self) -> list[Face]:
        return [self._face(supply) for supply in self.sheet.plan.supplies]

    def chip(self, end: str) -> Chip:
        fed = find_power_jack(index_plan(self.sheet.plan), end)
        number = self.sheet.numbers.get(fed.pedal.ref, fed.pedal.ref)
        return Chip(fed.ref, number, fed.pedal.name or fed.pedal.kind, say_load(fed.jack))

    def _face(self, supply: Supply) -> Face:
        cards = [self._card(supply, outlet) for outlet in supply.outlets]
        neighbours = [list(cards) for _, cards in groupby(enumerate(cards), key=_bay_of)]
        bays: list[Bay] = []
        for numbered in neighbours:
            bays.append(self._bay(supply, tuple(card for _, card in numbered), bays))
        total = self.supplies[fold(supply.ref)]
        return Face(supply, total, say_sum(total, self.planned), tuple(bays), self.found.of(supply.ref))

    def _bay(self, supply: Supply, cards: tuple[OutletCard, ...], before: list[Bay]) -> Bay:
        group = cards[0].outlet.group
        if group is None:
            return Bay("", cards, None, False, Beside())
        ref = f"{supply.ref}/{group}"
        is_rest = any(fold(bay.group) == fold(group) for bay in before)
        found = Beside(ref) if is_rest else self.found.of(ref)
        return Bay(group, cards, say_sum(self.groups[fold(ref)], self.planned), is_rest, found)

    def _card(self, supply: Supply, outlet: Outlet) -> OutletCard:
        row = self.outlets[fold(f"{supply.ref}.{outlet.name}")]
        only = outlet.settings[0] if len(outlet.settings) == 1 else None
        fixed = only.min_mv if only and only.min_mv == only.max_mv else None
        setting = row.setting_mv or fixed
        return OutletCard(
            outlet=outlet,
            row=row,
            load=say_outlet(row, self.planned),
            set_to="" if setting is None else say_volts(setting),
            offers=tuple(say_settings(outlet)),
            chips=tuple(self.chip(end) for end in row.feeds),
            beside=self.found.of(row.ref),
        )


def _bay_of(numbered: tuple[int, OutletCard]) -> str:
    """The group, or for an isolated outlet a name of its own."""
    number, card = numbered
    return f"={number}" if card.outlet.group is None else f"/{fold(card.outlet.group)}"


def _by_ref[R: (OutletRow, SumRow)](rows: tuple[R, ...]) -> Mapping[str, R]:
    return {fold(row.ref): row for row in rows}


def list_waiting(sheet: BoardSheet, drawing: FaceDrawing) -> list[Chip]:
    """Every jack that nothing feeds, by the pedals' numbers."""
    waiting = {fold(end) for end in sheet.power.unfed}
    ends = (f"{pedal.ref}.{jack.name}" for pedal in sheet.pedals for jack in pedal.power)
    listed = [end for end in ends if fold(end) in waiting]
    named = {fold(end) for end in listed}
    return [drawing.chip(end) for end in (*listed, *(e for e in sheet.power.unfed if fold(e) not in named))]
