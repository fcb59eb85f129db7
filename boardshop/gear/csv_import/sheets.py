"""For each kind of gear the table that holds it: columns, how rows are found again, how records are made."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from django.db.models import QuerySet
from django.utils.translation import gettext as _

from boardshop.crew.models import Client, Shop
from boardshop.gear import kinds, services
from boardshop.gear.csv_import.columns import Column
from boardshop.gear.csv_import.other_gear import (
    CABLE_COLUMNS,
    DRAWER_COLUMNS,
    FRAME_COLUMNS,
    PLUG_COLUMNS,
    READY_MADE_COLUMNS,
    STOCK_COLUMNS,
    SUPPLY_COLUMNS,
    UNIT_COLUMNS,
)
from boardshop.gear.csv_import.pedals import PEDAL_COLUMNS, build_pedal, pedal_cells
from boardshop.gear.csv_import.questions import questions_about
from boardshop.gear.records import (
    CableRecord,
    DrawerRecord,
    FrameRecord,
    GearRecord,
    PedalRecord,
    PlugRecord,
    ReadyMadeRecord,
    StockRecord,
    SupplyRecord,
    UnitRecord,
)
from boardshop.gear.shelves import (
    cable_record,
    drawer_record,
    frame_record,
    pedal_records,
    plug_record,
    ready_made_record,
    stock_record,
    supply_records,
    unit_record,
)

type Values = dict[str, Any]
type Stored = list[tuple[Any, Any]]


@dataclass(frozen=True)
class Sheet:
    """`key` are the fields by which a row is found again; where rows `may_repeat`, equal ones are several."""

    kind: kinds.GearKind
    columns: tuple[Column, ...]
    record: type[Any]
    key: tuple[str, ...]
    stored: Callable[[QuerySet[Any]], Stored]
    add: Callable[[Shop, Any], Any]
    change: Callable[[Any, Any], Any]
    may_repeat: bool = False
    decisive: str = ""
    """Where rows may repeat: the field without which a row has no identity of its own."""
    questions: Callable[[Shop], Callable[[Any, Values, bool], list[str]]] = lambda shop: questions_about
    """Takes the record, what the line says, and whether it is new."""
    build: Callable[[type[Any], Any, Values], Any] | None = None
    cells: Callable[[Any, Sequence[Column]], dict[str, str]] | None = None

    def all_stored(self, shop: Shop) -> Stored:
        """Every row with its record, in the order of export."""
        return self.stored(self.kind.of(shop))

    def make(self, base: Any, values: Values) -> GearRecord:
        """The record of a row: the stored one with what the file says, or a new one."""
        if self.build is not None:
            made: GearRecord = self.build(self.record, base, values)
            return made
        blank: GearRecord = replace(base, **values) if base is not None else self.record(**values)
        return blank

    def cells_of(self, record: Any) -> dict[str, str]:
        """Column name -> text, for export and for showing what changes."""
        if self.cells is not None:
            return self.cells(record, self.columns)
        return {column.name: column.show(getattr(record, column.name)) for column in self.columns}


def with_defaults(record: type[Any], base: Any, values: Values) -> Any:
    """A blank cell in a column that cannot be unknown stands for its usual value."""
    usual = {"kind": "reel", "count": 1, "surface": "slotted"}
    filled = {
        name: usual[name] if name in usual and value in ("", None) else value
        for name, value in values.items()
    }
    return replace(base, **filled) if base is not None else record(**filled)


def with_none_in_hand(record: type[Any], base: Any, values: Values) -> Any:
    """A blank count says that none is there."""
    filled = values | ({"count": values["count"] or 0} if "count" in values else {})
    return replace(base, **filled) if base is not None else record(**filled)


def add_unit(shop: Shop, record: UnitRecord) -> Any:
    _know_owner(shop, record)
    return services.add_unit(shop, record)


def change_unit(unit: Any, record: UnitRecord) -> Any:
    _know_owner(unit.shop, record)
    return services.change_unit(unit, record)


def unit_questions(shop: Shop) -> Callable[[UnitRecord, Values, bool], list[str]]:
    """A word about each owner whom the shop does not know yet, and about what was measured."""
    known = {name.upper() for name in Client.objects.filter(shop=shop).values_list("name", flat=True)}
    words = _("%(owner)s is nobody the shop knows; adds an artist of that name.")

    def ask(unit: UnitRecord, written: Values, is_new: bool) -> list[str]:
        unknown = bool(unit.owner) and unit.owner.upper() not in known
        asked = [words % {"owner": unit.owner}] if unknown else []
        return [*asked, *questions_about(unit, written, is_new)]

    return ask


def _know_owner(shop: Shop, record: UnitRecord) -> None:
    """An owner nobody knows yet is taken for an artist."""
    if record.owner and not Client.objects.filter(shop=shop, name__iexact=record.owner).exists():
        Client.objects.create(shop=shop, name=record.owner)


def each(read: Callable[[Any], Any]) -> Callable[[QuerySet[Any]], Stored]:
    return lambda rows: [(row, read(row)) for row in rows]


MAKER_AND_NAME = ("maker", "name")

SHEETS = (
    Sheet(
        kinds.PEDALS,
        PEDAL_COLUMNS,
        PedalRecord,
        MAKER_AND_NAME,
        pedal_records,
        services.add_pedal_model,
        services.change_pedal_model,
        build=build_pedal,
        cells=pedal_cells,
    ),
    Sheet(
        kinds.SUPPLIES,
        SUPPLY_COLUMNS,
        SupplyRecord,
        MAKER_AND_NAME,
        supply_records,
        services.add_supply_model,
        services.change_supply_model,
    ),
    Sheet(
        kinds.FRAMES,
        FRAME_COLUMNS,
        FrameRecord,
        MAKER_AND_NAME,
        each(frame_record),
        services.add_frame_model,
        services.change_frame_model,
        build=with_defaults,
    ),
    Sheet(
        kinds.CABLES,
        CABLE_COLUMNS,
        CableRecord,
        ("name",),
        each(cable_record),
        services.add_cable_type,
        services.change_cable_type,
    ),
    Sheet(
        kinds.PLUGS,
        PLUG_COLUMNS,
        PlugRecord,
        ("name",),
        each(plug_record),
        services.add_plug_type,
        services.change_plug_type,
    ),
    Sheet(
        kinds.STOCK,
        STOCK_COLUMNS,
        StockRecord,
        ("cable", "tag"),
        each(stock_record),
        services.add_stock,
        services.change_stock,
        True,
        "tag",
        build=with_defaults,
    ),
    Sheet(
        kinds.READY_MADE,
        READY_MADE_COLUMNS,
        ReadyMadeRecord,
        ("name",),
        each(ready_made_record),
        services.add_ready_made,
        services.change_ready_made,
        build=with_none_in_hand,
    ),
    Sheet(
        kinds.DRAWER,
        DRAWER_COLUMNS,
        DrawerRecord,
        ("kind", "length", "awg", "mm2", "connector", "note"),
        each(drawer_record),
        services.add_drawer_item,
        services.change_drawer_item,
        True,
        "kind",
        build=with_defaults,
    ),
    Sheet(
        kinds.UNITS,
        UNIT_COLUMNS,
        UnitRecord,
        ("what", "maker", "model", "serial"),
        each(unit_record),
        add_unit,
        change_unit,
        True,
        "serial",
        questions=unit_questions,
    ),
)


def sheet_of(kind: kinds.GearKind) -> Sheet:
    return next(sheet for sheet in SHEETS if sheet.kind is kind)
