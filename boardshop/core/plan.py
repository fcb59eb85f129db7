"""The frozen plan of one board: what every computation reads, equal to the board file.

Units: mm, g, mA, mV, mW, pF (cable types pF/m), ohm, H.  ``None`` always means *nobody recorded it*; a
default named by the board-file format is filled in when the plan is made.  Player's view from above: x to
the right, y away from the player, origin at the frame's front left corner; turns are counter-clockwise.
"""

from dataclasses import dataclass, field
from typing import Literal

from boardshop.core.cabling import CableType as CableType
from boardshop.core.cabling import Link as Link
from boardshop.core.cabling import Piece as Piece
from boardshop.core.cabling import PlugType as PlugType
from boardshop.core.cabling import StockLength as StockLength
from boardshop.core.drawer import DcLead as DcLead
from boardshop.core.drawer import DrawerItem as DrawerItem
from boardshop.core.drawer import SupplyLead as SupplyLead
from boardshop.core.drawer import Tail as Tail
from boardshop.core.hashing import HashedOnce
from boardshop.core.shop_rules import Rules as Rules

Turn = Literal[0, 90, 180, 270]

SOURCE_JACK_NAME = "OUT"
"""The one jack of an instrument."""


@dataclass(frozen=True, slots=True)
class Point:
    x: int
    y: int


@dataclass(frozen=True, slots=True)
class Place:
    """Front left corner of the turned box."""

    x: int
    y: int
    turn: Turn = 0


@dataclass(frozen=True, slots=True)
class Rail:
    """A band in y that carries pedals."""

    from_y: int
    to_y: int


@dataclass(frozen=True, slots=True)
class Tier:
    from_y: int
    to_y: int
    height: int = 0


@dataclass(frozen=True, slots=True)
class Keepout:
    x: int
    y: int
    width: int
    depth: int
    why: str = ""


@dataclass(frozen=True, slots=True)
class Member:
    """A part of the frame under its top: a crossbar, a leg, a bracket."""

    x: int
    y: int
    width: int
    depth: int
    why: str = ""


@dataclass(frozen=True, slots=True)
class Under:
    """Free height below the top at the front and rear edge, mm, not always whole."""

    front: float
    rear: float


@dataclass(frozen=True, slots=True)
class Frame(HashedOnce):
    width: int
    depth: int
    surface: str = "slotted"
    rails: tuple[Rail, ...] = ()
    tiers: tuple[Tier, ...] = ()
    """Never empty in a loaded plan: one band over the whole depth at height 0 when none is given."""
    under: Under | None = None
    lid: int | None = None
    keepouts: tuple[Keepout, ...] = ()
    entry: Point | None = None
    """Where the instrument lead arrives (`in`); rear right corner when not given."""
    exit: Point | None = None
    """Where the amp lead leaves (`out`); rear left corner when not given."""
    weight: int | None = None
    plate_thickness: int | None = None
    """Of what a pedal is screwed to: a bottom screw may be longer by this much and no more."""
    members: tuple[Member, ...] = ()
    """What stands under the top; runs and supplies there go around it."""

    __hash__ = HashedOnce.__hash__


@dataclass(frozen=True, slots=True)
class Jack:
    name: str
    role: str
    side: str | None = None
    offset: int | None = None
    height: int | None = None
    connector: str | None = None
    channels: str | None = None


@dataclass(frozen=True, slots=True)
class PowerJack:
    """What one power jack of a pedal needs."""

    name: str = "DC"
    current: str | None = None
    nominal: int | None = None
    min: int | None = None
    max: int | None = None
    polarity: str | None = None
    ground_pole: str | None = None
    connector: str | None = None
    rated: int | None = None
    measured: int | None = None
    peak: int | None = None
    sag: bool | None = None
    share: str | None = None


@dataclass(frozen=True, slots=True)
class Pedal(HashedOnce):
    ref: str
    kind: str
    width: int
    depth: int
    name: str = ""
    role: str | None = None
    unit: str | None = None
    height: int | None = None
    weight: int | None = None
    jacks: tuple[Jack, ...] = ()
    switches: tuple[Point, ...] = ()
    treadle: bool | None = None
    bypass: str | None = None
    on: bool | None = None
    input_ohm: int | None = None
    input_pf: int = 0
    output_ohm: int | None = None
    circuit: str | None = None
    level: str | None = None
    tracker: str | None = None
    inverts: bool | None = None
    kills_dry: bool | None = None
    latency_ms: float | None = None
    tails: bool | None = None
    use: int = 0
    together: tuple[str, ...] = ()
    """Refs stepped on together with this one (`with` in the file)."""
    turns: tuple[Turn, ...] = (0,)
    place: Place | None = None
    pinned: bool = False
    power: tuple[PowerJack, ...] = ()
    battery: bool | None = None
    settings: str | None = None
    maker: str = ""
    toe_height: int | None = None
    """Of a treadle with its toe up, as it is parked."""
    screw_length: int | None = None
    """Of the screws that hold its bottom plate."""

    __hash__ = HashedOnce.__hash__


@dataclass(frozen=True, slots=True)
class Pickup:
    r: int | None = None
    l: float | None = None  # noqa: E741 - the board file's name for the inductance
    c: int | None = None


@dataclass(frozen=True, slots=True)
class Source:
    """An instrument; its one jack is ``OUT``."""

    ref: str
    pickup: Pickup | None = None
    volume_ohm: int | None = None
    tone_ohm: int | None = None
    tone_nf: float | None = None
    output_ohm: int | None = None


@dataclass(frozen=True, slots=True)
class EndJack:
    """A jack of an amp or a computer."""

    name: str
    role: str
    level: str | None = None


@dataclass(frozen=True, slots=True)
class Amp:
    ref: str
    input_ohm: int | None = None
    input_pf: int | None = None
    protection_class: str = "I"
    earthed: bool | None = None
    """Filled with true for class I when not given."""
    speaker: str | None = None
    jacks: tuple[EndJack, ...] = (EndJack("IN", "in"),)


@dataclass(frozen=True, slots=True)
class Computer:
    ref: str
    earthed: bool | None = None
    jacks: tuple[EndJack, ...] = ()


@dataclass(frozen=True, slots=True)
class OutletSetting:
    """One fixed voltage (``min_mv == max_mv``) or a variable range, with the limit that holds there."""

    min_mv: int
    max_mv: int
    max_ma: int | None = None


@dataclass(frozen=True, slots=True)
class Outlet:
    name: str
    current: str | None = None
    settings: tuple[OutletSetting, ...] = ()
    polarity: str | None = None
    connector: str | None = None
    regulated: bool | None = None
    sag: bool | None = None
    group: str | None = None
    """None = isolated; outlets of one supply with the same group share a return."""
    group_max_ma: int | None = None
    parallel_ok: bool | None = None
    series_ok: bool | None = None


@dataclass(frozen=True, slots=True)
class Mains:
    min: int | None = None
    max: int | None = None
    hz: tuple[int, ...] = ()
    inlet: str | None = None


@dataclass(frozen=True, slots=True)
class SupplyPlace:
    x: int
    y: int
    turn: Turn = 0
    under: bool = False


@dataclass(frozen=True, slots=True)
class Supply(HashedOnce):
    ref: str
    model: str | None = None
    outlets: tuple[Outlet, ...] = ()
    limit_mw: int | None = None
    protection_class: str | None = None
    earthed: bool | None = None
    mains: Mains | None = None
    width: int | None = None
    depth: int | None = None
    height: int | None = None
    weight: int | None = None
    leads: tuple[SupplyLead, ...] = ()
    """What comes with it."""
    price: float | None = None
    place: SupplyPlace | None = None
    outlet_side: str | None = None
    """On which side of its unturned box the outlets are."""
    inlet_side: str | None = None
    """On which side of its unturned box the mains goes in."""
    conversion: str | None = None

    __hash__ = HashedOnce.__hash__


@dataclass(frozen=True, slots=True)
class Feed:
    """One power connection: one outlet (or several joined ones) to one power jack (or a chain of them)."""

    outlets: tuple[str, ...]
    jacks: tuple[str, ...]
    settings: tuple[int | None, ...] = ()
    """Beside ``outlets``: mV chosen on each; None where the outlet has one voltage or nobody recorded it."""
    adapters: tuple[str, ...] = ()
    pinned: bool = False
    lead: DcLead | None = None


@dataclass(frozen=True, slots=True)
class Scene:
    name: str
    on: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Venue:
    mv: int | None = None
    hz: int | None = None
    plug: str | None = None


@dataclass(frozen=True, slots=True)
class Accepted:
    """A finding kept on purpose."""

    rule: str
    subjects: tuple[str, ...]
    why: str = ""
    by: str | None = None
    on: str | None = None
    """ISO 8601 date."""


@dataclass(frozen=True, slots=True)
class Incomplete:
    """An entry, as JSON, that lacks what would make it usable, and where it stands (`P3/switches`)."""

    where: str
    lacks: tuple[str, ...]
    text: str


@dataclass(frozen=True, slots=True)
class BoardPlan(HashedOnce):
    frame: Frame
    name: str = ""
    note: str = ""
    pedals: tuple[Pedal, ...] = ()
    sources: tuple[Source, ...] = ()
    amps: tuple[Amp, ...] = ()
    computers: tuple[Computer, ...] = ()
    cables: tuple[CableType, ...] = ()
    plugs: tuple[PlugType, ...] = ()
    links: tuple[Link, ...] = ()
    supplies: tuple[Supply, ...] = ()
    feeds: tuple[Feed, ...] = ()
    stock: tuple[StockLength, ...] = ()
    drawer: tuple[DrawerItem, ...] = ()
    pieces: tuple[Piece, ...] = ()
    scenes: tuple[Scene, ...] = ()
    venue: Venue | None = None
    accepted: tuple[Accepted, ...] = ()
    rules: Rules = field(default_factory=Rules)
    incomplete: tuple[Incomplete, ...] = ()

    __hash__ = HashedOnce.__hash__
