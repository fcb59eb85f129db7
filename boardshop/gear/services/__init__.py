"""What can be done with gear, each a verb."""

from boardshop.gear.services.cables import (
    add_cable_type,
    add_plug_type,
    add_stock,
    change_cable_type,
    change_plug_type,
    change_stock,
)
from boardshop.gear.services.drawer import add_drawer_item, change_drawer_item
from boardshop.gear.services.frames import add_frame_model, change_frame_model
from boardshop.gear.services.pedals import add_pedal_model, change_pedal_model
from boardshop.gear.services.ready_made import add_ready_made, change_ready_made
from boardshop.gear.services.removing import delete_gear, purge_gear, restore_gear
from boardshop.gear.services.supplies import add_supply_model, change_supply_model
from boardshop.gear.services.units import add_unit, change_unit, measure_draw

__all__ = [
    "add_cable_type",
    "add_drawer_item",
    "add_frame_model",
    "add_pedal_model",
    "add_plug_type",
    "add_ready_made",
    "add_stock",
    "add_supply_model",
    "add_unit",
    "change_cable_type",
    "change_drawer_item",
    "change_frame_model",
    "change_pedal_model",
    "change_plug_type",
    "change_ready_made",
    "change_stock",
    "change_supply_model",
    "change_unit",
    "delete_gear",
    "measure_draw",
    "purge_gear",
    "restore_gear",
]
