"""How each pedal is held on the frame, for the layout page and the build sheet."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass

from boardshop.boards.sheet import BoardSheet
from boardshop.core.fastening import Fastening, list_fastenings


@dataclass(frozen=True)
class FasteningRow:
    ref: str
    number: int | None
    name: str
    hold: Fastening


@dataclass(frozen=True)
class FasteningTable:
    """The rows in signal order, and how many want more than hook-and-loop or a look at what is missing."""

    rows: list[FasteningRow]

    @property
    def memory(self) -> Hashable:
        """All that is shown of it; see templatetags/remembered.py."""
        return tuple(self.rows)

    @property
    def stops(self) -> int:
        return sum(row.hold.wants_stop is True for row in self.rows)

    @property
    def too_heavy(self) -> int:
        return sum(row.hold.does_fit is False for row in self.rows)

    @property
    def unweighed(self) -> int:
        return sum(row.hold.needed_cm2 is None for row in self.rows)


def tell_fastening(sheet: BoardSheet) -> FasteningTable:
    holds = {hold.ref: hold for hold in list_fastenings(sheet.plan)}
    return FasteningTable(
        [
            FasteningRow(pedal.ref, sheet.numbers.get(pedal.ref), pedal.name or pedal.kind, holds[pedal.ref])
            for pedal in sheet.pedals
        ]
    )
