"""A table as people send it: any usual encoding, separator and line end, and cells that no program obeys.

RFC 4180 says how cells are quoted.
Export puts an apostrophe before a cell that would be run as a formula (crew/tables.py), and import takes that
one away again.
"""

import csv
import io
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from boardshop.crew.tables import escape as escape
from boardshop.crew.tables import write_table as write_table

MOST_ROWS = 1000
MOST_COLUMNS = 200
LONGEST_CELL = 10_000
SEPARATORS = (",", ";", "\t")

_ESCAPED = re.compile(r"'+[=+\-@\t\r]")


class TableError(ValueError):
    """The whole file cannot be read; the text says why and what to do."""


@dataclass(frozen=True)
class Line:
    """One row: where it begins in the file, and its cells beside the table's headings."""

    number: int
    cells: tuple[str, ...]


@dataclass(frozen=True)
class Table:
    headings: tuple[str, ...]
    lines: tuple[Line, ...]


def read_table(content: bytes) -> Table:
    """Raises TableError."""
    text = decode(content)
    rows = _rows(text)
    first = next(rows, None)
    if first is None:
        raise TableError(_("This file is empty; its first line must name the columns."))
    headings = tuple(first.cells)
    if len(headings) > MOST_COLUMNS:
        raise TableError(_("This file has more than %(most)s columns.") % {"most": MOST_COLUMNS})
    lines: list[Line] = []
    for line in rows:
        if len(lines) == MOST_ROWS:
            raise TableError(
                _("This file has more than %(most)s rows; split it and bring it in piece by piece.")
                % {"most": MOST_ROWS}
            )
        lines.append(line)
    return Table(headings, tuple(lines))


def decode(content: bytes) -> str:
    """UTF-8 with or without its mark, UTF-16 with its mark, else Windows-1252."""
    if content.startswith((b"PK\x03\x04", b"\xd0\xcf\x11\xe0")):
        raise TableError(_("This is a spreadsheet's own file; save it as CSV there and bring that in."))
    encodings = ("utf-16",) if content.startswith((b"\xff\xfe", b"\xfe\xff")) else ("utf-8-sig", "cp1252")
    for encoding in encodings:
        try:
            text = content.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\x00" in text:
            break
        return text
    raise TableError(_("This file is no text in UTF-8 or Windows-1252; save it as CSV (UTF-8)."))


def unescape(cell: str) -> str:
    """The opposite of `escape`."""
    return cell[1:] if _ESCAPED.match(cell) else cell


def separator_of(text: str) -> str:
    """The sign that parts the cells of the first line: the most frequent one outside quotes."""
    first = next((line for line in text.splitlines() if line.strip()), "")
    bare = re.sub(r'"[^"]*"', "", first)
    return max(SEPARATORS, key=bare.count)


def _rows(text: str) -> Iterator[Line]:
    """Every row that is not blank."""
    told = re.match(r"sep=(.)\r?\n", text, re.IGNORECASE)
    separator, skipped = (told[1], 1) if told else (separator_of(text), 0)
    reader = csv.reader(io.StringIO(text[told.end() :] if told else text, newline=""), delimiter=separator)
    begins = skipped + 1
    try:
        width = 0
        for row in reader:
            width = width or len(row)
            _refuse_lone_quote(row, width, separator, begins)
            cells = tuple(unescape(cell.strip()) for cell in row)
            if any(cells):
                yield Line(begins, _checked(cells, begins))
            begins = skipped + reader.line_num + 1
    except (csv.Error, TypeError, ValueError) as error:
        if isinstance(error, TableError):
            raise
        raise TableError(
            _("Line %(line)s cannot be read (%(error)s); look for a lost quotation mark.")
            % {"line": begins, "error": error}
        ) from error


def _refuse_lone_quote(row: Sequence[str], width: int, separator: str, line: int) -> None:
    """A bare quotation mark for "as above" opens a cell in quotes, which then swallows its neighbours.

    Such a cell begins with the separator.  So may a text in quotes, but then the row has all its cells, or
    its first line does not part into as many as there are columns left.
    """
    for place, cell in enumerate(row):
        if not cell.startswith(separator):
            continue
        first, line_end, _more = cell.partition("\n")
        if len(row) != width or (line_end and first.count(separator) == width - 1 - place):
            raise TableError(
                _(
                    "A cell in line %(line)s holds nothing but a quotation mark, which hides the cells after "
                    "it; write the value itself instead of a ditto mark."
                )
                % {"line": line}
            )


def _checked(cells: tuple[str, ...], line: int) -> tuple[str, ...]:
    if any(len(cell) > LONGEST_CELL for cell in cells):
        raise TableError(
            _("A cell in line %(line)s has more than %(most)s signs; look for a lost quotation mark.")
            % {"line": line, "most": LONGEST_CELL}
        )
    return cells
