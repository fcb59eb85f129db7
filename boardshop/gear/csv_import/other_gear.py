"""The columns of the tables of supplies, cables, plugs, frames, stock and units."""

from django.utils.translation import gettext_lazy as _

from boardshop.gear import amounts
from boardshop.gear.csv_import import columns as c
from boardshop.gear.notation import bands, leads, power

MAKER = c.text(
    "maker",
    "maker",
    80,
    _("Who makes it."),
    example="Example Works",
    synonyms=("make", "brand", "manufacturer"),
)


def name(example: str) -> c.Column:
    return c.text(
        "name",
        "name",
        80,
        _("What it is called."),
        needed=True,
        example=example,
        synonyms=("model", "product"),
    )


NOTE = c.text("note", "note", 4000, _("Free text."), synonyms=("notes", "remark", "remarks", "comment"))
WEIGHT = c.amount(
    "weight", "weight g", amounts.parse_grams, _("310, 310 g, 0.31 kg, 11 oz."), synonyms=("weight", "mass")
)

SUPPLY_COLUMNS = (
    MAKER,
    name("Example supply"),
    c.length("width", "width", _("Size of the box.")),
    c.length("depth", "depth", _("Size of the box.")),
    c.length("height", "height", _("Size of the box.")),
    WEIGHT,
    c.amount(
        "limit_mw",
        "whole supply W",
        amounts.parse_milliwatts,
        _("All outlets together, in watts."),
        show=amounts.volts_text,
        example="36",
        synonyms=("whole supply", "power", "total power", "limit"),
    ),
    c.word(
        "protection_class",
        "protection class",
        "protection_class",
        _("I or II, IEC 61140."),
        synonyms=("class",),
    ),
    c.flag("earthed", "earthed", _("yes or no.")),
    c.amount(
        "mains_min_mv",
        "mains from V",
        amounts.parse_volts,
        _("Least mains voltage."),
        show=amounts.volts_text,
        example="100",
        synonyms=("mains from", "mains min"),
    ),
    c.amount(
        "mains_max_mv",
        "mains to V",
        amounts.parse_volts,
        _("Most mains voltage."),
        show=amounts.volts_text,
        example="240",
        synonyms=("mains to", "mains max"),
    ),
    c.Column(
        "mains_hz",
        "mains Hz",
        lambda text, unit: read_hz(text),
        lambda hz: "/".join(map(str, hz)),
        _("50, 60 or 50/60."),
        "50/60",
        ("mains hz", "frequency"),
    ),
    c.word("inlet", "mains inlet", "inlet", _("IEC 60320: C14, C8, C6, or captive."), synonyms=("inlet",)),
    c.word("outlet_side", "outlet side", "side", _("Of the box as it is measured, unturned.")),
    c.word("inlet_side", "inlet side", "side", _("Where the mains goes in.")),
    c.word("conversion", "conversion", "conversion", _("linear or switch-mode.")),
    c.notation(
        "outlets",
        "outlets",
        lambda text, unit: power.read_outlets(text),
        power.show_outlets,
        _("Each outlet: name, colon, volts and limit, further facts; a semicolon between outlets."),
        example="1: 9V 500mA or 12V 300mA dc centre-negative barrel 5.5/2.1",
        synonyms=("outputs",),
    ),
    c.notation(
        "leads",
        "leads included",
        leads.read_leads,
        leads.show_leads,
        _("DC leads that come with it: how many, length, gauge, plug; a semicolon between the sorts."),
        example="4 x 450mm AWG 22 barrel 5.5/2.1",
        synonyms=("leads", "dc leads", "cables included"),
    ),
    c.amount(
        "price",
        "price",
        amounts.parse_price,
        _("In the shop's currency."),
        example="139.50",
        synonyms=("cost",),
    ),
    NOTE,
)

CABLE_COLUMNS = (
    name("Example cable"),
    c.amount(
        "pf_per_m",
        "capacitance pF/m",
        amounts.parse_pf_per_m,
        _("Per metre; 30 pF/ft is understood too."),
        example="98",
        synonyms=("capacitance", "pf per m", "pf/m"),
    ),
    c.exact_length(
        "diameter", "diameter", _("Outer diameter."), example="6.2", synonyms=("od", "outer diameter")
    ),
    c.length(
        "min_bend",
        "bend radius",
        _("Least, inside; blank = 5 x diameter."),
        example="31",
        synonyms=("min bend", "least bend radius", "minimum bend radius"),
    ),
    c.amount("cores", "cores", amounts.parse_whole, _("How many conductors inside the screen."), example="1"),
    c.amount(
        "price",
        "price per metre",
        amounts.parse_price,
        _("In the shop's currency."),
        example="2.40",
        show=str,
        synonyms=("price", "cost", "price/m"),
    ),
)

PLUG_COLUMNS = (
    name("Example plug"),
    c.word("connector", "connector", "connector", _("What it fits."), synonyms=("type",)),
    c.word("fixing", "fixing", "fixing", _("How it holds its cable."), synonyms=("termination",)),
    c.length("reach", "reach", _("How far it stands out from the jack's face."), example="13"),
    c.length("width", "width", _("Across the body."), example="22"),
    c.length(
        "inside",
        "inside",
        _("Cable that disappears in it."),
        zero=True,
        example="14",
        synonyms=("cable inside",),
    ),
    c.amount(
        "price",
        "price",
        amounts.parse_price,
        _("In the shop's currency."),
        example="4.50",
        synonyms=("cost",),
    ),
)

FRAME_COLUMNS = (
    MAKER,
    name("Example frame"),
    c.length("width", "width", _("Left to right."), needed=True, example="600"),
    c.length("depth", "depth", _("Front to rear."), needed=True, example="320"),
    c.word("surface", "surface", "surface", _("slotted where cables pass through, else flat.")),
    c.notation(
        "rails",
        "rails",
        bands.read_rails,
        bands.show_rails,
        _("Bands that carry pedals, from the front edge."),
        example=bands.show_rails(bands.USUAL_RAILS),
    ),
    c.notation(
        "tiers",
        "tiers",
        bands.read_tiers,
        bands.show_tiers,
        _("Bands at different heights."),
        example=bands.show_tiers(bands.USUAL_TIERS),
    ),
    c.notation(
        "keepouts",
        "kept free",
        bands.read_keepouts,
        bands.show_keepouts,
        _("Width x depth at x and y, and why."),
        example=bands.show_keepouts(bands.USUAL_KEEPOUTS),
        synonyms=("keepouts", "keep-out"),
    ),
    c.notation(
        "members",
        "under the top",
        bands.read_members,
        bands.show_members,
        _("Crossbars, legs, brackets: width x depth at x and y, and what it is."),
        example=bands.show_members(bands.USUAL_MEMBERS),
        synonyms=("members", "crossbars"),
    ),
    c.exact_length("under_front", "under front", _("Free height under the front edge."), example="18"),
    c.exact_length("under_rear", "under rear", _("Free height under the rear edge."), example="62.5"),
    c.length("lid", "under lid", _("Free height under the lid."), example="90"),
    *(
        c.length(f"{way}_{axis}", f"lead {word} {axis}", _("Blank = a rear corner."), zero=True)
        for way, word in (("entry", "arrives"), ("exit", "leaves"))
        for axis in "xy"
    ),
    WEIGHT,
    c.length("plate_thickness", "plate", _("What a pedal's bottom screws pass through."), example="2"),
)

STOCK_COLUMNS = (
    c.text(
        "cable",
        "cable",
        80,
        _("The name of a cable type of the shop."),
        needed=True,
        example="Example cable",
        synonyms=("cable type",),
    ),
    c.word("kind", "kind", "stock_kind", _("reel or offcut; blank = reel."), synonyms=("type",)),
    c.length("length", "length", _("Of each piece."), needed=True, example="10000"),
    c.amount(
        "count",
        "count",
        amounts.parse_whole,
        _("Blank = 1."),
        example="1",
        synonyms=("quantity", "qty", "pieces"),
    ),
    c.text(
        "tag",
        "tag",
        40,
        _("What is written on it; rows with a tag are found again by it."),
        example="R1",
        synonyms=("label", "reel"),
    ),
)

READY_MADE_COLUMNS = (
    name("Example patch 15"),
    c.length("length", "length", _("Of the cable between its two plugs."), needed=True, example="150"),
    c.word("connector", "plug", "connector", _("At one end."), synonyms=("connector", "plug 1")),
    c.word("far_connector", "far plug", "connector", _("At the other end."), synonyms=("plug 2",)),
    c.amount(
        "pf_per_m",
        "capacitance pF/m",
        amounts.parse_pf_per_m,
        _("Per metre; 30 pF/ft is understood too."),
        example="98",
        synonyms=("capacitance", "pf per m", "pf/m"),
    ),
    c.amount(
        "price",
        "price",
        amounts.parse_price,
        _("In the shop's currency."),
        example="9.80",
        show=str,
        synonyms=("cost",),
    ),
    c.amount(
        "count",
        "count",
        amounts.parse_whole,
        _("How many are there; blank = 0."),
        example="4",
        synonyms=("quantity", "qty", "pieces", "in hand"),
    ),
)

DRAWER_COLUMNS = (
    c.word(
        "kind",
        "kind",
        "drawer_kind",
        _("What it is."),
        needed=True,
        example="lead",
        synonyms=("type", "item"),
    ),
    c.length("length", "length", _("Of a lead."), example="600"),
    c.amount("awg", "AWG", amounts.parse_awg, _("Gauge of a conductor."), example="22", synonyms=("gauge",)),
    c.amount(
        "mm2",
        "area mm2",
        amounts.parse_mm2,
        _("Area of a conductor, where no gauge is printed."),
        show=lambda mm2: f"{mm2:f}",
        synonyms=("mm2", "area"),
    ),
    c.word("connector", "plug", "connector", _("At the pedal's end."), synonyms=("connector",)),
    c.amount(
        "count",
        "count",
        amounts.parse_whole,
        _("Blank = 1."),
        example="3",
        synonyms=("quantity", "qty", "pieces"),
    ),
    NOTE,
)

UNIT_COLUMNS = (
    c.Column(
        "what",
        "what",
        lambda text, unit: read_what(text),
        str,
        _("pedal or supply; blank = pedal."),
        "pedal",
        ("item", "type"),
    ),
    MAKER,
    c.text(
        "model",
        "model",
        80,
        _("The name on its data sheet, which must be there."),
        needed=True,
        example="Example Drive",
        synonyms=("name",),
    ),
    c.text(
        "serial",
        "serial",
        80,
        _("Rows with a serial are found again by it."),
        example="EX-0001",
        synonyms=("serial number", "serial no", "s/n", "sn", "serial #"),
    ),
    c.text(
        "owner", "owner", 80, _("An artist or customer; a new one is added."), synonyms=("artist", "customer")
    ),
    c.text("condition", "condition", 200, _("Free text."), synonyms=("state",)),
    c.text("location", "where it is", 200, _("Free text."), synonyms=("location", "place", "case")),
    c.text("settings", "knob settings", 4000, _("Free text."), synonyms=("settings", "knobs")),
    c.notation(
        "draws",
        "measured",
        lambda text, unit: bands.read_draws(text),
        bands.show_draws,
        _("Power jack and current."),
        example="DC 98mA on 2026-03-01 by Jo",
        synonyms=("measured ma", "measured draw", "draw"),
    ),
    NOTE,
)


def read_hz(text: str) -> tuple[int, ...]:
    found = [amounts.parse_whole(part) for part in text.lower().replace("hz", "").split("/") if part.strip()]
    if any(hz not in (50, 60) for hz in found):
        raise c.CellError(_("Mains run at 50 or 60 Hz; write 50, 60 or 50/60."))
    return () if amounts.is_unknown(text) else tuple(sorted(set(found)))


def read_what(text: str) -> str:
    word = text.lower().strip() or "pedal"
    found = {"pedal": "pedal", "supply": "supply", "power supply": "supply", "psu": "supply"}.get(word)
    if found is None:
        raise c.CellError(_("A unit is a pedal or a supply; write one of these words."))
    return found
