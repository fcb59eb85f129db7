"""Adding and changing what a shop tells apart by its name alone: cables, plugs, ready-made cables."""

from collections.abc import Callable

from django.db import transaction

from boardshop.crew.constraints import refusals_by
from boardshop.crew.models import Shop
from boardshop.gear.constraints import GEAR_REFUSALS
from boardshop.gear.models import CableType, PlugType, ReadyMade
from boardshop.gear.records import CableRecord, PlugRecord, ReadyMadeRecord
from boardshop.gear.services.keeping import check_name_free, check_seen, columns_of, save_changes

type NamedRecord = CableRecord | PlugRecord | ReadyMadeRecord


@transaction.atomic
def add_named[Row: (CableType, PlugType, ReadyMade)](
    model: type[Row], shop: Shop, record: NamedRecord
) -> Row:
    """Raises NameMissing, NameTaken, or what else it is refused for."""
    check_name_free(model.objects.filter(shop=shop), record.name)
    with refusals_by(GEAR_REFUSALS, name=str(record)):
        return model.objects.create(shop=shop, **columns_of(record))


@transaction.atomic
def change_named[Row: (CableType, PlugType, ReadyMade)](
    row: Row, record: NamedRecord, stored: Callable[[Row], NamedRecord], seen: str | None
) -> Row:
    """`stored` reads the record of a row.  Raises ChangedMeanwhile besides what adding raises."""
    model = type(row)
    row = model.objects.select_for_update().get(pk=row.pk)
    check_seen(seen, stored(row), record)
    check_name_free(model.objects.filter(shop=row.shop_id).exclude(pk=row.pk), record.name)
    with refusals_by(GEAR_REFUSALS, name=str(record)):
        save_changes(row, columns_of(record))
    return row
