"""One made cable with its whole history."""

from __future__ import annotations

from datetime import date
from typing import Any

from boardshop.bench.fits import reach_there
from boardshop.bench.register import read_cables, row_of
from boardshop.core.cables.testing import judge_test
from boardshop.gear.made_cables import made_as
from boardshop.gear.models import MadeCable


def cable_context(cable: MadeCable, today: date) -> dict[str, Any]:
    """What it is, where it is, whether it reaches there, its tests and faults, and where it was."""
    row = row_of(read_cables(cable.shop).get(pk=cable.pk), today)
    return {
        "cable": cable,
        "shop": cable.shop,
        "row": row,
        "reach": reach_there(row.link.board, row.link.ref) if row.link else None,
        "limits": judge_test(made_as(cable), {}).lines,
        "tests": list(cable.tests.all()),
        "faults": list(cable.faults.all()),
        "stays": list(cable.stays.select_related("board")),
    }
