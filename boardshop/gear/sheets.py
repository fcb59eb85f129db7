"""Data sheets as the core's values: rows of gear in, frozen pedals, supplies, cable and plug types out.

The rows that belong to a sheet (jacks, switches, outlets...) come as JSON in the same query, so that any
number of sheets costs one.
"""

from collections.abc import Iterable
from typing import Any, cast

from django.contrib.postgres.expressions import ArraySubquery
from django.db.models import OuterRef, QuerySet
from django.db.models.functions import JSONObject

from boardshop.core import plan as core
from boardshop.gear.models import (
    Outlet,
    OutletSetting,
    PedalJack,
    PedalModel,
    PedalSwitch,
    PowerJack,
    SupplyLead,
    SupplyModel,
)

type Row = dict[str, Any]

JACK_COLUMNS = ("name", "role", "side", "offset", "height", "connector", "channels")
POWER_COLUMNS = (
    "name",
    "current",
    "nominal",
    "min",
    "max",
    "polarity",
    "ground_pole",
    "connector",
    "rated",
    "peak",
    "sag",
    "share",
)
OUTLET_COLUMNS = (
    "name",
    "current",
    "polarity",
    "connector",
    "regulated",
    "sag",
    "group",
    "group_max_ma",
    "parallel_ok",
    "series_ok",
)
SETTING_COLUMNS = ("min_mv", "max_mv", "max_ma")
LEAD_COLUMNS = ("length", "awg", "mm2", "connector", "count")


def rows_as_json(rows: QuerySet[Any], *columns: str, **more: Any) -> ArraySubquery:
    """The rows of a subquery as a list of dictionaries, in the order of their model."""
    return ArraySubquery(rows.values(json=JSONObject(**{c: c for c in columns}, **more)))


def sheet_rows() -> dict[str, ArraySubquery]:
    """Annotations that bring a pedal model's jacks, switches and power jacks."""
    outer = OuterRef("pk")
    return {
        "jack_rows": rows_as_json(PedalJack.objects.filter(model=outer), *JACK_COLUMNS),
        "switch_rows": rows_as_json(PedalSwitch.objects.filter(model=outer), "x", "y"),
        "power_rows": rows_as_json(PowerJack.objects.filter(model=outer), *POWER_COLUMNS),
    }


def outlet_rows() -> dict[str, ArraySubquery]:
    """Annotations that bring a supply model's outlets with their settings, and its leads."""
    leads = SupplyLead.objects.filter(supply=OuterRef("pk"))
    settings = rows_as_json(OutletSetting.objects.filter(outlet=OuterRef("pk")), *SETTING_COLUMNS)
    outlets = Outlet.objects.filter(supply=OuterRef("pk"))
    return {
        "outlet_rows": rows_as_json(outlets, *OUTLET_COLUMNS, settings=settings),
        "lead_rows": rows_as_json(leads, *LEAD_COLUMNS),
    }


def pedal_sheets(models: QuerySet[PedalModel]) -> list[tuple[PedalModel, core.Pedal]]:
    """Each pedal model with its sheet, in one query."""
    return [(model, pedal_sheet(model, model)) for model in models.annotate(**sheet_rows())]


def supply_sheets(models: QuerySet[SupplyModel]) -> list[tuple[SupplyModel, core.Supply]]:
    """Each supply model with its sheet, in one query."""
    return [(model, supply_sheet(model, model)) for model in models.annotate(**outlet_rows())]


def pedal_sheet(model: Any, rows: Any, ref: str = "") -> core.Pedal:
    """The sheet as a pedal that stands nowhere.

    `model` carries the columns of a PedalModel, `rows` the lists of `sheet_rows`.
    """
    return core.Pedal(
        ref=ref,
        maker=model.maker,
        name=model.name,
        kind=model.kind,
        role=model.role or None,
        width=model.width,
        depth=model.depth,
        height=model.height,
        weight=model.weight,
        jacks=tuple(core.Jack(**_known(row, JACK_COLUMNS)) for row in rows.jack_rows),
        switches=tuple(core.Point(row["x"], row["y"]) for row in rows.switch_rows),
        power=tuple(core.PowerJack(**_known(row, POWER_COLUMNS)) for row in rows.power_rows),
        treadle=model.treadle,
        toe_height=model.toe_height,
        screw_length=model.screw_length,
        bypass=model.bypass or None,
        input_ohm=model.input_ohm,
        input_pf=model.input_pf,
        output_ohm=model.output_ohm,
        circuit=model.circuit or None,
        level=model.level or None,
        tracker=model.tracker or None,
        inverts=model.inverts,
        kills_dry=model.kills_dry,
        latency_ms=as_float(model.latency_ms),
        tails=model.tails,
        turns=cast("tuple[core.Turn, ...]", tuple(model.turns)),
        battery=model.battery,
    )


def supply_sheet(model: Any, rows: Any, ref: str = "") -> core.Supply:
    """The sheet as a supply that lies nowhere.

    `model` carries the columns of a SupplyModel, `rows` the lists of `outlet_rows` and `lead_rows`.
    """
    mains = core.Mains(
        min=model.mains_min_mv,
        max=model.mains_max_mv,
        hz=tuple(model.mains_hz),
        inlet=model.inlet or None,
    )
    return core.Supply(
        ref=ref,
        model=f"{model.maker} {model.name}".strip(),
        outlets=tuple(_outlet(row) for row in rows.outlet_rows),
        limit_mw=model.limit_mw,
        protection_class=model.protection_class or None,
        earthed=model.earthed,
        mains=None if mains == core.Mains() else mains,
        width=model.width,
        depth=model.depth,
        height=model.height,
        weight=model.weight,
        leads=tuple(core.SupplyLead(**_spare_facts(row)) for row in rows.lead_rows),
        price=as_float(model.price),
        outlet_side=model.outlet_side or None,
        inlet_side=model.inlet_side or None,
        conversion=model.conversion or None,
    )


def drawer_value(item: Any) -> core.DrawerItem:
    """What lies in the drawer as the core reads it; `item` carries the columns of a DrawerItem."""
    facts = {column: getattr(item, column) for column in LEAD_COLUMNS}
    return core.DrawerItem(kind=item.kind, **_spare_facts(facts))


def cable_type_value(cable: Any, ref: str) -> core.CableType:
    """A cable type as the core reads it; `cable` carries the columns of a CableType."""
    diameter = as_float(cable.diameter)
    return core.CableType(
        ref=ref,
        name=cable.name,
        pf_per_m=cable.pf_per_m,
        diameter=diameter,
        min_bend=cable.min_bend,
        cores=cable.cores,
        price=as_float(cable.price),
    )


def plug_type_value(plug: Any, ref: str) -> core.PlugType:
    """A plug type as the core reads it; `plug` carries the columns of a PlugType."""
    return core.PlugType(
        ref=ref,
        name=plug.name,
        connector=plug.connector or None,
        reach=plug.reach,
        width=plug.width,
        inside=plug.inside,
        price=as_float(plug.price),
        fixing=plug.fixing or None,
    )


def as_float(value: Any) -> float | None:
    """A stored decimal as the core's number."""
    return None if value is None else float(value)


def _known(row: Row, columns: Iterable[str]) -> Row:
    """Blank text in a row means that nobody recorded it."""
    return {name: None if row[name] == "" else row[name] for name in columns}


def _spare_facts(row: Row) -> Row:
    return _known(row, LEAD_COLUMNS) | {"mm2": as_float(row["mm2"])}


def _outlet(row: Row) -> core.Outlet:
    settings = tuple(core.OutletSetting(**_known(one, SETTING_COLUMNS)) for one in row["settings"])
    return core.Outlet(settings=settings, **_known(row, OUTLET_COLUMNS))
