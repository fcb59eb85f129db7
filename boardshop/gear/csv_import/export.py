"""A list of gear as a table that imports back identical, and the table to fill in."""

from boardshop.crew.models import Shop
from boardshop.gear.csv_import.sheets import Sheet
from boardshop.gear.csv_import.table import write_table


def export_table(shop: Shop, sheet: Sheet) -> bytes:
    """Every row of the list, in its order."""
    rows = [list(sheet.cells_of(record).values()) for _row, record in sheet.all_stored(shop)]
    return write_table([column.heading for column in sheet.columns], rows)


def template_table(sheet: Sheet) -> bytes:
    """The headings and one invented row."""
    headings = [column.heading for column in sheet.columns]
    return write_table(headings, [[column.example for column in sheet.columns]])
