"""One board: its frame, what stands on and around it, how that is joined, and what feeds it."""

from boardshop.boards.models.boards import AcceptedFinding, Board, Frame, Piece, Scene
from boardshop.boards.models.held_files import BoardFile
from boardshop.boards.models.history import Change, Revision, Variant
from boardshop.boards.models.items import Amp, Computer, Item, Placement, Source, SupplyPlacement
from boardshop.boards.models.readings import LeadReading
from boardshop.boards.models.searches import LayoutSearch
from boardshop.boards.models.stays import CableStay
from boardshop.boards.models.wiring import DcLead, Feed, FeedJack, FeedOutlet, Link

__all__ = [
    "AcceptedFinding",
    "Amp",
    "Board",
    "BoardFile",
    "CableStay",
    "Change",
    "Computer",
    "DcLead",
    "Feed",
    "FeedJack",
    "FeedOutlet",
    "Frame",
    "Item",
    "LayoutSearch",
    "LeadReading",
    "Link",
    "Piece",
    "Placement",
    "Revision",
    "Scene",
    "Source",
    "SupplyPlacement",
    "Variant",
]
