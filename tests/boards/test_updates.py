"""What the updates of the tables make of rows that were stored before them."""

from collections.abc import Iterator
from typing import Any

import pytest
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

BEFORE = ("boards", "0003_incomplete_entries")


@pytest.fixture
def former(transactional_db: None) -> Iterator[Any]:
    """The tables as they were before a unit stood on one board only; the newest ones come back at the end."""
    executor = MigrationExecutor(connection)
    newest = executor.loader.graph.leaf_nodes()
    executor.migrate([BEFORE])
    yield MigrationExecutor(connection).loader.project_state([BEFORE]).apps
    MigrationExecutor(connection).migrate(newest)


def test_the_update_writes_one_line_for_every_unit_that_leaves_a_board(former: Any) -> None:
    shop = former.get_model("crew", "Shop").objects.create(name="Kestrel")
    model = former.get_model("gear", "PedalModel").objects.create(
        shop=shop, name="Low Ember", kind="fuzz", width=73, depth=130
    )
    units = former.get_model("gear", "Unit").objects
    pair = [units.create(shop=shop, pedal=model, serial=serial) for serial in ("LE-1", "LE-2")]
    boards, frames = (former.get_model("boards", name).objects for name in ("Board", "Frame"))
    for code, note in (("AAAAA", ""), ("BBBBB", "spare")):
        board = boards.create(shop=shop, name=code, code=code, note=note, rules={})
        frame = frames.create(board=board, width=600, depth=320)
        for n, unit in enumerate(pair):
            former.get_model("boards", "Placement").objects.create(
                board=board, frame=frame, ref=f"P{n}", position=n, model=model, unit=unit
            )
    executor = MigrationExecutor(connection)
    executor.migrate(executor.loader.graph.leaf_nodes())
    assert boards.get(code="AAAAA").note == ""
    assert boards.get(code="BBBBB").note.splitlines() == [
        "spare",
        "P0: unit LE-1 was on two boards; only its model is kept here.",
        "P1: unit LE-2 was on two boards; only its model is kept here.",
    ]
