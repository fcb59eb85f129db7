"""The six demo boards. Each imperfection is one that happens on real boards and says so in its comment."""

from boardshop.core.plan import Accepted, Amp, BoardPlan, EndJack, Scene, StockLength, SupplyPlace, Venue
from boardshop.ops.demo.build import (
    Fed,
    Row,
    Sketch,
    big_frame,
    build,
    dual_coil,
    handle,
    small_frame,
)

ARTISTS = ("Maren Oakhollow", "The Tallow Fleet")
CUSTOMER = "Jory Brindlecroft"


OAKHOLLOW_MAIN = Sketch(
    name="Oakhollow main",
    note="Stage right of the drum riser; lead comes in at the rear right corner.",
    stands={
        "P1": "tuner",
        "P2": "fuzz",
        "P3": "wah",
        "P4": "compressor",
        "P5": "overdrive",
        "P6": "distortion",
        "P7": "chorus",
        "P8": "delay",
        "P9": "phaser",
        "P10": "reverb",
        "P11": "tremolo",
        "P12": "looper",
    },
    rows=(
        Row(14, ("P6", "P5", "P4", "P2", "P1")),
        Row(2, ("P3",), x=642),
        Row(224, ("P12", "P11", "P10", "P9", "P8", "P7")),
    ),
    frame=handle(big_frame(780)),
    supplies={"S1": ("ridge", SupplyPlace(250, 270, 0, under=True))},
    feeds={
        "P1": Fed("S1.1"),
        "P2": Fed("S1.2"),
        "P3": Fed("S1.4", lead_mm=700),
        "P4": Fed("S1.3"),
        # Two drives share an outlet with the compressor by a chain at the last moment.
        "P5": Fed("S1.3"),
        "P6": Fed("S1.3"),
        # The delay went into a 100 mA outlet at the last change-over.
        "P8": Fed("S1.4", lead_mm=400),
        "P7": Fed("S1.5"),
        "P9": Fed("S1.5"),
        "P10": Fed("S1.6"),
        "P11": Fed("S1.7"),
        "P12": Fed("S1.8"),
    },
    measured={"P10": 228, "P12": 141, "P1": 42},
    facts={
        "P1": {"unit": "PC-20117", "use": 2},
        "P3": {"use": 4},
        "P5": {"on": True, "use": 5, "settings": "gain 9 o'clock, tone noon, level 2 o'clock"},
        "P8": {"unit": "TW-0461", "use": 3, "settings": "420 ms, three repeats"},
        "P10": {"unit": "TW-0780", "on": True},
    },
    scenes=(Scene("verse", ("P5", "P10")), Scene("lead", ("P2", "P5", "P8", "P10"))),
    stock=(
        StockLength("C1", 480, 1, "offcut"),
        StockLength("C1", 730, 2, "offcut"),
        StockLength("C1", 30_000, 1, "reel"),
    ),
    venue=Venue(230_000, 50, "F"),
)
"""Twelve pedals: the delay overloads its outlet, the phaser stands after the delay, one draw is high."""


OAKHOLLOW_FLY = Sketch(
    name="Oakhollow fly rig",
    note="Hand luggage; lives in the grey bag.",
    stands={
        "P1": "buffer",
        "P2": "tuner",
        "P3": "compressor",
        "P4": "overdrive",
        "P5": "distortion",
        "P6": "chorus",
        "P7": "delay",
        "P8": "reverb",
    },
    rows=(Row(14, ("P5", "P4", "P3", "P2", "P1")), Row(174, ("P8", "P7", "P6"))),
    frame=small_frame(520),
    supplies={"S1": ("ridge", SupplyPlace(170, 200, 0, under=True))},
    feeds={
        "P1": Fed("S1.1"),
        "P2": Fed("S1.2"),
        "P3": Fed("S1.3"),
        "P4": Fed("S1.4"),
        "P5": Fed("S1.5"),
        "P6": Fed("S1.6"),
        "P7": Fed("S1.8"),
        "P8": Fed("S1.7"),
    },
    facts={"P4": {"on": True, "use": 5}, "P2": {"use": 3}},
    venue=Venue(120_000, 60, "B"),
)
"""Eight pedals in a flight bag, everything recorded: the clean board."""


TALLOW_LEFT = Sketch(
    name="Tallow left",
    stands={
        "P1": "buffer",
        "P2": "tuner",
        "P3": "fuzz reversed",
        "P4": "wah",
        "P5": "compressor",
        "P6": "pitch",
        "P7": "boost",
        "P8": "overdrive",
        "P9": "distortion",
        "P10": "gate",
        "P11": "volume",
        "P12": "unrecorded",
        "P13": "chorus",
        "P14": "delay",
        "P15": "delay two",
        "P16": "reverb",
        "P17": "tremolo",
        "P18": "looper",
    },
    rows=(
        Row(2, ("P11",), x=0),
        Row(14, ("P9", "P8", "P7", "P6", "P5", "P3", "P2", "P1"), x=122),
        Row(2, ("P4",), x=964),
        Row(224, ("P18", "P17", "P16", "P15", "P14", "P13", "P12", "P10"), x=122),
    ),
    frame=handle(big_frame(1100)),
    supplies={
        "S1": ("long ridge", SupplyPlace(380, 270, 0, under=True)),
        "S2": ("pebble", SupplyPlace(700, 280, 0, under=True)),
    },
    feeds={
        "P1": Fed("S1.1"),
        "P2": Fed("S1.2"),
        # Bought last week: its plug is centre-positive and it sits on an ordinary lead.
        "P3": Fed("S1.3"),
        "P4": Fed("S1.4", lead_mm=800),
        "P5": Fed("S1.5"),
        # Nobody wrote down which voltage was set for the shifter.
        "P6": Fed("S1.7"),
        "P7": Fed("S1.6"),
        "P8": Fed("S2.1"),
        "P9": Fed("S2.2"),
        "P10": Fed("S2.3"),
        "P13": Fed("S2.4"),
        "P14": Fed("S1.8", 9000),
        "P15": Fed("S1.11"),
        "P16": Fed("S1.9", 9000),
        "P17": Fed("S1.12"),
        "P18": Fed("S1.10", 9000),
    },
    # The second amp hummed, so somebody taped its earth; the board must not be plugged in like that.
    amps=(
        Amp("A1", input_ohm=1_000_000, input_pf=20, protection_class="I", earthed=False, speaker="guitar"),
        Amp("A2", input_ohm=1_000_000, input_pf=20, protection_class="I", earthed=True, speaker="guitar"),
    ),
    source=dual_coil(),
    under=("W12",),
    venue=Venue(230_000, 50, "G"),
)
"""Eighteen pedals on two supplies: a reversed fuzz, an amp whose earth was lifted, a blank sheet.

The second supply is a linear one, and the wah stands rather near it."""


TALLOW_RIGHT = Sketch(
    name="Tallow right",
    stands={
        "P1": "tuner",
        "P2": "wah",
        "P3": "fuzz modern",
        "P4": "overdrive two",
        "P5": "distortion",
        "P6": "eq",
        "P7": "delay two",
        "P8": "tremolo",
        "P9": "reverb",
        "P10": "looper",
    },
    rows=(
        Row(14, ("P5", "P4", "P3", "P1")),
        Row(2, ("P2",), x=502),
        Row(224, ("P10", "P9", "P8", "P7", "P6")),
    ),
    frame=big_frame(640),
    supplies={"S1": ("ridge", SupplyPlace(200, 270, 0, under=True))},
    feeds={
        "P1": Fed("S1.1"),
        "P2": Fed("S1.2", lead_mm=700),
        "P3": Fed("S1.3"),
        "P4": Fed("S1.4"),
        "P5": Fed("S1.5"),
        "P6": Fed("S1.5"),
        "P7": Fed("S1.6"),
        "P8": Fed("S1.6"),
        "P9": Fed("S1.7"),
        "P10": Fed("S1.8"),
    },
    facts={"P4": {"on": True, "use": 5}, "P9": {"on": True}},
    accepted=(
        Accepted(
            "R23",
            ("P8", "P9"),
            "Tails fill the gaps of the tremolo in the second song.",
            "crew",
            "2026-10-03",
        ),
    ),
    venue=Venue(230_000, 50, "G"),
)
"""Ten pedals; the tremolo before the reverb is how the player wants it, and written down."""


TALLOW_CENTRE = Sketch(
    name="Tallow centre",
    note="Four cables to the amp; the reverb runs beside the dry sound.",
    stands={
        "P1": "tuner",
        "P2": "switcher",
        "P3": "fuzz modern",
        "P4": "overdrive two",
        "P5": "distortion",
        "P6": "chorus",
        "P7": "delay two",
        "P8": "splitter",
        "P9": "reverb wet",
        "P10": "mixer",
    },
    wired=(
        "G1.OUT > P1.IN",
        "P1.OUT > P2.IN",
        "P2.SEND1 > P3.IN",
        "P3.OUT > P2.RETURN1",
        # The distortion went in front of the overdrive when the loop was taken apart.
        "P2.SEND2 > P5.IN",
        "P5.OUT > P4.IN",
        "P4.OUT > P2.RETURN2",
        "P2.SEND3 > A1.IN",
        "A1.SEND > P2.RETURN3",
        "P2.OUT > P6.IN",
        "P6.OUT > P7.IN",
        "P7.OUT > P8.IN",
        "P8.A > P10.IN1",
        "P8.B > P9.IN",
        "P9.OUT > P10.IN2",
        "P10.OUT > A1.RETURN",
    ),
    rows=(
        Row(14, ("P2",), x=300),
        Row(14, ("P1",), x=680),
        Row(224, ("P10", "P9", "P8", "P7", "P6", "P5", "P4", "P3")),
    ),
    frame=big_frame(860),
    supplies={"S1": ("long ridge", SupplyPlace(300, 270, 0, under=True))},
    feeds={
        "P1": Fed("S1.1"),
        "P2": Fed("S1.7", 9000, lead_mm=700),
        "P3": Fed("S1.2"),
        "P4": Fed("S1.3"),
        "P5": Fed("S1.4"),
        "P6": Fed("S1.5"),
        "P7": Fed("S1.6"),
        "P8": Fed("S1.11"),
        "P9": Fed("S1.8", 9000),
        "P10": Fed("S1.12"),
    },
    facts={"P4": {"on": True, "use": 5}, "P9": {"on": True}},
    amps=(
        Amp(
            "A1",
            input_ohm=1_000_000,
            input_pf=20,
            protection_class="I",
            earthed=True,
            speaker="guitar",
            jacks=tuple(EndJack(name.upper(), name, "instrument") for name in ("in", "send", "return")),
        ),
    ),
    scenes=(
        Scene("rhythm", ("P4", "P9")),
        Scene("lead", ("P4", "P5", "P7", "P9")),
        Scene("clean", ("P6", "P9")),
    ),
    venue=Venue(230_000, 50, "G"),
)
"""Ten pedals around a switcher with three loops, the amp in one of them, a wet branch behind."""


BRINDLECROFT = Sketch(
    name="Brindlecroft order 14",
    stands={
        "P1": "tuner",
        "P2": "boost",
        "P3": "overdrive",
        "P4": "overdrive two",
        "P5": "preamp",
        "P6": "phaser",
        "P7": "delay two",
        "P8": "reverb",
        "P9": "boost out",
    },
    rows=(Row(14, ("P4", "P3", "P2", "P1")), Row(174, ("P7", "P6", "P5"))),
    frame=small_frame(560),
    supplies={"S1": ("pebble", SupplyPlace(220, 230, 0, under=True))},
    feeds={
        "P1": Fed("S1.1"),
        "P2": Fed("S1.2", lead_mm=None),
        "P3": Fed("S1.3", lead_mm=None),
        "P4": Fed("S1.4", lead_mm=None),
        "P5": Fed("S1.5", lead_mm=None),
        "P6": Fed("S1.4", lead_mm=None),
        "P7": Fed("S1.3"),
    },
    facts={"P3": {"use": 5}},
    note="Collection on the 18th; the player brings his own guitar for the test.",
)
"""Nine pedals made to order, half way: two lie beside the frame, and most leads are to be chosen."""


def demo_boards() -> list[tuple[str, BoardPlan]]:
    """Each board with whose it is."""
    return [
        (ARTISTS[0], build(OAKHOLLOW_MAIN)),
        (ARTISTS[0], build(OAKHOLLOW_FLY)),
        (ARTISTS[1], build(TALLOW_LEFT)),
        (ARTISTS[1], build(TALLOW_RIGHT)),
        (ARTISTS[1], build(TALLOW_CENTRE)),
        (CUSTOMER, build(BRINDLECROFT)),
    ]
