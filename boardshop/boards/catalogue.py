"""The shop's gear as form choices: each list is read once a request, to check a form and to draw it again."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property

from boardshop.boards.forms.edits import Choices
from boardshop.boards.models import Board
from boardshop.crew.models import Shop
from boardshop.gear.models import CableType, PedalModel, PlugType, SupplyModel, Unit

MODEL, UNIT = "m", "u"
"""First letter of a choice's value: any one of a model, or one unit."""

type Chosen[M] = tuple[M, Unit | None]


def catalogue_of(board: Board) -> Catalogue:
    """The catalogue of the board's shop, the same one for as long as this board's object lives."""
    kept = board.__dict__.get("_catalogue")
    if not isinstance(kept, Catalogue):
        kept = board.__dict__["_catalogue"] = Catalogue(board.shop)
    return kept


class Catalogue:
    def __init__(self, shop: Shop) -> None:
        self.shop = shop

    @cached_property
    def cables(self) -> dict[str, CableType]:
        return {str(one.pk): one for one in CableType.objects.filter(shop=self.shop)}

    @cached_property
    def plugs(self) -> dict[str, PlugType]:
        return {str(one.pk): one for one in PlugType.objects.filter(shop=self.shop)}

    @cached_property
    def pedals(self) -> dict[str, Chosen[PedalModel]]:
        """Every pedal model, each followed by its units, by the value of its choice."""
        models = PedalModel.objects.filter(shop=self.shop).only("shop", "maker", "name", "kind")
        units = Unit.objects.filter(shop=self.shop, pedal__isnull=False)
        return dict(_with_units(models, units, "pedal_id"))

    @cached_property
    def supplies(self) -> dict[str, Chosen[SupplyModel]]:
        models = SupplyModel.objects.filter(shop=self.shop).only("shop", "maker", "name")
        units = Unit.objects.filter(shop=self.shop, supply__isnull=False)
        return dict(_with_units(models, units, "supply_id"))

    def pedal_choices(self) -> Choices:
        return [
            (value, unit_words(model, unit) if unit else f"{model}, {model.kind}")
            for value, (model, unit) in self.pedals.items()
        ]

    def supply_choices(self) -> Choices:
        return [
            (value, unit_words(model, unit) if unit else str(model))
            for value, (model, unit) in self.supplies.items()
        ]


def choice_of(model: PedalModel | SupplyModel | int, unit: Unit | int | None) -> str:
    """The value that chooses this unit, or else any one of this model; keys do as well as rows."""
    if unit is not None:
        return f"{UNIT}{unit if isinstance(unit, int) else unit.pk}"
    return f"{MODEL}{model if isinstance(model, int) else model.pk}"


def unit_words(model: PedalModel | SupplyModel, unit: Unit) -> str:
    return f"{model}, {unit.serial or f'unit {unit.pk} without a serial'}"


def _with_units[M: (PedalModel, SupplyModel)](
    models: Iterable[M], units: Iterable[Unit], column: str
) -> Iterable[tuple[str, Chosen[M]]]:
    by_model: dict[int, list[Unit]] = {}
    for unit in units:
        by_model.setdefault(getattr(unit, column), []).append(unit)
    for model in models:
        yield choice_of(model, None), (model, None)
        for unit in by_model.get(model.pk, []):
            yield choice_of(model, unit), (model, unit)
