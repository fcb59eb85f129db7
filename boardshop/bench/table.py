"""The register as a table for spreadsheet programs."""

from __future__ import annotations

from datetime import date

from boardshop.bench.register import CableRow, read_cables, row_of
from boardshop.crew.models import Shop
from boardshop.crew.tables import write_table

HEADINGS = (
    *("id", "kind", "cable", "reel", "plug A", "plug B", "length mm", "made by", "made on"),
    *("place", "where", "test", "tested on", "retest", "scrapped on", "why scrapped", "note"),
)


def register_table(shop: Shop, today: date) -> bytes:
    """Every cable, scrapped ones too, oldest first."""
    rows = [row_of(cable, today) for cable in read_cables(shop).order_by("pk")]
    return write_table(HEADINGS, ([str(cell or "") for cell in _cells(row)] for row in rows))


def _cells(row: CableRow) -> list[object]:
    cable = row.cable
    return [
        *(cable.code, cable.kind, cable.cable, cable.reel, cable.plug_a, cable.plug_b, cable.length),
        *(cable.made_by, cable.made_on, row.place, row.where, cable.verdict, cable.tested_on),
        *(row.retest.said, cable.scrapped_on, cable.scrapped_why, cable.note),
    ]
