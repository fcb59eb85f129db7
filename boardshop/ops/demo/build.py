"""From a short description of a demo board to its whole plan."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from boardshop.core.defaults import fill_defaults
from boardshop.core.plan import (
    Accepted,
    Amp,
    BoardPlan,
    DcLead,
    Feed,
    Frame,
    Keepout,
    Link,
    Member,
    Pedal,
    Pickup,
    Place,
    Rail,
    Rules,
    Scene,
    Source,
    StockLength,
    SupplyPlace,
    Under,
    Venue,
)
from boardshop.ops.demo.cables import CABLES, PLUGS
from boardshop.ops.demo.catalogue import PEDALS, SUPPLIES

SIDE_ROOM, REAR_ROOM, BETWEEN = 16, 2, 4
"""A flat plug and its air beside a side jack; the air beside a plain side; the least between two boxes."""

BIG_RAILS = ((0, 80), (100, 180), (210, 290), (310, 380))


@dataclass(frozen=True)
class Fed:
    """How one pedal is fed: outlet, chosen mV, adapters, length of the lead."""

    outlet: str
    setting: int | None = None
    adapters: tuple[str, ...] = ()
    lead_mm: int | None = 500


@dataclass(frozen=True)
class Row:
    """Pedals beside each other from left to right; `y` is their front edge, `x` where the row begins."""

    y: int
    refs: tuple[str, ...]
    x: int = 0


@dataclass(frozen=True)
class Sketch:
    """A demo board in short: `stands` names the pedals by ref in signal order, `rows` where they lie."""

    name: str
    stands: Mapping[str, str]
    rows: Sequence[Row]
    frame: Frame
    supplies: Mapping[str, tuple[str, SupplyPlace | None]]
    feeds: Mapping[str, Fed]
    wired: Sequence[str] = ()
    """Link by link, `P1.OUT > P2.IN`; without it the pedals follow each other."""
    source: Source = field(default_factory=lambda: single_coil())
    amps: Sequence[Amp] = ()
    facts: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    measured: Mapping[str, int] = field(default_factory=dict)
    under: Sequence[str] = ()
    scenes: Sequence[Scene] = ()
    accepted: Sequence[Accepted] = ()
    stock: Sequence[StockLength] = ()
    venue: Venue | None = None
    rules: Rules = field(default_factory=Rules)
    note: str = ""


def single_coil(ref: str = "G1") -> Source:
    return Source(ref, Pickup(6_000, 2.5, 110), volume_ohm=250_000, tone_ohm=250_000, tone_nf=22.0)


def dual_coil(ref: str = "G1") -> Source:
    return Source(ref, Pickup(8_000, 4.5, 150), volume_ohm=500_000, tone_ohm=500_000, tone_nf=22.0)


LEG = 24
"""mm along each side of a leg, one under each corner of a big frame."""


def big_frame(width: int = 760, **facts: Any) -> Frame:
    """A slotted frame 380 deep on four rails, with room for a supply under its rear."""
    usual: dict[str, Any] = {
        "rails": tuple(Rail(low, high) for low, high in BIG_RAILS),
        "under": Under(front=24, rear=78),
        "lid": 130,
        "weight": 3400,
        "plate_thickness": 3,
        "members": tuple(Member(x, y, LEG, LEG, "leg") for x in (0, width - LEG) for y in (0, 380 - LEG)),
    }
    return Frame(width, 380, **(usual | facts))


def small_frame(width: int = 520, **facts: Any) -> Frame:
    """A flat plate 320 deep; its supply lies on top or under the rear half."""
    usual: dict[str, Any] = {"surface": "flat", "under": Under(front=20, rear=66), "lid": 125, "weight": 2300}
    usual["plate_thickness"] = 2
    return Frame(width, 320, **(usual | facts))


def handle(frame: Frame) -> Frame:
    """The same frame with a hand hole at its rear edge that must stay free."""
    middle = frame.width // 2 - 60
    return replace(frame, keepouts=(*frame.keepouts, Keepout(middle, frame.depth - 10, 120, 10, "hand hole")))


def build(sketch: Sketch) -> BoardPlan:
    """The plan of a demo board, defaults filled in."""
    places = {ref: place for row in sketch.rows for ref, place in _lay(row, sketch.stands)}
    return fill_defaults(
        BoardPlan(
            frame=sketch.frame,
            name=sketch.name,
            note=sketch.note,
            pedals=tuple(_pedal(sketch, ref, places) for ref in sketch.stands),
            sources=(sketch.source,),
            amps=tuple(sketch.amps) or (Amp("A1", input_ohm=1_000_000, input_pf=20, speaker="guitar"),),
            cables=tuple(CABLES.values()),
            plugs=tuple(PLUGS.values()),
            links=_links(sketch),
            supplies=tuple(
                replace(SUPPLIES[key], ref=ref, place=place) for ref, (key, place) in sketch.supplies.items()
            ),
            feeds=tuple(_feed(ref, fed) for ref, fed in sketch.feeds.items()),
            stock=tuple(sketch.stock),
            scenes=tuple(sketch.scenes),
            venue=sketch.venue,
            accepted=tuple(sketch.accepted),
            rules=sketch.rules,
        )
    )


def _pedal(sketch: Sketch, ref: str, places: Mapping[str, Place]) -> Pedal:
    sheet = PEDALS[sketch.stands[ref]]
    facts = {"on": False, **sketch.facts.get(ref, {})}
    power = sheet.power
    if ref in sketch.measured:
        power = tuple(replace(jack, measured=sketch.measured[ref]) for jack in power)
    return replace(sheet, ref=ref, place=places.get(ref), power=power, **facts)


def _lay(row: Row, stands: Mapping[str, str]) -> list[tuple[str, Place]]:
    x, right_room = row.x, 0
    placed: list[tuple[str, Place]] = []
    for ref in row.refs:
        sheet = PEDALS[stands[ref]]
        left, right = (_room(sheet, side) for side in ("left", "right"))
        x += max(BETWEEN if placed else 0, _meeting(right_room, left))
        placed.append((ref, Place(x, row.y)))
        x, right_room = x + sheet.width, right
    return placed


def _meeting(one: int, other: int) -> int:
    """Two plugs that face each other keep one air between them."""
    return one + other - REAR_ROOM if one > REAR_ROOM and other > REAR_ROOM else max(one, other)


def _room(sheet: Pedal, side: str) -> int:
    return SIDE_ROOM if any(jack.side == side for jack in sheet.jacks) else REAR_ROOM


def _links(sketch: Sketch) -> tuple[Link, ...]:
    joins = [tuple(join.split(" > ")) for join in sketch.wired] or _in_a_row(sketch)
    return tuple(_link(sketch, f"W{number}", *join) for number, join in enumerate(joins, start=1))


def _in_a_row(sketch: Sketch) -> list[tuple[str, str]]:
    amp = sketch.amps[0].ref if sketch.amps else "A1"
    outs = [f"{ref}.OUT" for ref in (sketch.source.ref, *sketch.stands)]
    ins = [f"{ref}.IN" for ref in (*sketch.stands, amp)]
    return list(zip(outs, ins, strict=True))


def _link(sketch: Sketch, ref: str, source: str, target: str) -> Link:
    """A lead where one end leaves the board, else a patch that is cut."""
    if {source.split(".")[0], target.split(".")[0]} <= sketch.stands.keys():
        route = "under" if ref in sketch.under else "top"
        return Link(ref, source, target, "C1", "J1", "J1", route=route)
    return Link(ref, source, target, "C2", "J1", "J1", length=6000)


def _feed(ref: str, fed: Fed) -> Feed:
    lead = DcLead(length=fed.lead_mm, awg=24, connector="barrel 5.5/2.1", plug="J3")
    return Feed((fed.outlet,), (f"{ref}.DC",), (fed.setting,), fed.adapters, lead=lead)
