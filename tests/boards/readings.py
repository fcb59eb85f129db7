"""Readings for the tests of the first power-on: what is typed, and what is stored."""

from typing import Any

from boardshop.boards.access import get_board_for
from boardshop.boards.models import Board, LeadReading
from boardshop.boards.services.readings import record_load, record_plug
from boardshop.crew.models import Person

RIGHT: dict[str, Any] = {"volts": "9,1", "polarity": "centre-negative", "note": ""}


def meter(
    board: Board, person: Person, end: str = "P1.DC", mv: int = 9100, polarity: str = "centre-negative"
) -> LeadReading:
    """A reading at the open plug by this person, a right one unless told otherwise."""
    got = get_board_for(person, board.code, editing=True)
    return record_plug(got, got.edit_number, end, mv, polarity)


def meter_load(board: Board, person: Person, load_ma: int, end: str = "P1.DC") -> LeadReading:
    got = get_board_for(person, board.code, editing=True)
    return record_load(got, got.edit_number, end, load_ma)
