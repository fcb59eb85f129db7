"""Data sheets as the core's values: rows of gear in, frozen pedals, supplies, cable and plug types out.

The rows that belong to a sheet (jacks, switches, outlets...) come as JSON in the same query, so that any
number of sheets costs one.
"""

from typing import Any, cast

from django.contrib.postgres.expressions import ArraySubquery
from django.db.models import Model, OuterRef, QuerySet
from django.db.models.functions import JSONObject

from boardshop.core import plan as core
from boardshop.gear.models import (
    CableType,
    Outlet,
    OutletSetting,
    PedalJack,
    PedalModel,
    PedalSwitch,
    PlugType,
    PowerJack,
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


def rows_as_json(rows: QuerySet[Any], *columns: str, **more: Any) -> ArraySubquery:
    """The rows of a subquery as a list of dictionaries, in the order of their model."""
    return ArraySubquery(rows.values(json=JSONObject(**{c: c for c in columns}, **more)))


def sheet_rows(model: str = "pk") -> dict[str, ArraySubquery]:
    """Annotations that bring a pedal's jacks, switches and power jacks; `model` leads to its model's key."""
    outer = OuterRef(model)
    return {
        "jack_rows": rows_as_json(PedalJack.objects.filter(model=outer), *JACK_COLUMNS),
        "switch_rows": rows_as_json(PedalSwitch.objects.filter(model=outer), "x", "y"),
        "power_rows": rows_as_json(PowerJack.objects.filter(model=outer), *POWER_COLUMNS),
    }


def outlet_rows(model: str = "pk") -> dict[str, ArraySubquery]:
    """The annotation that brings a supply's outlets with their settings."""
    settings = rows_as_json(OutletSetting.objects.filter(outlet=OuterRef("pk")), *SETTING_COLUMNS)
    outlets = Outlet.objects.filter(supply=OuterRef(model))
    return {"outlet_rows": rows_as_json(outlets, *OUTLET_COLUMNS, settings=settings)}


def pedal_sheets(models: QuerySet[PedalModel]) -> list[tuple[PedalModel, core.Pedal]]:
    """Each pedal model with its sheet, in one query."""
    return [(model, pedal_sheet(model, model)) for model in models.annotate(**sheet_rows())]


def supply_sheets(models: QuerySet[SupplyModel]) -> list[tuple[SupplyModel, core.Supply]]:
    """Each supply model with its sheet, in one query."""
    return [(model, supply_sheet(model, model)) for model in models.annotate(**outlet_rows())]


def pedal_sheet(model: PedalModel, rows: Model, ref: str = "") -> core.Pedal:
    """The sheet as a pedal that stands nowhere; `rows` is the object that carries `sheet_rows`."""
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
        jacks=tuple(core.Jack(**_known(row)) for row in rows.jack_rows),  # type: ignore[attr-defined]
        switches=tuple(core.Point(**row) for row in rows.switch_rows),  # type: ignore[attr-defined]
        power=tuple(core.PowerJack(**_known(row)) for row in rows.power_rows),  # type: ignore[attr-defined]
        treadle=model.treadle,
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


def supply_sheet(model: SupplyModel, rows: Model, ref: str = "") -> core.Supply:
    """The sheet as a supply that lies nowhere; `rows` is the object that carries `outlet_rows`."""
    mains = core.Mains(
        min=model.mains_min_mv,
        max=model.mains_max_mv,
        hz=tuple(model.mains_hz),
        inlet=model.inlet or None,
    )
    return core.Supply(
        ref=ref,
        model=str(model),
        outlets=tuple(_outlet(row) for row in rows.outlet_rows),  # type: ignore[attr-defined]
        limit_mw=model.limit_mw,
        protection_class=model.protection_class or None,
        earthed=model.earthed,
        mains=None if mains == core.Mains() else mains,
        width=model.width,
        depth=model.depth,
        height=model.height,
        weight=model.weight,
    )


def cable_type_value(cable: CableType, ref: str) -> core.CableType:
    """A cable type as the core reads it; the bend radius falls back to five diameters, as the file says."""
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


def plug_type_value(plug: PlugType, ref: str) -> core.PlugType:
    return core.PlugType(
        ref=ref,
        name=plug.name,
        connector=plug.connector or None,
        reach=plug.reach,
        width=plug.width,
        inside=plug.inside,
        price=as_float(plug.price),
    )


def as_float(value: Any) -> float | None:
    """A stored decimal as the core's number."""
    return None if value is None else float(value)


def _known(row: Row) -> Row:
    """Blank text in a row means that nobody recorded it."""
    return {name: None if value == "" else value for name, value in row.items()}


def _outlet(row: Row) -> core.Outlet:
    settings = tuple(core.OutletSetting(**setting) for setting in row.pop("settings"))
    return core.Outlet(settings=settings, **_known(row))
