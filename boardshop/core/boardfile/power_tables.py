"""The field tables of supplies and of what they feed."""

from boardshop.core import plan
from boardshop.core import vocabulary as words
from boardshop.core.boardfile.amounts import AMOUNT, ANY, AWG, SIZE, TURN
from boardshop.core.boardfile.shapes import (
    MOST_MEETING,
    Decimal,
    Flag,
    ListOf,
    Name,
    OneOrMany,
    Record,
    Ref,
    Shape,
    Text,
    Word,
)

SETTING = Record(plan.OutletSetting, {"mv": AMOUNT, "min_mv": AMOUNT, "max_mv": AMOUNT, "max_ma": AMOUNT})

OUTLET = Record(
    plan.Outlet,
    {
        "name": Name(),
        "current": Word(words.CURRENTS),
        "settings": ListOf(SETTING),
        "polarity": Word(words.POLARITIES),
        "connector": Word(words.CONNECTORS),
        "regulated": Flag(),
        "sag": Flag(),
        "group": Name(),
        "group_max_ma": AMOUNT,
        "parallel_ok": Flag(),
        "series_ok": Flag(),
    },
    required=("name",),
)

MAINS = Record(plan.Mains, {"min": AMOUNT, "max": AMOUNT, "hz": ListOf(SIZE), "inlet": Word(words.INLETS)})

SUPPLY_PLACE = Record(
    plan.SupplyPlace, {"x": ANY, "y": ANY, "turn": TURN, "under": Flag()}, needed=("x", "y")
)

SPARE: dict[str, Shape] = {
    "length": SIZE,
    "awg": AWG,
    "mm2": Decimal(above_zero=True),
    "connector": Word(words.CONNECTORS),
    "count": SIZE,
}
SUPPLY_LEAD = Record(plan.SupplyLead, SPARE)
DRAWER_ITEM = Record(plan.DrawerItem, {"kind": Word(words.DRAWER_KINDS)} | SPARE, required=("kind",))

SUPPLY = Record(
    plan.Supply,
    {
        "ref": Ref(),
        "model": Text(),
        "outlets": ListOf(OUTLET),
        "limit_mw": AMOUNT,
        "class": Word(words.PROTECTION_CLASSES),
        "earthed": Flag(),
        "mains": MAINS,
        "width": SIZE,
        "depth": SIZE,
        "height": SIZE,
        "weight": AMOUNT,
        "outlet_side": Word(words.SIDES),
        "inlet_side": Word(words.SIDES),
        "conversion": Word(words.CONVERSIONS),
        "leads": ListOf(SUPPLY_LEAD, most=MOST_MEETING),
        "price": Decimal(),
        "place": SUPPLY_PLACE,
    },
    required=("ref",),
    renamed={"class": "protection_class"},
)

WIRE: dict[str, Shape] = {"length": SIZE, "mm2": Decimal(above_zero=True), "awg": AWG}

LEAD = Record(
    plan.DcLead,
    WIRE | {"connector": Word(words.CONNECTORS), "plug": Name(), "tails": ListOf(Record(plan.Tail, WIRE))},
)

FEED = Record(
    plan.Feed,
    {
        "from": OneOrMany(Name()),
        "to": OneOrMany(Name()),
        "setting": OneOrMany(AMOUNT, nulls=True),
        "adapter": ListOf(Word(words.ADAPTERS)),
        "pinned": Flag(),
        "lead": LEAD,
    },
    required=("from", "to"),
    renamed={"from": "outlets", "to": "jacks", "setting": "settings", "adapter": "adapters"},
)
