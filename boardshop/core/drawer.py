"""DC leads, and the drawer in which a shop keeps them and its adapters; part of the plan's values."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Protocol


@dataclass(frozen=True, slots=True)
class Tail:
    """The piece of a chained DC lead that ends in one jack."""

    length: int | None = None
    mm2: float | None = None
    awg: int | None = None


@dataclass(frozen=True, slots=True)
class DcLead:
    length: int | None = None
    mm2: float | None = None
    awg: int | None = None
    connector: str | None = None
    plug: str | None = None
    tails: tuple[Tail, ...] = ()


@dataclass(frozen=True, slots=True)
class SupplyLead:
    """DC leads of one sort that come with a supply; ``connector`` is the plug at the pedal's end."""

    length: int | None = None
    awg: int | None = None
    mm2: float | None = None
    connector: str | None = None
    count: int = 1


@dataclass(frozen=True, slots=True)
class DrawerItem:
    """Things of one sort in the shop's drawer: a lead, or an adapter of the kinds that a feed may name.

    ``connector`` is the plug at the pedal's end; it, the length and the gauge may be known of any of them.
    """

    kind: str
    length: int | None = None
    awg: int | None = None
    mm2: float | None = None
    connector: str | None = None
    count: int = 1


class Spare(Protocol):
    """Anything that carries the facts of a lead or adapter; what has no ``kind`` is a lead."""

    @property
    def length(self) -> int | None: ...
    @property
    def awg(self) -> int | None: ...
    @property
    def mm2(self) -> float | Decimal | None: ...
    @property
    def connector(self) -> str | None: ...


def say_spare(one: Spare) -> str:
    """`lead, 300 mm, AWG 22, barrel 5.5/2.1`; only what is recorded."""
    facts = [
        str(getattr(one, "kind", "lead")),
        "" if one.length is None else f"{one.length} mm",
        "" if one.awg is None else f"AWG {one.awg}",
        "" if one.mm2 is None else f"{Decimal(str(one.mm2)).normalize():f} mm²",
        one.connector or "",
    ]
    return ", ".join(fact for fact in facts if fact)
