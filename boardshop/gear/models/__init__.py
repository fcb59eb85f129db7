"""Gear: what data sheets say (models), what physically exists (units), and cable in stock."""

from boardshop.gear.models.cables import CableStock, CableType, PlugType
from boardshop.gear.models.frames import FrameModel, FrameShape
from boardshop.gear.models.held_files import GearFile
from boardshop.gear.models.leads import DrawerItem, SupplyLead
from boardshop.gear.models.made_cables import CableFault, CableTest, MadeCable
from boardshop.gear.models.pedals import PedalJack, PedalModel, PedalSwitch, PowerJack
from boardshop.gear.models.ready_made import ReadyMade
from boardshop.gear.models.supplies import Outlet, OutletSetting, SupplyModel
from boardshop.gear.models.units import Unit, UnitDraw

__all__ = [
    "CableFault",
    "CableStock",
    "CableTest",
    "CableType",
    "DrawerItem",
    "FrameModel",
    "FrameShape",
    "GearFile",
    "MadeCable",
    "Outlet",
    "OutletSetting",
    "PedalJack",
    "PedalModel",
    "PedalSwitch",
    "PlugType",
    "PowerJack",
    "ReadyMade",
    "SupplyLead",
    "SupplyModel",
    "Unit",
    "UnitDraw",
]
