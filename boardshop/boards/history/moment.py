"""A board as it stands at one moment: its rows and the plan they make, from one statement."""

from __future__ import annotations

import json
from dataclasses import dataclass

from django.db import connection

from boardshop.boards.history.state import HEAD, TABLES, State, state_sql
from boardshop.boards.models import Board
from boardshop.boards.plan.read import plan_from
from boardshop.boards.plan.stored import STATEMENT
from boardshop.core.plan import BoardPlan

KEPT_ROWS = """
  SELECT * FROM jsonb_populate_recordset(NULL::{table}, (
    SELECT coalesce(jsonb_agg(kept.value), '[]') FROM jsonb_each(%(state)s::jsonb -> '{table}') kept))
"""
KEPT_HEAD = """
  SELECT (jsonb_populate_record(board, (
    SELECT kept.value FROM jsonb_each(%(state)s::jsonb -> '{head}') kept))).*
  FROM {head} board WHERE board.id = %(board)s
"""
"""The board as it is but for the columns that are kept aside."""


@dataclass(frozen=True)
class Moment:
    """The board's own rows, and the plan of them with the shop's gear as it is now."""

    state: State
    plan: BoardPlan


def read_moment(board: Board) -> Moment:
    """The working copy as it stands.  Raises Board.DoesNotExist when it is gone."""
    with connection.cursor() as cursor:
        cursor.execute(f"SELECT ({STATEMENT}), ({state_sql()})", {"board": board.pk})
        found = cursor.fetchone()
    if found is None or found[0] is None:
        raise Board.DoesNotExist
    return Moment(json.loads(found[1]), plan_from(found[0]))


def plan_of_state(board: Board, state: State) -> BoardPlan:
    """The plan of rows that are kept aside, with the shop's gear as it is now, in one query.

    Rows named like the tables stand before the statement, so that it reads them in the tables' place.
    Gear that is gone for good leaves its pedal out; see `missing_gear` for what a restoration says then.
    """
    kept = [f"{table.name} AS ({KEPT_ROWS.format(table=table.name)})" for table in TABLES]
    head = f"{HEAD} AS ({KEPT_HEAD.format(head=HEAD)})"
    statement = f"WITH {head}, {', '.join(kept)}, {STATEMENT.partition('WITH')[2]}"
    with connection.cursor() as cursor:
        cursor.execute(statement, {"board": board.pk, "state": json.dumps(state)})
        found = cursor.fetchone()
    if found is None:
        raise Board.DoesNotExist
    return plan_from(found[0])
