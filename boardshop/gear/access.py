"""From a person to the gear of their shop: a stranger gets 404, a viewer who would change it 403."""

from typing import Any

from django.db.models import QuerySet
from django.http import Http404

from boardshop.crew.access import Visitor, get_shop_for
from boardshop.crew.codes import clean_code
from boardshop.gear.kinds import GearKind, kind_called
from boardshop.gear.models import (
    CableStock,
    CableType,
    DrawerItem,
    FrameModel,
    MadeCable,
    PedalModel,
    PlugType,
    ReadyMade,
    SupplyModel,
    Unit,
)
from boardshop.gear.services.removing import GearRow
from boardshop.gear.shelves import whole_units


def get_pedal_model_for(person: Visitor, pk: int, *, editing: bool = False) -> PedalModel:
    return _get(PedalModel.objects.all(), person, pk, editing)


def get_supply_model_for(person: Visitor, pk: int, *, editing: bool = False) -> SupplyModel:
    return _get(SupplyModel.objects.all(), person, pk, editing)


def get_frame_model_for(person: Visitor, pk: int, *, editing: bool = False) -> FrameModel:
    return _get(FrameModel.objects.all(), person, pk, editing)


def get_cable_type_for(person: Visitor, pk: int, *, editing: bool = False) -> CableType:
    return _get(CableType.objects.all(), person, pk, editing)


def get_plug_type_for(person: Visitor, pk: int, *, editing: bool = False) -> PlugType:
    return _get(PlugType.objects.all(), person, pk, editing)


def get_stock_for(person: Visitor, pk: int, *, editing: bool = False) -> CableStock:
    return _get(CableStock.objects.select_related("cable"), person, pk, editing)


def get_ready_made_for(person: Visitor, pk: int, *, editing: bool = False) -> ReadyMade:
    return _get(ReadyMade.objects.all(), person, pk, editing)


def get_drawer_item_for(person: Visitor, pk: int, *, editing: bool = False) -> DrawerItem:
    return _get(DrawerItem.objects.all(), person, pk, editing)


def get_unit_for(person: Visitor, pk: int, *, editing: bool = False) -> Unit:
    """With its model, owner and measured draws."""
    return _get(whole_units(Unit.objects.all()), person, pk, editing)


def get_made_cable_for(person: Visitor, code: str, *, editing: bool = False) -> MadeCable:
    """One cable of the shop's register by its id, scrapped ones too, with its shop, type and plugs."""
    rows = MadeCable.objects.select_related("shop", "cable", "plug_a", "plug_b")
    shop = get_shop_for(person)
    cable = rows.filter(shop=shop, code=clean_code(code)).first()
    if cable is None:
        raise Http404
    if editing:
        get_shop_for(person, editing=True)
    return cable


def get_gear_for(person: Visitor, kind: GearKind, pk: int, *, editing: bool = False) -> GearRow:
    """One row of any kind of gear."""
    row: GearRow = _get(kind.rows(), person, pk, editing)
    return row


def get_trashed_gear_for(person: Visitor, kind: GearKind, pk: int, *, editing: bool = False) -> GearRow:
    """One row of any kind, whether it lies in the trash or not."""
    row: GearRow = _get(kind.rows().model._base_manager.all(), person, pk, editing)
    return row


def get_kind(slug: str) -> GearKind:
    """404 for a word that is no kind of gear."""
    kind = kind_called(slug)
    if kind is None:
        raise Http404
    return kind


def _get[Row: Any](rows: QuerySet[Row], person: Visitor, pk: int, editing: bool) -> Row:
    """404 before 403: a viewer is not told of what another shop has."""
    shop = get_shop_for(person)
    row = rows.filter(shop=shop, pk=pk).first()
    if row is None:
        raise Http404
    if editing:
        get_shop_for(person, editing=True)
    return row
