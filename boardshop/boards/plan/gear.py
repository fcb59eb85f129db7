"""The gear that a plan names: found in the shop's own lists where the sheet is the same, added where not."""

import itertools
from collections.abc import Iterable
from dataclasses import asdict, replace
from typing import Any

from django.db.models import Model

from boardshop.boards.errors import UnitInFileElsewhere
from boardshop.boards.plan.rows import store, store_all
from boardshop.boards.units import find_use, say_unit
from boardshop.core import plan as core
from boardshop.crew.models import Client, Shop
from boardshop.gear.models import (
    CableType,
    Outlet,
    OutletSetting,
    PedalJack,
    PedalModel,
    PedalSwitch,
    PlugType,
    PowerJack,
    SupplyLead,
    SupplyModel,
    Unit,
    UnitDraw,
)
from boardshop.gear.sheets import cable_type_value, pedal_sheets, plug_type_value, supply_sheets


class Shelf:
    """The shop's models, cables and plugs, asked once for each sheet of a plan.

    A sheet that no row of the shop equals gets a row of its own; a name that is taken by a different
    sheet gets a number behind it, so that nothing of the shop changes.
    """

    def __init__(self, shop: Shop) -> None:
        self.shop = shop
        self.pedals = {sheet: model for model, sheet in pedal_sheets(PedalModel.objects.filter(shop=shop))}
        self.supplies = {
            sheet: model for model, sheet in supply_sheets(SupplyModel.objects.filter(shop=shop))
        }
        self.cables = {cable_type_value(c, ""): c for c in CableType.objects.filter(shop=shop)}
        self.plugs = {plug_type_value(p, ""): p for p in PlugType.objects.filter(shop=shop)}

    def pedal(self, pedal: core.Pedal) -> PedalModel:
        sheet = replace(sheet_of_pedal(pedal), name=pedal.name or pedal.kind)
        if sheet not in self.pedals:
            named = replace(
                sheet, name=free_name(sheet.name or pedal.kind, self.pedals.values(), sheet.maker)
            )
            self.pedals[sheet] = _add_pedal_model(self.shop, named)
        return self.pedals[sheet]

    def supply(self, supply: core.Supply) -> SupplyModel:
        sheet = replace(supply, ref="", place=None, model=supply.model or "supply")
        if sheet not in self.supplies:
            name = free_name(sheet.model or "", self.supplies.values())
            self.supplies[sheet] = _add_supply_model(self.shop, replace(sheet, model=name))
        return self.supplies[sheet]

    def cable(self, cable: core.CableType) -> CableType:
        sheet = replace(cable, ref="", min_bend=_recorded_bend(cable), name=cable.name or cable.ref)
        if sheet not in self.cables:
            values = asdict(sheet) | {"name": free_name(sheet.name, self.cables.values())}
            del values["ref"]
            self.cables[sheet] = store(CableType(shop=self.shop, **values), f"Cable {cable.ref}")
        return self.cables[sheet]

    def plug(self, plug: core.PlugType) -> PlugType:
        sheet = replace(plug, ref="", name=plug.name or plug.ref)
        if sheet not in self.plugs:
            values = asdict(sheet) | {"name": free_name(sheet.name, self.plugs.values())}
            del values["ref"]
            self.plugs[sheet] = store(PlugType(shop=self.shop, **blank_texts(values)), f"Plug {plug.ref}")
        return self.plugs[sheet]

    def unit(self, pedal: core.Pedal, owner: Client | None) -> Unit | None:
        """The physical pedal that a serial or a measured draw speaks of; None when neither is written.

        A draw that the shop has measured on that unit already stays as it is.
        Raises UnitInFileElsewhere for one that stands on a board.
        """
        draws = {jack.name: jack.measured for jack in pedal.power if jack.measured is not None}
        if not pedal.unit and not draws:
            return None
        unit = self._unit_with_serial(pedal) or store(
            Unit(shop=self.shop, pedal=self.pedal(pedal), serial=pedal.unit or "", owner=owner), pedal.ref
        )
        for jack, measured in draws.items():
            UnitDraw.objects.get_or_create(unit=unit, jack=jack, defaults={"measured": measured})
        return unit

    def _unit_with_serial(self, pedal: core.Pedal) -> Unit | None:
        if not pedal.unit:
            return None
        units = Unit.objects.filter(shop=self.shop, pedal=self.pedal(pedal), serial__iexact=pedal.unit)
        unit = units.first()
        use = None if unit is None else find_use(unit)
        if unit is not None and use is not None:
            raise UnitInFileElsewhere(ref=pedal.ref, unit=say_unit(unit), there=use.described_use())
        return unit


def free_name(wanted: str, taken: Iterable[Model], maker: str = "") -> str:
    """The name, or the name with the first number behind it that no row of the shop bears."""
    names = {str(row).casefold() for row in taken}
    numbered = (f"{wanted} ({n})" for n in itertools.count(2))
    candidates = itertools.chain([wanted], numbered)
    return next(name for name in candidates if f"{maker} {name}".strip().casefold() not in names)


def sheet_of_pedal(pedal: core.Pedal) -> core.Pedal:
    """What of a pedal on a board belongs to its data sheet."""
    return replace(
        pedal,
        ref="",
        unit=None,
        on=None,
        use=0,
        together=(),
        place=None,
        pinned=False,
        settings=None,
        power=tuple(replace(jack, measured=None) for jack in pedal.power),
    )


def blank_texts(values: dict[str, Any]) -> dict[str, Any]:
    """Columns from a core value: text that nobody recorded is stored as blank."""
    words = {"role", "bypass", "circuit", "level", "tracker", "side", "connector", "channels", "current"}
    words |= {"polarity", "ground_pole", "share", "group", "protection_class", "inlet"}
    words |= {"outlet_side", "inlet_side", "conversion", "fixing"}
    return {name: "" if value is None and name in words else value for name, value in values.items()}


def _recorded_bend(cable: core.CableType) -> float | None:
    """The bend radius as recorded: one that only follows from the diameter is not."""
    if cable.diameter is not None and cable.min_bend == 5 * cable.diameter:
        return None
    return cable.min_bend


def _add_pedal_model(shop: Shop, sheet: core.Pedal) -> PedalModel:
    rows = {"jacks", "switches", "power"}
    board_only = {"ref", "unit", "on", "use", "together", "place", "pinned", "settings"}
    columns = {n: v for n, v in asdict(sheet).items() if n not in rows | board_only}
    model = store(
        PedalModel(shop=shop, **blank_texts(columns | {"turns": list(sheet.turns)})), f"Pedal {sheet.name}"
    )
    store_all(
        PedalJack,
        (
            PedalJack(model=model, position=n, **blank_texts(asdict(jack)))
            for n, jack in enumerate(sheet.jacks)
        ),
        f"A jack of {sheet.name}",
    )
    store_all(
        PedalSwitch,
        (PedalSwitch(model=model, position=n, x=at.x, y=at.y) for n, at in enumerate(sheet.switches)),
        f"A foot switch of {sheet.name}",
    )
    needs = [{n: v for n, v in asdict(jack).items() if n != "measured"} for jack in sheet.power]
    store_all(
        PowerJack,
        (PowerJack(model=model, position=n, **blank_texts(need)) for n, need in enumerate(needs)),
        f"A power jack of {sheet.name}",
    )
    return model


def _add_supply_model(shop: Shop, sheet: core.Supply) -> SupplyModel:
    model = store(SupplyModel(shop=shop, **_supply_columns(sheet)), f"Supply {sheet.model}")
    for n, outlet in enumerate(sheet.outlets):
        columns = {name: v for name, v in asdict(outlet).items() if name != "settings"}
        row = store(
            Outlet(supply=model, position=n, **blank_texts(columns)), f"Outlet {outlet.name} of {sheet.model}"
        )
        store_all(
            OutletSetting,
            (
                OutletSetting(outlet=row, position=k, **asdict(setting))
                for k, setting in enumerate(outlet.settings)
            ),
            f"A setting of outlet {outlet.name}",
        )
    store_all(
        SupplyLead,
        (SupplyLead(supply=model, position=n, **blank_texts(asdict(x))) for n, x in enumerate(sheet.leads)),
        f"A lead of {sheet.model}",
    )
    return model


def _supply_columns(sheet: core.Supply) -> dict[str, Any]:
    mains = sheet.mains or core.Mains()
    return {
        "name": sheet.model or "",
        "width": sheet.width,
        "depth": sheet.depth,
        "height": sheet.height,
        "weight": sheet.weight,
        "limit_mw": sheet.limit_mw,
        "price": sheet.price,
        "protection_class": sheet.protection_class or "",
        "earthed": sheet.earthed,
        "mains_min_mv": mains.min,
        "mains_max_mv": mains.max,
        "mains_hz": list(mains.hz),
        "inlet": mains.inlet or "",
        "outlet_side": sheet.outlet_side or "",
        "inlet_side": sheet.inlet_side or "",
        "conversion": sheet.conversion or "",
    }
