"""Which stored row a line of a table is about, and what it would change."""

from dataclasses import dataclass
from typing import Any

from django.utils.translation import gettext as _

from boardshop.crew.models import Shop
from boardshop.gear.csv_import.columns import CellError
from boardshop.gear.csv_import.lines import LineValues
from boardshop.gear.csv_import.sheets import Sheet

NAMES = ("maker", "name")

type Key = tuple[str, ...]


@dataclass(frozen=True)
class Change:
    """One field of a row: what is recorded, and what the file says; blank = not recorded."""

    heading: str
    old: str
    new: str


@dataclass(frozen=True)
class Found:
    row: Any
    record: Any


class Matching:
    """Hands out each stored row once; rows are found by the key columns that the file has."""

    def __init__(self, sheet: Sheet, shop: Shop, columns: list[str]) -> None:
        self.sheet = sheet
        self.key_columns = [name for name in sheet.key if name in columns]
        self.rows_taken: dict[int, int] = {}
        """Key of a stored row -> line that is about it."""
        self.new_lines: dict[Key, int] = {}
        self.stored: dict[Key, list[Found]] = {}
        for row, record in sheet.all_stored(shop):
            found = Found(row, record)
            self.stored.setdefault(self._given_key(getattr, record), []).append(found)

    def find(self, line: LineValues) -> tuple[Found | None, Any]:
        """The stored row, or None for a new one, and the record that the line makes of it.

        Raises CellError when it is not clear which row is meant, or another line was about it.
        """
        same = self.stored.get(self._given_key(dict.__getitem__, line.values), [])
        free = [found for found in same if found.row.pk not in self.rows_taken]
        if self.sheet.may_repeat:
            free = self._of_many(free, line, has_identity=self._has_identity(line))
        elif same and not free:
            raise _same_as(self.rows_taken[same[0].row.pk])
        elif len(same) > 1:
            raise CellError(_("Several rows of the shop could be meant; give the maker too."))
        if not free:
            return None, self._new(line)
        self.rows_taken[free[0].row.pk] = line.number
        return free[0], self.sheet.make(free[0].record, line.values)

    def _of_many(self, free: list[Found], line: LineValues, *, has_identity: bool) -> list[Found]:
        """A row that says the same already; else the one row that has this identity."""
        equal = [found for found in free if not self._changes(found, line)]
        if equal or not has_identity:
            return equal[:1]
        if len(free) > 1:
            raise CellError(_("Several rows of the shop have this name; change it on its own page."))
        return free

    def _changes(self, found: Found, line: LineValues) -> list[Change]:
        return changes_between(self.sheet, found.record, self.sheet.make(found.record, line.values))

    def _has_identity(self, line: LineValues) -> bool:
        return bool(line.values.get(self.sheet.decisive))

    def _new(self, line: LineValues) -> Any:
        values = line.values
        missing = [c.heading for c in self.sheet.columns if c.needed and values.get(c.name) in (None, "")]
        if missing:
            raise CellError(_("A new row also needs: %(columns)s.") % {"columns": ", ".join(missing)})
        key = self._given_key(dict.__getitem__, values)
        if not self.sheet.may_repeat or self._has_identity(line):
            if key in self.new_lines:
                raise _same_as(self.new_lines[key])
            self.new_lines[key] = line.number
        return self.sheet.make(None, values)

    def _given_key(self, get: Any, source: Any) -> Key:
        return tuple(str(get(source, name) or "").upper() for name in self.key_columns)


def _same_as(line: int) -> CellError:
    return CellError(_("The same as line %(line)s; keep one of the two.") % {"line": line})


def facts_of(sheet: Sheet, record: Any) -> list[Change]:
    """Everything that is recorded about a new row, besides its name."""
    cells = sheet.cells_of(record)
    return [
        Change(c.heading, "", cells[c.name]) for c in sheet.columns if cells[c.name] and c.name not in NAMES
    ]


def changes_between(sheet: Sheet, old: Any, new: Any) -> list[Change]:
    """Column by column, as text."""
    before, after = sheet.cells_of(old), sheet.cells_of(new)
    return [
        Change(column.heading, before[column.name], after[column.name])
        for column in sheet.columns
        if before[column.name] != after[column.name]
    ]
