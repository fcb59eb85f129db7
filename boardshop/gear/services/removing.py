"""Taking gear off the shop's lists."""

from django.db import transaction
from django.db.models import ProtectedError, RestrictedError

from boardshop.crew.constraints import users_of
from boardshop.gear.errors import GearInUse
from boardshop.gear.models import CableStock, CableType, FrameModel, PedalModel, PlugType, SupplyModel, Unit

type GearRow = PedalModel | SupplyModel | CableType | PlugType | FrameModel | CableStock | Unit


@transaction.atomic
def delete_gear(row: GearRow) -> None:
    """Raises GearInUse when a board or a unit still needs it; nothing is taken from a board silently."""
    name = str(row)
    try:
        row.delete()
    except (ProtectedError, RestrictedError) as error:
        raise GearInUse(name=name, users=users_of(error)) from error
