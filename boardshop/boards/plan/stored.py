"""All that is stored of one board, in one statement.

`stored.sql` puts it together in Postgres, so that a plan is of one moment, and none of a query's cost is that
of writing it: as annotated querysets the same rows took three times as long, most of it in Python.
"""

import json
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from django.db import connection

from boardshop.boards.models import Board

STATEMENT = Path(__file__).with_name("stored.sql").read_text(encoding="utf-8")
"""Begins with WITH; a statement that puts named rows before it makes it read those instead of the tables."""


class Row(SimpleNamespace):
    """The columns of one stored row, by name; numbers with decimals are floats, dates are ISO 8601 text."""


class Stored:
    """A board's rows, each list in the order of its positions."""

    def __init__(self, tables: dict[str, Any]) -> None:
        self._tables = tables

    def one(self, name: str) -> Row:
        return Row(**self._tables[name])

    def all(self, name: str) -> list[Row]:
        return [Row(**columns) for columns in self._tables[name]]


def read_stored(board: Board) -> Stored:
    """Raises Board.DoesNotExist when the board is gone."""
    with connection.cursor() as cursor:
        cursor.execute(STATEMENT, {"board": board.pk})
        found = cursor.fetchone()
    if found is None:
        raise Board.DoesNotExist
    return parse_stored(found[0])


def parse_stored(text: str) -> Stored:
    """What the statement has answered."""
    return Stored(json.loads(text))
