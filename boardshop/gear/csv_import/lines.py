"""The lines of a table as values of our columns, each with what is wrong with its cells."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from boardshop.gear.csv_import.columns import CellError, Heading
from boardshop.gear.csv_import.sheets import Sheet
from boardshop.gear.csv_import.table import Line, Table, TableError

DITTO = ("〃", '"', "''", "ditto")
SAME_MAKER = (*DITTO, "do.")


@dataclass(frozen=True)
class LineValues:
    """`values` by column name; `problems` are (heading, what is accepted)."""

    number: int
    name: str
    values: dict[str, Any]
    problems: list[tuple[str, str]]


def check_headings(table: Table, sheet: Sheet, headings: dict[int, Heading]) -> None:
    """Raises TableError when the first line does not name the columns, or one of them twice."""
    found = [heading.column.name for heading in headings.values()]
    needed = next(column for column in sheet.columns if column.needed)
    if needed.name not in found:
        raise TableError(
            _("The first line must name the columns, and one of them must be “%(needed)s”; found: %(found)s.")
            % {"needed": needed.heading, "found": ", ".join(filter(None, table.headings))[:200] or "-"}
        )
    twice = sorted({name for name in found if found.count(name) > 1})
    if twice:
        columns = ", ".join(column.heading for column in sheet.columns if column.name in twice)
        raise TableError(
            _("These columns stand twice; keep one of each: %(columns)s.") % {"columns": columns}
        )


def read_lines(table: Table, headings: dict[int, Heading], unit: str) -> Iterator[LineValues]:
    """Every line; a maker that is only marked as the same takes that of the line above."""
    maker = ""
    for line in table.lines:
        values, problems = _values(line, headings, unit, maker)
        maker = values.get("maker", "")
        if any(line.cells[len(table.headings) :]):
            words = _(
                "More cells than the first line has columns; put a cell with a separator in it in quotes."
            )
            problems.append(("", words))
        parts = [values.get(name) for name in ("maker", "name", "model", "cable", "serial")]
        name = " ".join(part for part in parts if part) or next(filter(None, line.cells), "")
        yield LineValues(line.number, name[:120], values, problems)


def _values(
    line: Line, headings: dict[int, Heading], unit: str, maker: str
) -> tuple[dict[str, Any], list[tuple[str, str]]]:
    values: dict[str, Any] = {}
    problems: list[tuple[str, str]] = []
    for place, heading in headings.items():
        column = heading.column
        text = line.cells[place] if place < len(line.cells) else ""
        if column.name == "maker" and text.lower() in SAME_MAKER and maker:
            text = maker
        try:
            value = heading.value(_without_ditto(text), unit)
        except CellError as error:
            problems.append((column.heading, str(error)))
            continue
        values[column.name] = value
        if column.needed and value in (None, ""):
            problems.append(
                (column.heading, _("needed, but blank; write such as %(this)s") % {"this": column.example})
            )
    return values, problems


def _without_ditto(text: str) -> str:
    """The cell; raises CellError for a mark that only points at another line."""
    if text.lower() not in DITTO:
        return text
    raise CellError(
        _("“%(mark)s” is a ditto mark; write the value itself, only a maker is taken from the line above.")
        % {"mark": text}
    )
