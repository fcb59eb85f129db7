"""Tables as a spreadsheet program opens them, with cells that it does not obey.

RFC 4180 says how cells are quoted.
A cell that begins with = + - @, a tab or a carriage return is run as a formula by spreadsheet programs, so an
apostrophe is put before it.
"""

import csv
import io
import re
from collections.abc import Iterable, Sequence

_OBEYED = re.compile(r"'*[=+\-@\t\r]")


def write_table(headings: Sequence[str], rows: Iterable[Sequence[str]]) -> bytes:
    """UTF-8 with its mark, commas, CRLF: what spreadsheet programs open without asking."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(headings)
    writer.writerows([escape(cell) for cell in row] for row in rows)
    return out.getvalue().encode("utf-8-sig")


def escape(cell: str) -> str:
    """Such that no spreadsheet program takes the cell for a formula."""
    return f"'{cell}" if _OBEYED.match(cell) else cell
