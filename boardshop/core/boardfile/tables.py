"""The board file's field tables, version 1: every key in the format's order with the shape of its value.

The loader checks and the dumper writes from these alone.
"""

from boardshop.core import plan
from boardshop.core import vocabulary as words
from boardshop.core.boardfile.amounts import AMOUNT, ANY, SIZE, TURN
from boardshop.core.boardfile.power_tables import DRAWER_ITEM, FEED, SUPPLY
from boardshop.core.boardfile.shapes import (
    MOST_MEETING,
    Date,
    Decimal,
    Fixed,
    Flag,
    ListOf,
    Name,
    OneOrMany,
    Record,
    Ref,
    Shape,
    Text,
    Whole,
    Word,
)

POINT = Record(plan.Point, {"x": ANY, "y": ANY}, needed=("x", "y"))
BAND: dict[str, Shape] = {"from": ANY, "to": ANY}
BAND_NAMES = {"from": "from_y", "to": "to_y"}
RAIL = Record(plan.Rail, BAND, needed=("from", "to"), renamed=BAND_NAMES)
TIER = Record(plan.Tier, BAND | {"height": AMOUNT}, needed=("from", "to"), renamed=BAND_NAMES)
KEEPOUT = Record(
    plan.Keepout,
    {"x": ANY, "y": ANY, "width": SIZE, "depth": SIZE, "why": Text()},
    needed=("x", "y", "width", "depth"),
)
MEMBER = Record(
    plan.Member,
    {"x": ANY, "y": ANY, "width": SIZE, "depth": SIZE, "why": Text()},
    needed=("x", "y", "width", "depth"),
)
UNDER = Record(plan.Under, {"front": Decimal(), "rear": Decimal()}, needed=("front", "rear"))

FRAME = Record(
    plan.Frame,
    {
        "width": SIZE,
        "depth": SIZE,
        "surface": Word(words.SURFACES),
        "rails": ListOf(RAIL),
        "tiers": ListOf(TIER),
        "under": UNDER,
        "lid": AMOUNT,
        "keepouts": ListOf(KEEPOUT, most=MOST_MEETING),
        "in": POINT,
        "out": POINT,
        "weight": AMOUNT,
        "plate_thickness": SIZE,
        "members": ListOf(MEMBER, most=MOST_MEETING),
    },
    required=("width", "depth"),
    renamed={"in": "entry", "out": "exit"},
)

JACK = Record(
    plan.Jack,
    {
        "name": Name(),
        "role": Word(words.JACK_ROLES),
        "side": Word(words.SIDES),
        "offset": AMOUNT,
        "height": AMOUNT,
        "connector": Word(words.CONNECTORS),
        "channels": Word(words.CHANNELS),
    },
    required=("name", "role"),
)

POWER_JACK = Record(
    plan.PowerJack,
    {
        "name": Name(),
        "current": Word(words.CURRENTS),
        "nominal": AMOUNT,
        "min": AMOUNT,
        "max": AMOUNT,
        "polarity": Word(words.POLARITIES),
        "ground_pole": Word(words.GROUND_POLES),
        "connector": Word(words.CONNECTORS),
        "rated": AMOUNT,
        "measured": AMOUNT,
        "peak": AMOUNT,
        "sag": Flag(),
        "share": Word(words.SHARES),
    },
)

PLACE = Record(plan.Place, {"x": ANY, "y": ANY, "turn": TURN}, needed=("x", "y"))

PEDAL = Record(
    plan.Pedal,
    {
        "ref": Ref(),
        "maker": Text(),
        "name": Text(),
        "kind": Word(words.KINDS),
        "role": Word(words.ROLES),
        "unit": Text(),
        "width": SIZE,
        "depth": SIZE,
        "height": SIZE,
        "weight": AMOUNT,
        "jacks": ListOf(JACK),
        "switches": ListOf(POINT),
        "treadle": Flag(),
        "toe_height": SIZE,
        "screw_length": SIZE,
        "bypass": Word(words.BYPASSES),
        "on": Flag(),
        "input_ohm": AMOUNT,
        "input_pf": AMOUNT,
        "output_ohm": AMOUNT,
        "circuit": Word(words.CIRCUITS),
        "level": Word(words.LEVELS),
        "tracker": Word(words.TRACKERS),
        "inverts": Flag(),
        "kills_dry": Flag(),
        "latency_ms": Decimal(),
        "tails": Flag(),
        "use": Whole(least=0, most=5),
        "with": ListOf(Name()),
        "turns": ListOf(TURN),
        "place": PLACE,
        "pinned": Flag(),
        "power": OneOrMany(POWER_JACK),
        "battery": Flag(),
        "settings": Text(),
    },
    required=("ref", "kind", "width", "depth"),
    renamed={"with": "together"},
)

PICKUP = Record(plan.Pickup, {"r": AMOUNT, "l": Decimal(), "c": AMOUNT})

SOURCE = Record(
    plan.Source,
    {
        "ref": Ref(),
        "pickup": PICKUP,
        "volume_ohm": AMOUNT,
        "tone_ohm": AMOUNT,
        "tone_nf": Decimal(),
        "output_ohm": AMOUNT,
    },
    required=("ref",),
)

AMP_JACK = Record(
    plan.EndJack,
    {"name": Name(), "role": Word(words.JACK_ROLES), "level": Word(words.LEVELS)},
    required=("name", "role"),
)

AMP = Record(
    plan.Amp,
    {
        "ref": Ref(),
        "input_ohm": AMOUNT,
        "input_pf": AMOUNT,
        "class": Word(words.PROTECTION_CLASSES),
        "earthed": Flag(),
        "speaker": Word(words.SPEAKERS),
        "jacks": ListOf(AMP_JACK),
    },
    required=("ref",),
    renamed={"class": "protection_class"},
)

COMPUTER_JACK = Record(
    plan.EndJack,
    {"name": Name(), "role": Word(("usb", "midi-in", "midi-out"))},
    required=("name", "role"),
)

COMPUTER = Record(
    plan.Computer, {"ref": Ref(), "earthed": Flag(), "jacks": ListOf(COMPUTER_JACK)}, required=("ref",)
)

CABLE = Record(
    plan.CableType,
    {
        "ref": Ref(),
        "name": Text(),
        "pf_per_m": AMOUNT,
        "diameter": Decimal(above_zero=True),
        "min_bend": AMOUNT,
        "cores": AMOUNT,
        "price": Decimal(),
    },
    required=("ref",),
)

PLUG = Record(
    plan.PlugType,
    {
        "ref": Ref(),
        "name": Text(),
        "connector": Word(words.CONNECTORS),
        "reach": SIZE,
        "width": SIZE,
        "inside": AMOUNT,
        "price": Decimal(),
        "fixing": Word(words.FIXINGS),
    },
    required=("ref",),
)

LINK = Record(
    plan.Link,
    {
        "ref": Ref(),
        "from": Name(),
        "to": Name(),
        "cable": Name(),
        "plug_from": Name(),
        "plug_to": Name(),
        "route": Word(words.ROUTES),
        "length": SIZE,
        "made": SIZE,
        "carries": Word(words.CARRIES),
        "screen": Word(words.SCREENS),
        "made_id": Name(),
        "made_test": Word(words.MADE_TESTS),
    },
    required=("ref", "from", "to"),
    renamed={"from": "source", "to": "target"},
)

STOCK = Record(
    plan.StockLength,
    {"cable": Name(), "length": SIZE, "count": AMOUNT, "kind": Word(words.STOCK_KINDS)},
    needed=("cable", "length"),
)

PIECE = Record(
    plan.Piece, {"ref": Ref(), "cable": Name(), "cut_mm": SIZE}, required=("ref",), needed=("cable", "cut_mm")
)

RULES = Record(
    plan.Rules,
    {
        "school": Word(words.SCHOOLS),
        "headroom_percent": AMOUNT,
        "drop_percent": AMOUNT,
        "slack_percent": AMOUNT,
        "slack_min_mm": AMOUNT,
        "round_up_mm": AMOUNT,
        "kerf_mm": AMOUNT,
        "trim_mm": AMOUNT,
        "keep_offcut_mm": AMOUNT,
        "gap_mm": AMOUNT,
        "plug_gap_mm": AMOUNT,
        "under_gap_mm": AMOUNT,
        "switch_gap_mm": AMOUNT,
        "switch_min_mm": AMOUNT,
        "together_mm": ListOf(AMOUNT, length=2),
        "reach_mm": AMOUNT,
        "spare_percent": AMOUNT,
        "pass_mm": AMOUNT,
        "bypass_pf": AMOUNT,
        "contact_ohm": Decimal(),
    },
)

BOARD = Record(
    plan.BoardPlan,
    {
        "format": Fixed(words.FORMAT),
        "version": Fixed(words.VERSION),
        "name": Text(),
        "note": Text(),
        "frame": FRAME,
        "pedals": ListOf(PEDAL, most=MOST_MEETING),
        "sources": ListOf(SOURCE, most=MOST_MEETING),
        "amps": ListOf(AMP, most=MOST_MEETING),
        "computers": ListOf(COMPUTER, most=MOST_MEETING),
        "cables": ListOf(CABLE),
        "plugs": ListOf(PLUG),
        "links": ListOf(LINK, most=MOST_MEETING),
        "supplies": ListOf(SUPPLY, most=MOST_MEETING),
        "feeds": ListOf(FEED, most=MOST_MEETING),
        "stock": ListOf(STOCK),
        "drawer": ListOf(DRAWER_ITEM, most=MOST_MEETING),
        "pieces": ListOf(PIECE),
        "scenes": ListOf(Record(plan.Scene, {"name": Text(), "on": ListOf(Name())})),
        "venue": Record(plan.Venue, {"mv": AMOUNT, "hz": AMOUNT, "plug": Text()}),
        "accepted": ListOf(
            Record(
                plan.Accepted,
                {
                    "rule": Text(),
                    "subjects": ListOf(Text()),
                    "why": Text(),
                    "by": Text(),
                    "on": Date(),
                },
            )
        ),
        "rules": RULES,
    },
    required=("format", "version", "frame"),
)
