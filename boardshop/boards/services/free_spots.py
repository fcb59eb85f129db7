"""Putting something on the frame at the first free spot."""

from boardshop.boards.errors import NoFreeSpot, NotMeasured, NotOfThisBoard
from boardshop.boards.models import Board
from boardshop.boards.plan.read import load_plan
from boardshop.boards.services.places import Spot, place_bodies
from boardshop.core.index import fold, index_plan
from boardshop.core.layout.free_spot import find_pedal_spot, find_supply_spot
from boardshop.core.naming import called
from boardshop.core.plan import BoardPlan


def put_on_board(board: Board, seen: int, ref: str) -> None:
    """Raises NoFreeSpot where there is none, NotMeasured for a supply without a size."""
    place_bodies(board, seen, [find_spot(load_plan(board), board.name, ref)])


def find_spot(plan: BoardPlan, board_name: str, ref: str) -> Spot:
    index = index_plan(plan)
    pedal = index.pedals.get(fold(ref))
    if pedal is not None:
        place = find_pedal_spot(plan, ref)
        if place is None:
            raise NoFreeSpot(thing=called(index, pedal.ref))
        return Spot(pedal.ref, place.x, place.y, place.turn)
    supply = next((supply for supply in plan.supplies if fold(supply.ref) == fold(ref)), None)
    if supply is None:
        raise NotOfThisBoard(thing=ref, board=board_name)
    if supply.width is None or supply.depth is None:
        raise NotMeasured(thing=supply.ref)
    spot = find_supply_spot(plan, ref)
    if spot is None:
        raise NoFreeSpot(thing=supply.ref)
    return Spot(supply.ref, spot.x, spot.y, spot.turn, under=spot.under)
