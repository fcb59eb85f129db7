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
        return _row(self._tables[name])

    def all(self, name: str) -> list[Row]:
        return [_row(columns) for columns in self._tables[name]]

    def texts(self, name: str) -> list[str]:
        """Of a list whose rows come as texts, to be read by `row_of` where they are not known yet."""
        return list(self._tables[name])

    def text(self, name: str) -> str:
        return str(self._tables[name])


def row_of(text: str) -> Row:
    """A row that comes as a text of its own."""
    return _row(json.loads(text))


def read_stored(board: Board) -> str:
    """All that is stored of a board, as one text.  Raises Board.DoesNotExist when the board is gone."""
    with connection.cursor() as cursor:
        cursor.execute(STATEMENT, {"board": board.pk})
        found = cursor.fetchone()
    if found is None:
        raise Board.DoesNotExist
    return str(found[0])


def parse_stored(text: str) -> Stored:
    """What the statement has answered."""
    return Stored(json.loads(text))


def _row(columns: dict[str, Any]) -> Row:
    """Of several rows that make one thing the later one names a column that both have."""
    rows = columns.pop("rows", ())
    for row in reversed(rows):
        columns = row | columns
    return Row(**columns)
