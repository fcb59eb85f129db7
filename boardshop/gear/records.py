"""What a person records about a piece of gear: a form, a row of a CSV and a row of the database meet here.

Lengths mm, masses g, currents mA, voltages mV, powers mW; None and blank text = nobody recorded it.
Jacks, power jacks, outlets, rails and the like are the core's own values.
"""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from boardshop.core import plan as core
from boardshop.core.drawer import say_spare

USUAL_JACKS = (core.Jack("IN", "in"), core.Jack("OUT", "out"))
"""What a pedal is taken to have where nobody wrote its jacks down; a form shows them at first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PedalRecord:
    name: str
    kind: str
    width: int
    depth: int
    maker: str = ""
    role: str = ""
    height: int | None = None
    weight: int | None = None
    treadle: bool | None = None
    toe_height: int | None = None
    screw_length: int | None = None
    bypass: str = ""
    input_ohm: int | None = None
    input_pf: int = 0
    output_ohm: int | None = None
    circuit: str = ""
    level: str = ""
    tracker: str = ""
    inverts: bool | None = None
    kills_dry: bool | None = None
    latency_ms: Decimal | None = None
    tails: bool | None = None
    battery: bool | None = None
    turns: tuple[int, ...] = (0,)
    note: str = ""
    jacks: tuple[core.Jack, ...] = ()
    switches: tuple[core.Point, ...] = ()
    power: tuple[core.PowerJack, ...] = ()

    def __str__(self) -> str:
        return f"{self.maker} {self.name}".strip()


@dataclass(frozen=True, slots=True, kw_only=True)
class SupplyRecord:
    name: str
    maker: str = ""
    width: int | None = None
    depth: int | None = None
    height: int | None = None
    weight: int | None = None
    limit_mw: int | None = None
    protection_class: str = ""
    earthed: bool | None = None
    mains_min_mv: int | None = None
    mains_max_mv: int | None = None
    mains_hz: tuple[int, ...] = ()
    inlet: str = ""
    outlet_side: str = ""
    inlet_side: str = ""
    conversion: str = ""
    price: Decimal | None = None
    note: str = ""
    outlets: tuple[core.Outlet, ...] = ()
    leads: tuple[core.SupplyLead, ...] = ()

    def __str__(self) -> str:
        return f"{self.maker} {self.name}".strip()


@dataclass(frozen=True, slots=True, kw_only=True)
class CableRecord:
    name: str
    pf_per_m: int | None = None
    diameter: Decimal | None = None
    min_bend: int | None = None
    cores: int | None = None
    price: Decimal | None = None

    def __str__(self) -> str:
        return self.name


@dataclass(frozen=True, slots=True, kw_only=True)
class PlugRecord:
    name: str
    connector: str = ""
    reach: int | None = None
    width: int | None = None
    inside: int | None = None
    price: Decimal | None = None
    fixing: str = ""

    def __str__(self) -> str:
        return self.name


@dataclass(frozen=True, slots=True, kw_only=True)
class FrameRecord:
    name: str
    width: int
    depth: int
    maker: str = ""
    surface: str = "slotted"
    rails: tuple[core.Rail, ...] = ()
    tiers: tuple[core.Tier, ...] = ()
    keepouts: tuple[core.Keepout, ...] = ()
    members: tuple[core.Member, ...] = ()
    under_front: Decimal | None = None
    under_rear: Decimal | None = None
    lid: int | None = None
    entry_x: int | None = None
    entry_y: int | None = None
    exit_x: int | None = None
    exit_y: int | None = None
    weight: int | None = None
    plate_thickness: int | None = None

    def __str__(self) -> str:
        return f"{self.maker} {self.name}".strip()


@dataclass(frozen=True, slots=True, kw_only=True)
class StockRecord:
    cable: str
    length: int
    kind: str = "reel"
    count: int = 1
    tag: str = ""

    def __str__(self) -> str:
        return f"{self.cable}, {self.kind} {self.tag}".strip()


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadyMadeRecord:
    """One sort of finished cable; `length` is between its plugs."""

    name: str
    length: int
    connector: str = ""
    far_connector: str = ""
    pf_per_m: int | None = None
    price: Decimal | None = None
    count: int = 0

    def __str__(self) -> str:
        return self.name


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawerRecord:
    """Leads or adapters of one sort in the drawer."""

    kind: str
    length: int | None = None
    awg: int | None = None
    mm2: Decimal | None = None
    connector: str = ""
    count: int = 1
    note: str = ""

    def __str__(self) -> str:
        return say_spare(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class Draw:
    """What one power jack of a unit was measured to draw."""

    measured: int
    jack: str = "DC"
    on: date | None = None
    by: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitRecord:
    """`what` says in which list the model stands: `pedal` or `supply`."""

    model: str
    what: str = "pedal"
    maker: str = ""
    serial: str = ""
    owner: str = ""
    condition: str = ""
    location: str = ""
    settings: str = ""
    note: str = ""
    draws: tuple[Draw, ...] = ()

    def __str__(self) -> str:
        return " ".join(part for part in (self.maker, self.model, self.serial) if part)


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeCableRecord:
    """Types are named as the shop's lists have them; `length` is the cut length, plugs' insides included."""

    length: int
    kind: str = "signal"
    cable: str = ""
    reel: str = ""
    plug_a: str = ""
    plug_b: str = ""
    made_by: str = ""
    made_on: date | None = None
    place: str = "spare"
    where: str = ""
    note: str = ""

    def __str__(self) -> str:
        return "this cable"


type GearRecord = (
    PedalRecord
    | SupplyRecord
    | CableRecord
    | PlugRecord
    | FrameRecord
    | StockRecord
    | ReadyMadeRecord
    | DrawerRecord
    | UnitRecord
    | MadeCableRecord
)
