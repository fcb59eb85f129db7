"""The demo's gear: makers, names and values are invented; sizes and draws are of the usual order."""

from typing import Any

from boardshop.core.plan import (
    Jack,
    Mains,
    Outlet,
    OutletSetting,
    Pedal,
    Point,
    PowerJack,
    Supply,
)
from boardshop.ops.demo.drawer import LONG_RIDGE_LEADS, PEBBLE_LEADS, RIDGE_LEADS

BARREL = "barrel 5.5/2.1"


def need(rated: int | None, **facts: Any) -> PowerJack:
    """A 9 V centre-negative, negative-ground need, unless said otherwise."""
    usual: dict[str, Any] = {
        "current": "dc",
        "nominal": 9000,
        "min": 8500,
        "max": 9600,
        "polarity": "centre-negative",
        "ground_pole": "negative",
        "connector": BARREL,
        "sag": False,
        "share": "ok",
    }
    return PowerJack(rated=rated, **(usual | facts))


def side_jacks(width: int, depth: int, height: int = 22) -> tuple[Jack, ...]:
    """IN on the right, OUT on the left, power at the rear."""
    at = depth * 2 // 3
    return (
        Jack("IN", "in", "right", at, height, "6.35 TS", "mono"),
        Jack("OUT", "out", "left", at, height, "6.35 TS", "mono"),
        Jack("DC", "power", "rear", width // 2, height, BARREL),
    )


def rear_jacks(width: int, height: int = 24) -> tuple[Jack, ...]:
    """Everything at the rear: IN at the right, OUT at the left, power between."""
    return (
        Jack("IN", "in", "rear", width - 13, height, "6.35 TS", "mono"),
        Jack("OUT", "out", "rear", 13, height, "6.35 TS", "mono"),
        Jack("DC", "power", "rear", width // 2, height, BARREL),
    )


def pedal(kind: str, maker: str, name: str, size: tuple[int, int, int, int], **facts: Any) -> Pedal:
    """`size` is width, depth, height in mm and weight in g; jacks at the sides unless given."""
    width, depth, height, weight = size
    usual: dict[str, Any] = {
        "jacks": side_jacks(width, depth),
        "switches": (Point(width // 2, 28),),
        "bypass": "true",
        "input_ohm": 1_000_000,
        "output_ohm": 1_000,
        "circuit": "analog",
        "level": "instrument",
        "tracker": "none",
        "treadle": False,
        "screw_length": 8,
    }
    return Pedal(
        ref="",
        kind=kind,
        maker=maker,
        name=name,
        width=width,
        depth=depth,
        height=height,
        weight=weight,
        **(usual | facts),
    )


COMPACT = (73, 129, 55, 380)
SMALL = (62, 112, 52, 270)
WIDE = (120, 124, 56, 620)

PEDALS: dict[str, Pedal] = {
    "tuner": pedal(
        "tuner",
        "Pellow & Crane",
        "Tell True",
        COMPACT,
        circuit="digital",
        latency_ms=0.0,
        power=(need(45, peak=60),),
    ),
    "gate": pedal("noise-gate", "Pellow & Crane", "Hush Latch", SMALL, power=(need(14),)),
    "fuzz": pedal(
        "fuzz",
        "Ostrel",
        "Brass Moth",
        WIDE,
        input_ohm=12_000,
        output_ohm=8_000,
        power=(need(4, polarity="centre-negative", ground_pole="positive"),),
    ),
    "fuzz reversed": pedal(
        "fuzz",
        "Ostrel",
        "Tin Moth",
        WIDE,
        input_ohm=12_000,
        output_ohm=8_000,
        power=(need(5, polarity="centre-positive", ground_pole="positive"),),
    ),
    "fuzz modern": pedal("fuzz", "Tarnwick", "Coal Choir", SMALL, input_ohm=470_000, power=(need(8),)),
    "wah": pedal(
        "wah",
        "Vandrick Mill",
        "Long Vowel",
        (102, 254, 82, 1650),
        treadle=True,
        toe_height=112,
        input_ohm=80_000,
        output_ohm=10_000,
        switches=(Point(51, 235),),
        jacks=(
            Jack("IN", "in", "right", 190, 26, "6.35 TS", "mono"),
            Jack("OUT", "out", "left", 190, 26, "6.35 TS", "mono"),
            Jack("DC", "power", "right", 225, 26, BARREL),
        ),
        power=(need(6),),
    ),
    "compressor": pedal("compressor", "Pellow & Crane", "Even Hand", SMALL, power=(need(18),)),
    "pitch": pedal(
        "pitch-shifter",
        "Tarnwick",
        "Second Stair",
        COMPACT,
        circuit="digital",
        bypass="buffered",
        tracker="poly",
        latency_ms=2.4,
        power=(need(210, peak=260, share="poor"),),
    ),
    "boost": pedal("boost", "Ostrel", "Leg Up", SMALL, role="drive", power=(need(6, max=18_500),)),
    "boost out": pedal("boost", "Ostrel", "Step Forward", SMALL, role="level", power=(need(7),)),
    "overdrive": pedal("overdrive", "Ostrel", "Low Ember", COMPACT, power=(need(12),)),
    "overdrive two": pedal("overdrive", "Vandrick Mill", "Hearthside", SMALL, power=(need(16),)),
    "distortion": pedal("distortion", "Vandrick Mill", "Quarry", COMPACT, power=(need(23),)),
    "preamp": pedal("preamp", "Vandrick Mill", "Front Room", WIDE, power=(need(85),)),
    "eq": pedal("eq", "Pellow & Crane", "Nine Sills", COMPACT, role="level", power=(need(26, max=18_500),)),
    "volume": pedal(
        "volume",
        "Pellow & Crane",
        "Slow Door",
        (90, 256, 74, 1180),
        role="swell",
        treadle=True,
        toe_height=108,
        circuit="passive",
        input_ohm=250_000,
        output_ohm=62_500,
        bypass="always-on",
        switches=(Point(45, 128),),
        jacks=(
            Jack("IN", "in", "right", 215, 26, "6.35 TS", "mono"),
            Jack("OUT", "out", "left", 215, 26, "6.35 TS", "mono"),
        ),
        power=(),
    ),
    "phaser": pedal("phaser", "Tarnwick", "Weir", COMPACT, circuit="analog", power=(need(17),)),
    "chorus": pedal("chorus", "Tarnwick", "Slow Tide", COMPACT, circuit="clocked", power=(need(32),)),
    "tremolo": pedal("tremolo", "Vandrick Mill", "Lamp Flicker", SMALL, power=(need(21),)),
    "delay": pedal(
        "delay",
        "Tarnwick",
        "Far Shed",
        WIDE,
        circuit="digital",
        bypass="buffered",
        tails=True,
        latency_ms=0.8,
        jacks=rear_jacks(120),
        power=(need(180, peak=240, share="poor"),),
    ),
    "delay two": pedal(
        "delay",
        "Ostrel",
        "Rag Echo",
        COMPACT,
        circuit="clocked",
        bypass="true",
        tails=False,
        power=(need(38),),
    ),
    "reverb": pedal(
        "reverb",
        "Tarnwick",
        "Grain Hall",
        WIDE,
        circuit="digital",
        bypass="buffered",
        tails=True,
        latency_ms=1.2,
        jacks=rear_jacks(120),
        power=(need(235, peak=290, share="poor"),),
    ),
    "reverb wet": pedal(
        "reverb",
        "Ostrel",
        "Far Barn",
        COMPACT,
        circuit="digital",
        bypass="true",
        tails=False,
        kills_dry=True,
        inverts=False,
        latency_ms=1.1,
        power=(need(120, peak=150, share="poor"),),
    ),
    "splitter": pedal(
        "splitter",
        "Pellow & Crane",
        "Two Lanes",
        (45, 93, 50, 190),
        bypass="always-on",
        inverts=False,
        jacks=(
            Jack("IN", "in", "right", 62, 22, "6.35 TS", "mono"),
            Jack("A", "out", "left", 62, 22, "6.35 TS", "mono"),
            Jack("B", "out", "rear", 12, 22, "6.35 TS", "mono"),
            Jack("DC", "power", "rear", 34, 22, BARREL),
        ),
        switches=(),
        power=(need(6),),
    ),
    "mixer": pedal(
        "mixer",
        "Pellow & Crane",
        "Meeting Room",
        (62, 112, 52, 260),
        bypass="always-on",
        inverts=False,
        jacks=(
            Jack("IN1", "in", "right", 74, 22, "6.35 TS", "mono"),
            Jack("IN2", "in", "rear", 50, 22, "6.35 TS", "mono"),
            Jack("OUT", "out", "left", 74, 22, "6.35 TS", "mono"),
            Jack("DC", "power", "rear", 12, 22, BARREL),
        ),
        switches=(),
        power=(need(9),),
    ),
    "switcher": pedal(
        "switcher",
        "Vandrick Mill",
        "Three Gates",
        (330, 108, 56, 1450),
        circuit="digital",
        latency_ms=0.0,
        input_ohm=1_000_000,
        switches=(Point(55, 28), Point(165, 28), Point(275, 28)),
        jacks=(
            Jack("IN", "in", "rear", 310, 28, "6.35 TS", "mono"),
            *(
                Jack(f"{name}{number}", role, "rear", 300 - 78 * number + at, 28, "6.35 TS", "mono")
                for number in (1, 2, 3)
                for name, role, at in (("SEND", "send", 40), ("RETURN", "return", 2))
            ),
            Jack("OUT", "out", "rear", 24, 28, "6.35 TS", "mono"),
            Jack("DC", "power", "left", 54, 28, BARREL),
        ),
        power=(need(240, peak=280, share="poor"),),
    ),
    "looper": pedal(
        "looper",
        "Pellow & Crane",
        "Second Pass",
        COMPACT,
        circuit="digital",
        bypass="buffered",
        latency_ms=1.0,
        power=(need(150, peak=190, share="poor"),),
    ),
    "buffer": pedal(
        "buffer",
        "Pellow & Crane",
        "Clean Start",
        (45, 93, 50, 180),
        role="input",
        bypass="always-on",
        power=(need(5),),
    ),
    "unrecorded": pedal(
        "vibrato",
        "Wend",
        "Wood Reed",
        COMPACT,
        input_ohm=None,
        output_ohm=None,
        bypass=None,
        power=(PowerJack(current="dc", nominal=9000, connector=BARREL),),
    ),
}


def isolated(name: str, *settings: tuple[int, int], **facts: Any) -> Outlet:
    """A regulated isolated DC outlet; each setting is mV and the mA that it can carry there."""
    usual: dict[str, Any] = {
        "current": "dc",
        "polarity": "centre-negative",
        "connector": BARREL,
        "regulated": True,
        "sag": False,
        "parallel_ok": False,
        "series_ok": False,
    }
    return Outlet(
        name=name,
        settings=tuple(OutletSetting(mv, mv, limit) for mv, limit in settings),
        **(usual | facts),
    )


SUPPLIES: dict[str, Supply] = {
    "ridge": Supply(
        ref="",
        model="Undershaw Ridge 8",
        outlets=(
            *(isolated(str(n), (9000, 100), parallel_ok=True, series_ok=True) for n in range(1, 5)),
            *(isolated(str(n), (9000, 300)) for n in range(5, 8)),
            isolated("8", (9000, 500)),
        ),
        limit_mw=24_000,
        protection_class="II",
        earthed=False,
        mains=Mains(100_000, 240_000, (50, 60), "C8"),
        width=172,
        depth=82,
        height=38,
        weight=720,
        leads=RIDGE_LEADS,
        price=149.0,
        outlet_side="front",
        inlet_side="right",
        conversion="switch-mode",
    ),
    "long ridge": Supply(
        ref="",
        model="Undershaw Long Ridge 12",
        outlets=(
            *(isolated(str(n), (9000, 120)) for n in range(1, 7)),
            *(isolated(str(n), (9000, 400), (12_000, 300)) for n in range(7, 11)),
            isolated("11", (9000, 250), group="A", group_max_ma=400),
            isolated("12", (9000, 250), group="A", group_max_ma=400),
        ),
        limit_mw=36_000,
        protection_class="I",
        earthed=True,
        mains=Mains(100_000, 240_000, (50, 60), "C14"),
        width=238,
        depth=90,
        height=42,
        weight=1180,
        leads=LONG_RIDGE_LEADS,
        price=229.0,
        outlet_side="front",
        inlet_side="right",
        conversion="switch-mode",
    ),
    "pebble": Supply(
        ref="",
        model="Undershaw Pebble 5",
        outlets=tuple(isolated(str(n), (9000, 120), group="A", group_max_ma=500) for n in range(1, 6)),
        limit_mw=None,
        protection_class="II",
        earthed=False,
        mains=Mains(220_000, 240_000, (50,), "captive"),
        width=120,
        depth=60,
        height=32,
        weight=390,
        leads=PEBBLE_LEADS,
        price=59.0,
        outlet_side="front",
        inlet_side="left",
        conversion="linear",
    ),
}
