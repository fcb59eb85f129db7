"""Findings beside the things that they name, on the page that lists them all as well."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterable
from dataclasses import dataclass

from boardshop.boards.pages.findings import FindingRow, FoundRows
from boardshop.core.index import fold, split_end
from boardshop.core.power.rules import shorten
from boardshop.core.vocabulary import URGENT


@dataclass(frozen=True)
class Note:
    """One finding in short; the page's list has its reason, its cure and the form that keeps it."""

    rule: str
    severity: str
    message: str
    key: str
    is_kept: bool


@dataclass(frozen=True)
class Head:
    """Notes of one rule that are said in one breath: `Caution P11, 3 times`."""

    rule: str
    severity: str
    is_kept: bool
    times: int


@dataclass(frozen=True)
class Beside:
    """What is found about one thing: what must be cured at once, the rest to be unfolded."""

    ref: str = ""
    urgent: tuple[Note, ...] = ()
    rest: tuple[Note, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.urgent or self.rest)

    @property
    def memory(self) -> Hashable:
        """All that is shown of it; see templatetags/remembered.py."""
        return self.ref, self.urgent, self.rest

    @property
    def key(self) -> str:
        """The id of what is unfolded; a group's name may be that of an outlet."""
        return f"beside-{self.ref.replace('/', '--').replace('.', '-')}"

    @property
    def heads(self) -> list[Head]:
        """What stands folded, rule by rule."""
        counts = Counter((note.rule, note.severity, note.is_kept) for note in self.rest)
        return [Head(*named, times) for named, times in counts.items()]

    @property
    def worst(self) -> Note | None:
        """The first that is not kept on purpose."""
        return next((row for row in (*self.urgent, *self.rest) if not row.is_kept), None)


class BySubject:
    """The findings of a page by the things that they name."""

    def __init__(self, found: FoundRows, rules: Iterable[str]) -> None:
        """Of these rules only: what names half of the board says little beside each of its parts."""
        wanted = set(rules)
        self._rows: dict[str, list[Note]] = {}
        for row in (*found.pressing, *found.advice, *found.kept):
            if row.rule in wanted:
                note = _note(row)
                for subject in dict.fromkeys(map(fold, row.subjects)):
                    self._rows.setdefault(subject, []).append(note)

    def of(self, ref: str) -> Beside:
        return self._split(ref, self._rows.get(fold(ref), []))

    def of_jack(self, ref: str) -> Beside:
        """Those that name the jack, or the pedal that it is on."""
        named = [ref, split_end(ref)[0]]
        return self._split(ref, [row for name in named for row in self._rows.get(fold(name), [])])

    def _split(self, ref: str, rows: list[Note]) -> Beside:
        once = list({row.key: row for row in rows}.values())
        urgent = [row for row in once if row.severity in URGENT and not row.is_kept]
        return Beside(ref, tuple(urgent), tuple(row for row in once if row not in urgent))


def _note(row: FindingRow) -> Note:
    message = shorten(row.rule, row.message)
    return Note(row.rule, row.severity, message, row.key, row.accepted is not None)
