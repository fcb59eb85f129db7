"""Units on boards: one physical thing is in one place at a time."""

from django.utils.translation import gettext as _

from boardshop.boards.errors import UnitElsewhere
from boardshop.boards.models import Item
from boardshop.gear.models import Unit


def check_unit_free(unit: Unit | None, but: Item | None = None) -> None:
    """Raises UnitElsewhere with where the unit stands, unless it is `but` that it is; None is no unit."""
    item = None if unit is None else find_use(unit)
    if unit is not None and item is not None and (but is None or item.pk != but.pk):
        raise UnitElsewhere(unit=say_unit(unit), there=item.described_use())


def find_use(unit: Unit) -> Item | None:
    """The pedal or supply of a board that is this unit."""
    uses = unit.supply_placements if unit.pedal_id is None else unit.placements
    return uses.select_related("board").first()


def say_unit(unit: Unit) -> str:
    return _("Unit %(serial)s") % {"serial": unit.serial} if unit.serial else _("This unit")
