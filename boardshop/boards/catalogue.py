"""The shop's gear as form choices: each list is read once a request, to check a form and to draw it again."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.db.models import CharField, F, QuerySet, Value
from django.utils.translation import gettext as _

from boardshop.boards.forms.edits import Choices
from boardshop.boards.models import Board
from boardshop.crew.models import Shop
from boardshop.gear.models import CableType, PedalModel, PlugType, SupplyModel, Unit

MODEL, UNIT = "m", "u"
"""First letter of a choice's value: any one of a model, or one unit."""

type Chosen[M] = tuple[M, Unit | None]
type Row = tuple[str, int, int, str, str, str, str | None]
"""List, key, key of a unit's model or 0, maker, name, a pedal's kind or a unit's serial, a unit's board."""


def catalogue_of(board: Board) -> Catalogue:
    """The catalogue of the board's shop, the same one for as long as this board's object lives."""
    kept = board.__dict__.get("_catalogue")
    if not isinstance(kept, Catalogue):
        kept = board.__dict__["_catalogue"] = Catalogue(board.shop)
    return kept


class Catalogue:
    """Rows of gear with their keys and names only; whoever needs more of one reads it."""

    def __init__(self, shop: Shop) -> None:
        self.shop = shop
        self._lists: dict[str, list[Row]] = {}

    def read(self, *lists: str) -> None:
        """Read these lists in one query, where they were not read before."""
        missing = [name for name in lists if name not in self._lists]
        if not missing:
            return
        first, *others = [LISTS[name](self.shop) for name in missing]
        self._lists |= {name: [] for name in missing}
        for row in first.union(*others, all=True).order_by("row_list", "row_maker", "row_named", "pk"):
            self._lists[row[0]].append(row)

    @property
    def cables(self) -> dict[str, CableType]:
        return {str(pk): CableType(pk=pk, shop=self.shop, name=name) for pk, name in self._named("cables")}

    @property
    def plugs(self) -> dict[str, PlugType]:
        return {str(pk): PlugType(pk=pk, shop=self.shop, name=name) for pk, name in self._named("plugs")}

    @property
    def pedals(self) -> dict[str, Chosen[PedalModel]]:
        """Every pedal model, each followed by its units, by the value of its choice."""
        self.read("pedals", "pedal units")
        units, chosen = self._units("pedal units"), dict[str, Chosen[PedalModel]]()
        for _list, pk, _of, maker, name, kind, _at in self._lists["pedals"]:
            model = PedalModel(pk=pk, shop=self.shop, maker=maker, name=name, kind=kind)
            chosen[choice_of(pk, None)] = model, None
            for unit_pk, serial in units.get(pk, []):
                unit = Unit(pk=unit_pk, shop=self.shop, pedal=model, serial=serial)
                chosen[choice_of(pk, unit_pk)] = model, unit
        return chosen

    @property
    def supplies(self) -> dict[str, Chosen[SupplyModel]]:
        """Every supply model, each followed by its units, by the value of its choice."""
        self.read("supplies", "supply units")
        units, chosen = self._units("supply units"), dict[str, Chosen[SupplyModel]]()
        for _list, pk, _of, maker, name, _kind, _at in self._lists["supplies"]:
            model = SupplyModel(pk=pk, shop=self.shop, maker=maker, name=name)
            chosen[choice_of(pk, None)] = model, None
            for unit_pk, serial in units.get(pk, []):
                unit = Unit(pk=unit_pk, shop=self.shop, supply=model, serial=serial)
                chosen[choice_of(pk, unit_pk)] = model, unit
        return chosen

    def pedal_choices(self) -> Choices:
        chosen, boards = self.pedals, self._boards("pedal units")
        return [
            (value, unit_words(model, unit, boards.get(unit.pk)) if unit else f"{model}, {model.kind}")
            for value, (model, unit) in chosen.items()
        ]

    def supply_choices(self) -> Choices:
        chosen, boards = self.supplies, self._boards("supply units")
        return [
            (value, unit_words(model, unit, boards.get(unit.pk)) if unit else str(model))
            for value, (model, unit) in chosen.items()
        ]

    def _named(self, name: str) -> list[tuple[int, str]]:
        self.read(name)
        return [(row[1], row[4]) for row in self._lists[name]]

    def _units(self, name: str) -> dict[int, list[tuple[int, str]]]:
        """Keys and serials by the key of their model."""
        units: dict[int, list[tuple[int, str]]] = {}
        for _list, pk, model, _maker, _name, serial, _at in self._lists[name]:
            units.setdefault(model, []).append((pk, serial))
        return units

    def _boards(self, name: str) -> dict[int, str]:
        """The names of the boards on which units stand, by the units' keys."""
        return {row[1]: row[6] for row in self._lists[name] if row[6]}


def choice_of(model: int, unit: int | None) -> str:
    """The value that chooses this unit, or else any one of this model, by their keys."""
    return f"{MODEL}{model}" if unit is None else f"{UNIT}{unit}"


def unit_words(model: PedalModel | SupplyModel, unit: Unit, board: str | None) -> str:
    """`Low Ember, LE-7`, and where it stands."""
    serial = unit.serial or _("unit %(number)d without a serial") % {"number": unit.pk}
    words = f"{model}, {serial}"
    return _("%(unit)s, on %(board)s") % {"unit": words, "board": board} if board else words


def _rows(rows: QuerySet[Any], name: str, **columns: str) -> QuerySet[Any, Any]:
    """The rows with the columns that all lists have in common; what a list has not is blank."""
    text = CharField()
    blank = {"of": Value(0)} | {key: Value("", text) for key in ("maker", "named", "word", "at")}
    shown = {f"row_{key}": F(columns[key]) if key in columns else value for key, value in blank.items()}
    given: QuerySet[Any, Any] = rows.annotate(row_list=Value(name, text), **shown).order_by()
    return given.values_list("row_list", "pk", "row_of", "row_maker", "row_named", "row_word", "row_at")


LISTS: dict[str, Callable[[Shop], QuerySet[Any, Any]]] = {
    "cables": lambda shop: _rows(shop.cable_types.all(), "cables", named="name"),
    "plugs": lambda shop: _rows(shop.plug_types.all(), "plugs", named="name"),
    "pedals": lambda shop: _rows(shop.pedal_models.all(), "pedals", maker="maker", named="name", word="kind"),
    "supplies": lambda shop: _rows(shop.supply_models.all(), "supplies", maker="maker", named="name"),
    "pedal units": lambda shop: _rows(
        shop.units.filter(pedal__isnull=False),
        "pedal units",
        of="pedal_id",
        word="serial",
        at="placements__board__name",
    ),
    "supply units": lambda shop: _rows(
        shop.units.filter(supply__isnull=False),
        "supply units",
        of="supply_id",
        word="serial",
        at="supply_placements__board__name",
    ),
}
"""Each list of the shop as rows of the same columns, so that any number of them is one query."""
