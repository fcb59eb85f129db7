"""Cable, plugs and links of a plan: what joins two jacks, and what it is cut from.

Units as in `plan`: mm, pF/m; ``None`` means that nobody recorded it.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class CableType:
    ref: str
    pf_per_m: int | None = None
    diameter: float | None = None
    min_bend: float | None = None
    """Inside radius: whole when recorded; exactly 5 x diameter when not and the diameter is known."""
    cores: int | None = None
    price: float | None = None
    name: str = ""


@dataclass(frozen=True, slots=True)
class PlugType:
    ref: str
    connector: str | None = None
    reach: int | None = None
    width: int | None = None
    inside: int | None = None
    price: float | None = None
    name: str = ""
    fixing: str | None = None
    """How it holds its cable: a word of `vocabulary.FIXINGS`."""


@dataclass(frozen=True, slots=True)
class Link:
    """A signal, MIDI, control or USB connection in signal direction; ends are ``REF.JACK``."""

    ref: str
    source: str
    target: str
    cable: str | None = None
    plug_from: str | None = None
    plug_to: str | None = None
    route: str = "top"
    length: int | None = None
    made: int | None = None
    carries: str = "signal"
    screen: str = "joined"
    made_id: str | None = None
    """The id on the made cable's own labels."""
    made_test: str | None = None
    """`passed` or `failed`; None where it was not tested, or not wholly."""


@dataclass(frozen=True, slots=True)
class StockLength:
    cable: str
    length: int
    count: int = 1
    kind: str = "reel"


@dataclass(frozen=True, slots=True)
class Piece:
    ref: str
    cable: str
    cut_mm: int
