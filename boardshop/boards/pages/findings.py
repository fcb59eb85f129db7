"""Findings on a page: each with the form that keeps it on purpose, or takes that back."""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass
from hashlib import sha256

from boardshop.boards.forms.edits import EditForm
from boardshop.boards.pages.page import PageState
from boardshop.core.findings import Finding
from boardshop.core.index import split_end
from boardshop.core.plan import Accepted, BoardPlan
from boardshop.core.repeats import Repeats, group_repeats


@dataclass(frozen=True)
class FindingRow:
    """A finding as `pieces/findings.html` and the form beside it read it; `typed` is a refused form."""

    rule: str
    severity: str
    subjects: tuple[str, ...]
    message: str
    cure: str
    basis: str
    accepted: Accepted | None
    can_be_kept: bool
    key: str
    typed: EditForm | None
    heard: str = ""
    """In which scenes it is heard, where that is not in all of them."""

    @property
    def memory(self) -> Hashable | None:
        """All that is shown of it; see templatetags/remembered.py."""
        if self.typed is not None:
            return None
        said = (self.rule, self.severity, self.subjects, self.message, self.cure, self.basis)
        return *said, self.accepted, self.can_be_kept, self.key, self.heard

    @property
    def subject_words(self) -> str:
        return " ".join(self.subjects)


def key_of(rule: str, subjects: Iterable[str]) -> str:
    """The name of a finding's form on its page; the same whatever the subjects' order and case."""
    named = " ".join(sorted(subject.casefold() for subject in subjects))
    return f"keep-{rule}-{sha256(named.encode()).hexdigest()[:10]}"


@dataclass(frozen=True)
class Entry:
    """One line of the list: a finding, or several of one rule and severity that open to the single ones."""

    said: Repeats[FindingRow]
    key: str
    """The id of what it opens; the same after an edit that takes one of its findings away."""

    @property
    def refs(self) -> str:
        """Whom it concerns; of a jack or outlet the thing that it is on, so that a list stays short."""
        return ", ".join(dict.fromkeys(split_end(subject)[0] for subject in self.said.subjects))

    @property
    def is_open(self) -> bool:
        """What must be seen, and what somebody was just typing in."""
        return self.said.must_stand_open or any(row.typed for row in self.said.findings)


@dataclass(frozen=True)
class FoundRows:
    """What presses, worst first; mere advice; what is kept on purpose."""

    plan: BoardPlan
    pressing: list[FindingRow]
    advice: list[FindingRow]
    kept: list[FindingRow]

    @property
    def pressing_entries(self) -> list[Entry]:
        return _list_entries(self.plan, self.pressing)

    @property
    def advice_entries(self) -> list[Entry]:
        return _list_entries(self.plan, self.advice)

    def __bool__(self) -> bool:
        return bool(self.pressing or self.advice or self.kept)

    @property
    def has_typed(self) -> bool:
        return any(row.typed for row in (*self.advice, *self.kept))


type Heard = Mapping[tuple[str, tuple[str, ...]], str]
"""What to say of a finding, by its rule and subjects, about the scenes that it is heard in."""


def list_findings(
    plan: BoardPlan, findings: Iterable[Finding], state: PageState, heard: Heard | None = None
) -> FoundRows:
    rows = [_row(finding, state, heard or {}) for finding in findings]
    open_rows = [row for row in rows if row.accepted is None]
    return FoundRows(
        plan=plan,
        pressing=[row for row in open_rows if row.severity != "advice"],
        advice=[row for row in open_rows if row.severity == "advice"],
        kept=[row for row in rows if row.accepted is not None],
    )


def _list_entries(plan: BoardPlan, rows: list[FindingRow]) -> list[Entry]:
    keys: Counter[str] = Counter()
    entries: list[Entry] = []
    for said in group_repeats(plan, rows):
        key = f"all-{said.rule}-{said.severity}"
        keys[key] += not said.is_single
        entries.append(Entry(said, key if keys[key] < 2 else f"{key}-{keys[key]}"))
    return entries


def _row(finding: Finding, state: PageState, heard: Heard) -> FindingRow:
    key = key_of(finding.rule, finding.subjects)
    return FindingRow(
        rule=finding.rule,
        severity=finding.severity,
        subjects=finding.subjects,
        message=finding.message,
        cure=finding.cure,
        basis=finding.basis,
        accepted=finding.accepted,
        can_be_kept=finding.can_be_kept,
        key=key,
        typed=state.take(key),
        heard=heard.get((finding.rule, finding.subjects), ""),
    )
