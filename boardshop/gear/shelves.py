"""A shop's gear as records; each list costs a constant number of queries."""

from decimal import Decimal

from django.db.models import QuerySet

from boardshop.core import plan as core
from boardshop.gear.models import (
    CableStock,
    CableType,
    DrawerItem,
    FrameModel,
    PedalModel,
    PlugType,
    ReadyMade,
    SupplyModel,
    Unit,
)
from boardshop.gear.records import (
    CableRecord,
    Draw,
    DrawerRecord,
    FrameRecord,
    PedalRecord,
    PlugRecord,
    ReadyMadeRecord,
    StockRecord,
    SupplyRecord,
    UnitRecord,
)
from boardshop.gear.sheets import pedal_sheets, supply_sheets

PEDAL_FACTS = (
    "maker", "name", "kind", "role", "width", "depth", "height", "weight", "treadle", "toe_height",
    "screw_length", "bypass", "input_ohm", "input_pf", "output_ohm", "circuit", "level", "tracker",
    "inverts", "kills_dry", "tails", "battery", "note",
)  # fmt: skip
SUPPLY_FACTS = (
    "maker", "name", "width", "depth", "height", "weight", "limit_mw", "protection_class", "earthed",
    "mains_min_mv", "mains_max_mv", "inlet", "outlet_side", "inlet_side", "conversion", "note",
)  # fmt: skip
FRAME_FACTS = (
    "maker", "name", "width", "depth", "surface", "lid", "entry_x", "entry_y", "exit_x", "exit_y", "weight",
    "plate_thickness",
)  # fmt: skip


def pedal_records(models: QuerySet[PedalModel]) -> list[tuple[PedalModel, PedalRecord]]:
    return [(model, _pedal(model, sheet)) for model, sheet in pedal_sheets(models)]


def pedal_record(model: PedalModel) -> PedalRecord:
    return pedal_records(PedalModel.objects.filter(pk=model.pk))[0][1]


def supply_records(models: QuerySet[SupplyModel]) -> list[tuple[SupplyModel, SupplyRecord]]:
    return [(model, _supply(model, sheet)) for model, sheet in supply_sheets(models)]


def supply_record(model: SupplyModel) -> SupplyRecord:
    return supply_records(SupplyModel.objects.filter(pk=model.pk))[0][1]


def cable_record(cable: CableType) -> CableRecord:
    return CableRecord(
        name=cable.name,
        pf_per_m=cable.pf_per_m,
        diameter=plain(cable.diameter),
        min_bend=cable.min_bend,
        cores=cable.cores,
        price=plain(cable.price),
    )


def plug_record(plug: PlugType) -> PlugRecord:
    return PlugRecord(
        name=plug.name,
        connector=plug.connector,
        reach=plug.reach,
        width=plug.width,
        inside=plug.inside,
        price=plain(plug.price),
        fixing=plug.fixing,
    )


def frame_record(frame: FrameModel) -> FrameRecord:
    return FrameRecord(
        **{fact: getattr(frame, fact) for fact in FRAME_FACTS},
        rails=tuple(core.Rail(band["from"], band["to"]) for band in frame.rails),
        tiers=tuple(core.Tier(band["from"], band["to"], band.get("height", 0)) for band in frame.tiers),
        keepouts=tuple(
            core.Keepout(row["x"], row["y"], row["width"], row["depth"], row.get("why", ""))
            for row in frame.keepouts
        ),
        members=tuple(
            core.Member(row["x"], row["y"], row["width"], row["depth"], row.get("why", ""))
            for row in frame.members
        ),
        under_front=plain(frame.under_front),
        under_rear=plain(frame.under_rear),
    )


def stock_record(stock: CableStock) -> StockRecord:
    """Reads `stock.cable`: select it with the row."""
    return StockRecord(
        cable=stock.cable.name, kind=stock.kind, length=stock.length, count=stock.count, tag=stock.tag
    )


def ready_made_record(cable: ReadyMade) -> ReadyMadeRecord:
    return ReadyMadeRecord(
        name=cable.name,
        length=cable.length,
        connector=cable.connector,
        far_connector=cable.far_connector,
        pf_per_m=cable.pf_per_m,
        price=plain(cable.price),
        count=cable.count,
    )


def drawer_record(item: DrawerItem) -> DrawerRecord:
    return DrawerRecord(
        kind=item.kind,
        length=item.length,
        awg=item.awg,
        mm2=plain(item.mm2),
        connector=item.connector,
        count=item.count,
        note=item.note,
    )


def unit_record(unit: Unit) -> UnitRecord:
    """Reads the unit's model, owner and draws: bring them with the row."""
    model = unit.of
    return UnitRecord(
        what="pedal" if unit.pedal else "supply",
        maker=model.maker,
        model=model.name,
        serial=unit.serial,
        owner=unit.owner.name if unit.owner else "",
        condition=unit.condition,
        location=unit.location,
        settings=unit.settings,
        note=unit.note,
        draws=tuple(Draw(jack=d.jack, measured=d.measured, on=d.on, by=d.by) for d in unit.draws.all()),
    )


def whole_units(units: QuerySet[Unit]) -> QuerySet[Unit]:
    """With everything that `unit_record` reads, in two queries."""
    return units.select_related("pedal", "supply", "owner").prefetch_related("draws")


def plain(value: Decimal | None) -> Decimal | None:
    """Without the zeros that a column's scale adds, so that equal amounts have one text."""
    if value is None:
        return None
    return value.quantize(Decimal(1)) if value == value.to_integral_value() else value.normalize()


def _pedal(model: PedalModel, sheet: core.Pedal) -> PedalRecord:
    return PedalRecord(
        **{fact: getattr(model, fact) for fact in PEDAL_FACTS},
        latency_ms=plain(model.latency_ms),
        turns=tuple(model.turns),
        jacks=sheet.jacks,
        switches=sheet.switches,
        power=sheet.power,
    )


def _supply(model: SupplyModel, sheet: core.Supply) -> SupplyRecord:
    return SupplyRecord(
        **{fact: getattr(model, fact) for fact in SUPPLY_FACTS},
        mains_hz=tuple(model.mains_hz),
        price=plain(model.price),
        outlets=sheet.outlets,
        leads=sheet.leads,
    )
