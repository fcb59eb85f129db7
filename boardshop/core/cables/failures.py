"""Failures of made cables counted: by plug type, by end, and by place in the chain, each with its sample.

Fewer than 20 cables are too few to judge by (common practice): then there are counts and no share.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from boardshop.core.cables.register_words import CABLE_ENDS, CHAIN_PLACES, JACK_WAS_GUILTY

FEWEST_CABLES = 20


@dataclass(frozen=True, slots=True)
class CableRecord:
    """A made cable, scrapped ones too: its plugs' types, blank where not recorded, and where it has been."""

    code: str
    plug_a: str = ""
    plug_b: str = ""
    chain_places: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FaultRecord:
    """A fault of the cable with this code: at which end, from what, and where in the chain it was then."""

    code: str
    end: str = ""
    cause: str = ""
    chain_place: str = ""


@dataclass(frozen=True, slots=True)
class FailureCount:
    """`failures` among `cables`; `percent` is failures per 100 cables, None where too few to judge by."""

    name: str
    cables: int
    failures: int

    @property
    def is_too_few(self) -> bool:
        return self.cables < FEWEST_CABLES

    @property
    def percent(self) -> int | None:
        return None if self.is_too_few else (200 * self.failures + self.cables) // (2 * self.cables)


@dataclass(frozen=True, slots=True)
class Failures:
    """Every failure stands once in `by_end`, once in `by_place` and once in `by_plug`."""

    cables: int
    failures: int
    jacks_guilty: int
    by_plug: tuple[FailureCount, ...]
    by_end: tuple[FailureCount, ...]
    by_place: tuple[FailureCount, ...]


NOT_FOUND = "end not found"
NOT_A_PLUG = "in the middle"
ON_NO_BOARD = "on no board"
NOT_RECORDED = "plug not recorded"


def count_failures(cables: Sequence[CableRecord], faults: Iterable[FaultRecord]) -> Failures:
    """Faults of cables that are not among these are left aside, and those where the jack was guilty apart."""
    by_code = {cable.code: cable for cable in cables}
    known = [fault for fault in faults if fault.code in by_code]
    failures = [fault for fault in known if fault.cause != JACK_WAS_GUILTY]
    return Failures(
        cables=len(cables),
        failures=len(failures),
        jacks_guilty=len(known) - len(failures),
        by_plug=_by_plug(cables, [(by_code[fault.code], fault) for fault in failures]),
        by_end=_by_end(len(cables), failures),
        by_place=_by_place(cables, failures),
    )


def _by_plug(
    cables: Sequence[CableRecord], failures: Sequence[tuple[CableRecord, FaultRecord]]
) -> tuple[FailureCount, ...]:
    ends = [_plug_at(cable, fault.end) for cable, fault in failures]
    names = sorted({name for cable in cables for name in _plugs_of(cable)}, key=str.casefold)
    rows = [
        FailureCount(name, sum(name in _plugs_of(cable) for cable in cables), ends.count(name))
        for name in names
    ]
    others = [FailureCount(name, len(cables), ends.count(name)) for name in (NOT_A_PLUG, NOT_FOUND)]
    return (*rows, *(row for row in others if row.failures))


def _plugs_of(cable: CableRecord) -> tuple[str, str]:
    return cable.plug_a or NOT_RECORDED, cable.plug_b or NOT_RECORDED


def _plug_at(cable: CableRecord, end: str) -> str:
    plug_a, plug_b = _plugs_of(cable)
    return {"A": plug_a, "B": plug_b, "middle": NOT_A_PLUG}.get(end, NOT_FOUND)


def _by_end(cables: int, failures: Sequence[FaultRecord]) -> tuple[FailureCount, ...]:
    ends = [fault.end for fault in failures]
    rows = [FailureCount(f"end {end}" if end != "middle" else NOT_A_PLUG, cables, ends.count(end))
            for end in CABLE_ENDS]  # fmt: skip
    return (*rows, FailureCount(NOT_FOUND, cables, sum(end not in CABLE_ENDS for end in ends)))


def _by_place(cables: Sequence[CableRecord], failures: Sequence[FaultRecord]) -> tuple[FailureCount, ...]:
    places = [fault.chain_place for fault in failures]
    rows = [
        FailureCount(place, sum(place in cable.chain_places for cable in cables), places.count(place))
        for place in CHAIN_PLACES
    ]
    others = sum(place not in CHAIN_PLACES for place in places)
    return (*rows, FailureCount(ON_NO_BOARD, sum(not cable.chain_places for cable in cables), others))
