"""What bringing in a table would do, row by row, and doing it.

The dry run does everything inside a transaction that is rolled back, so that the real run cannot differ.
"""

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from django.db import transaction

from boardshop.crew.errors import Refusal
from boardshop.crew.models import Shop
from boardshop.gear.csv_import.columns import CellError, find_headings
from boardshop.gear.csv_import.lines import LineValues, check_headings, read_lines
from boardshop.gear.csv_import.matching import Change, Matching, changes_between, facts_of
from boardshop.gear.csv_import.sheets import Sheet
from boardshop.gear.csv_import.table import Table, read_table
from boardshop.gear.templatetags.lengths import lengths_in

NEW, CHANGED, UNCHANGED, REFUSED = "new", "changed", "unchanged", "refused"
VERDICTS = (REFUSED, NEW, CHANGED, UNCHANGED)


class ImportRefused(Refusal):
    """Nothing was brought in: some rows are refused; correct them in the file and bring it in again."""


class GearChangedMeanwhile(Refusal):
    """Nothing was brought in: the shop's gear changed since the dry run; look at the new dry run below."""


@dataclass
class Row:
    """What one line of the file does; `problems` are (column, what is accepted)."""

    line: int
    name: str
    verdict: str
    changes: list[Change] = field(default_factory=list)
    problems: list[tuple[str, str]] = field(default_factory=list)
    questions: list[str] = field(default_factory=list)
    stored: Any = None
    record: Any = None


@dataclass(frozen=True)
class ImportPlan:
    rows: tuple[Row, ...]
    ignored: tuple[str, ...]
    """Headings that are none of ours."""

    @property
    def counts(self) -> dict[str, int]:
        return {verdict: sum(row.verdict == verdict for row in self.rows) for verdict in VERDICTS}

    @property
    def can_be_applied(self) -> bool:
        counts = self.counts
        return not counts[REFUSED] and bool(counts[NEW] + counts[CHANGED])

    @property
    def mark(self) -> str:
        """Equal marks: the same rows would do the same to the same gear."""
        told = [
            (r.line, r.name, r.verdict, [(c.heading, c.old, c.new) for c in r.changes]) for r in self.rows
        ]
        return hashlib.sha256(repr(told).encode()).hexdigest()


def try_import(shop: Shop, sheet: Sheet, content: bytes) -> ImportPlan:
    """The dry run; nothing is kept.  Raises TableError when the file cannot be read at all."""
    table = read_table(content)
    with transaction.atomic():
        plan = _plan(shop, sheet, table)
        _carry_out(shop, sheet, plan)
        transaction.set_rollback(True)
    return plan


@transaction.atomic
def apply_import(shop: Shop, sheet: Sheet, content: bytes, mark: str) -> ImportPlan:
    """Bring all of it in, if it still does what the dry run of that mark showed.

    Raises ImportRefused or GearChangedMeanwhile, and then nothing is kept.
    """
    Shop.objects.select_for_update().get(pk=shop.pk)
    plan = _plan(shop, sheet, read_table(content))
    _carry_out(shop, sheet, plan)
    if plan.mark != mark:
        raise GearChangedMeanwhile
    if plan.counts[REFUSED]:
        raise ImportRefused
    return plan


def _plan(shop: Shop, sheet: Sheet, table: Table) -> ImportPlan:
    headings = find_headings(table.headings, sheet.columns)
    check_headings(table, sheet, headings)
    matching = Matching(sheet, shop, [heading.column.name for heading in headings.values()])
    questions = sheet.questions(shop)
    rows = []
    for cells in read_lines(table, headings, shop.length_unit):
        row = _row(cells, sheet, matching)
        if row.record and row.verdict != UNCHANGED:
            asked = questions(row.record, cells.values, row.stored is None)
            row.questions = [lengths_in(words, shop) for words in asked]
        rows.append(row)
    ignored = tuple(name for n, name in enumerate(table.headings) if n not in headings and name)
    return ImportPlan(tuple(rows), ignored)


def _row(cells: LineValues, sheet: Sheet, matching: Matching) -> Row:
    if cells.problems:
        return Row(cells.number, cells.name, REFUSED, problems=cells.problems)
    try:
        found, record = matching.find(cells)
    except CellError as error:
        return Row(cells.number, cells.name, REFUSED, problems=[("", str(error))])
    if found is None:
        return Row(cells.number, str(record), NEW, facts_of(sheet, record), record=record)
    changes = changes_between(sheet, found.record, record)
    verdict = CHANGED if changes else UNCHANGED
    return Row(cells.number, str(record), verdict, changes, stored=found.row, record=record)


def _carry_out(shop: Shop, sheet: Sheet, plan: ImportPlan) -> None:
    """Do what the rows say; a row that a service refuses says why and counts as refused."""
    for row in _to_do(plan.rows):
        try:
            with transaction.atomic():
                if row.stored is None:
                    sheet.add(shop, row.record)
                else:
                    sheet.change(row.stored, row.record)
        except Refusal as refusal:
            row.verdict = REFUSED
            row.problems.append((_heading(sheet, refusal.field), lengths_in(str(refusal), shop)))


def _to_do(rows: Iterable[Row]) -> list[Row]:
    return [row for row in rows if row.verdict in (NEW, CHANGED)]


def _heading(sheet: Sheet, name: str) -> str:
    return next((column.heading for column in sheet.columns if column.name == name), "")
