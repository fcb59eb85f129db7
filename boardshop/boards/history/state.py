"""The rows that are a board's own, as one value: read in one query, compared, put back.

Gear belongs to the shop and is not in it: a row only holds the keys of the gear it uses.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from functools import cache
from typing import Any

from django.db import connection, models

from boardshop.boards import models as boards
from boardshop.boards.models import Board

type Columns = dict[str, Any]
type Rows = dict[str, Columns]
"""Rows of one table by their key as text, as JSON writes it."""
type State = dict[str, Rows]
"""Rows by table."""


@dataclass(frozen=True)
class Table:
    """One table of rows that belong to a board; `belongs` is the condition in SQL, on the board's key."""

    model: type[models.Model]
    belongs: str

    @property
    def name(self) -> str:
        return self.model._meta.db_table

    @property
    def key(self) -> str:
        assert self.model._meta.pk is not None
        return str(self.model._meta.pk.column)


HEAD = "boards_board"
HEAD_COLUMNS = ("name", "client_id", "note", "rules", "venue_mv", "venue_hz", "venue_plug", "incomplete")
"""What of the board's own row an edit may change; the rest counts edits or stays as it is."""
IDENTITY = ("name", "client_id")
"""Columns that say which board it is: a revision or variant that comes back leaves them alone."""

ADDED_LATER = {"boards_frame": ("plate_thickness", "members"), "boards_link": ("made_cable_id",)}
"""Columns that came into being when there were boards already; blank or an empty list in all from before."""

_ITEMS = "(SELECT id FROM boards_item WHERE board_id = %(board)s)"
_FEEDS = "(SELECT id FROM boards_feed WHERE board_id = %(board)s)"
_SCENES = "(SELECT id FROM boards_scene WHERE board_id = %(board)s)"
_OWN = "board_id = %(board)s"

TABLES = (
    Table(boards.Frame, _OWN),
    Table(boards.Item, _OWN),
    Table(boards.Placement, f"item_ptr_id IN {_ITEMS}"),
    Table(boards.Placement.together.through, f"from_placement_id IN {_ITEMS}"),
    Table(boards.Source, f"item_ptr_id IN {_ITEMS}"),
    Table(boards.Amp, f"item_ptr_id IN {_ITEMS}"),
    Table(boards.Computer, f"item_ptr_id IN {_ITEMS}"),
    Table(boards.SupplyPlacement, f"item_ptr_id IN {_ITEMS}"),
    Table(boards.Link, f"item_ptr_id IN {_ITEMS}"),
    Table(boards.Feed, _OWN),
    Table(boards.FeedOutlet, f"feed_id IN {_FEEDS}"),
    Table(boards.FeedJack, f"feed_id IN {_FEEDS}"),
    Table(boards.DcLead, f"feed_id IN {_FEEDS}"),
    Table(boards.Piece, _OWN),
    Table(boards.Scene, _OWN),
    Table(boards.Scene.pedals.through, f"scene_id IN {_SCENES}"),
    Table(boards.AcceptedFinding, _OWN),
)
"""Every table whose rows belong to one board and change with its edits."""
BY_NAME = {table.name: table for table in TABLES}

TABLE_ROWS = """
  '{table}', (SELECT coalesce(json_object_agg(row.{key}, row_to_json(row)), '{{}}')
              FROM {table} row WHERE row.{belongs})"""
BOARD_ROWS = """
  SELECT (json_build_object(
    '{table}', json_build_object(board.id::text, json_build_object({head})), {rows}))::text
  FROM {table} board WHERE board.id = %(board)s"""


@cache
def state_sql() -> str:
    """The statement that gives a board's state as one JSON object."""
    head = ", ".join(f"'{column}', board.{column}" for column in HEAD_COLUMNS)
    rows = ", ".join(
        TABLE_ROWS.format(table=table.name, key=table.key, belongs=table.belongs) for table in TABLES
    )
    return BOARD_ROWS.format(table=HEAD, head=head, rows=rows)


def read_state(board: Board) -> State:
    """The rows of the working copy, in one query.  Raises Board.DoesNotExist when the board is gone."""
    with connection.cursor() as cursor:
        cursor.execute(state_sql(), {"board": board.pk})
        found = cursor.fetchone()
    if found is None:
        raise Board.DoesNotExist
    state: State = json.loads(found[0])
    return state


def digest_of(state: State) -> str:
    """A short mark of everything that makes the board what it is; its name and owner do not count.

    Columns of `ADDED_LATER` count once something stands in them, so that older marks stay right.
    """
    bare = {
        name: {key: _without_blanks(name, columns) for key, columns in rows.items()}
        for name, rows in state.items()
        if name != HEAD
    }
    heads = [
        {name: value for name, value in columns.items() if name not in IDENTITY}
        for columns in state[HEAD].values()
    ]
    text = json.dumps([heads, bare], sort_keys=True)
    return hashlib.sha256(text.encode()).hexdigest()


def _without_blanks(table: str, columns: Columns) -> Columns:
    later = ADDED_LATER.get(table, ())
    return {name: value for name, value in columns.items() if value not in (None, []) or name not in later}


def complete(table: Table, columns: Columns) -> Columns:
    """A stored row with the columns that came into being after it, at their defaults."""
    fresh = {
        str(field.column): field.get_default()
        for field in table.model._meta.local_concrete_fields
        if field.column not in columns and not field.primary_key
    }
    return columns | fresh
