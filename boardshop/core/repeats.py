"""Findings that say the same of many things, gathered for lists that people read.

The report keeps every finding by itself, since each has its own subjects; only lists are shortened by this.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Protocol

from boardshop.core.index import fold, index_plan, split_end
from boardshop.core.naming import say_all
from boardshop.core.plan import Accepted, BoardPlan
from boardshop.core.vocabulary import NEVER_KEPT, URGENT

MANY = 4
"""So many findings of one rule and severity are one entry also where they are not quite alike."""

PARTS = ("cure", "message")
"""By what findings of one rule are told apart where they are too unlike for one entry."""

MENTION = "\0"

VERB = re.compile(r" (?!as\b|across\b|its\b|this\b|always\b)[a-z]+s\b")
"""A verb of one thing behind its name, which would be wrong behind several: `P1 comes`, `P1 is`."""


class Said(Protocol):
    """A finding, or what a page makes of one."""

    @property
    def rule(self) -> str: ...
    @property
    def severity(self) -> str: ...
    @property
    def subjects(self) -> tuple[str, ...]: ...
    @property
    def message(self) -> str: ...
    @property
    def cure(self) -> str: ...
    @property
    def basis(self) -> str: ...
    @property
    def accepted(self) -> Accepted | None: ...


@dataclass(frozen=True, slots=True)
class Repeats[F: Said]:
    """One entry of a list: a single finding, or several of one rule and severity.

    `message` is what they say together: one text that names all subjects where they are alike, else the
    sentences that all have in common, which may be none.  `cure` and `basis` are blank where they differ.
    """

    findings: tuple[F, ...]
    message: str
    cure: str
    basis: str
    is_alike: bool
    """The messages differ by nothing but their subjects, so `message` leaves nothing out."""

    @property
    def rule(self) -> str:
        return self.findings[0].rule

    @property
    def severity(self) -> str:
        return self.findings[0].severity

    @property
    def subjects(self) -> tuple[str, ...]:
        """Those of all its findings, each once."""
        return tuple(dict.fromkeys(subject for one in self.findings for subject in one.subjects))

    @property
    def names_subjects(self) -> bool:
        """Each finding is told from the others by what `message` calls its subjects."""
        return self.is_alike and len({one.message for one in self.findings}) == len(self.findings)

    @property
    def is_single(self) -> bool:
        return len(self.findings) == 1

    @property
    def rests(self) -> tuple[str, ...]:
        """What each finding says beyond `message`, its subjects where that is nothing; none where alike."""
        if self.is_alike:
            return ()
        common = set(_split_sentences(self.message))
        rests = (
            " ".join(sentence for sentence in _split_sentences(one.message) if sentence not in common)
            for one in self.findings
        )
        return tuple(rest or ", ".join(one.subjects) for rest, one in zip(rests, self.findings, strict=True))

    @property
    def is_said_whole(self) -> bool:
        """`message`, `rests`, `cure` and `basis` together leave out nothing that its findings say."""
        return all(
            bool(getattr(self, part)) or not any(getattr(one, part) for one in self.findings)
            for part in ("message", "cure", "basis")
        )

    @property
    def must_stand_open(self) -> bool:
        """What can hurt or destroy is never folded away, nor a fault or a text that is not said whole."""
        return self.severity in NEVER_KEPT or not (
            self.message and (self.is_alike or self.severity not in URGENT)
        )


def group_repeats[F: Said](plan: BoardPlan, findings: Iterable[F]) -> tuple[Repeats[F], ...]:
    """The findings in their order, those of one rule and severity as one entry where they repeat.

    Two or more that differ by their subjects alone are gathered; four or more also where they have but a
    sentence in common.  What has none would only be hidden by it.
    One that is kept on purpose stays by itself, since its reason is its own.
    Nothing is dropped: the entries' findings together are the findings given.
    """
    by_rule: dict[tuple[str, str, int], list[F]] = {}
    places: dict[int, int] = {}
    for number, finding in enumerate(findings, start=1):
        key = finding.rule, finding.severity, 0 if finding.accepted is None else number
        by_rule.setdefault(key, []).append(finding)
        places.setdefault(id(finding), number)
    entries = [entry for found in by_rule.values() for entry in _list_entries(plan, found, PARTS)]
    return tuple(sorted(entries, key=lambda entry: places[id(entry.findings[0])]))


def _list_entries[F: Said](plan: BoardPlan, found: list[F], parts: tuple[str, ...]) -> list[Repeats[F]]:
    """One entry where these may be one; else those with like cures by themselves, then with like messages."""
    gathered = _gather(plan, found)
    if gathered.is_alike or (gathered.message and len(found) >= MANY):
        return [gathered]
    if not parts:
        return [_gather(plan, [finding]) for finding in found]
    shapes: dict[str, list[F]] = {}
    for finding in found:
        shape = _mention_pattern(plan, finding.subjects).sub(MENTION, getattr(finding, parts[0]))
        shapes.setdefault(shape, []).append(finding)
    return [entry for some in shapes.values() for entry in _list_entries(plan, some, parts[1:])]


def _gather[F: Said](plan: BoardPlan, found: list[F]) -> Repeats[F]:
    mentions = [_mention_pattern(plan, one.subjects) for one in found]
    messages = [one.message for one in found]
    alike = _say_alike(mentions, messages)
    bases = {one.basis for one in found}
    return Repeats(
        findings=tuple(found),
        message=alike or " ".join(_common_sentences(messages)),
        cure=_say_alike(mentions, [one.cure for one in found]),
        basis=bases.pop() if len(bases) == 1 else "",
        is_alike=bool(alike),
    )


def _say_alike(patterns: list[re.Pattern[str]], texts: list[str]) -> str:
    """One text that names everything the texts name; blank where they differ by more than that."""
    if len(set(texts)) == 1:
        return texts[0]
    shapes = {p.sub(MENTION, text) for p, text in zip(patterns, texts, strict=True)}
    if len(shapes) > 1:
        return ""
    pieces = shapes.pop().split(MENTION)
    mentions = [p.findall(text) for p, text in zip(patterns, texts, strict=True)]
    columns = [tuple(dict.fromkeys(one)) for one in zip(*mentions, strict=True)]
    if any(len(names) > 1 and VERB.match(then) for names, then in zip(columns, pieces[1:], strict=True)):
        others = (say_all(dict.fromkeys(named)) for named in mentions[1:])
        return f"{texts[0]} The same of {'; '.join(dict.fromkeys(others))}."
    named = (say_all(names) for names in columns)
    return "".join(piece + name for piece, name in zip(pieces, [*named, ""], strict=True))


def _mention_pattern(plan: BoardPlan, subjects: tuple[str, ...]) -> re.Pattern[str]:
    """Finds what messages call these subjects: `Low Ember (P4.IN)`, `P4.IN`, `P4`, `S1/A`."""
    index = index_plan(plan)
    refs = dict.fromkeys(split_end(subject)[0].partition("/")[0] for subject in subjects)
    ways = [re.escape(subject) for subject in subjects]
    for ref in refs:
        name = getattr(index.signal_parts.get(fold(ref)), "name", None)
        ways += [rf"{re.escape(name)} \({re.escape(ref)}(?:\.\w+)?\)"] if name else []
        ways.append(rf"{re.escape(ref)}(?:\.\w+)?")
    return re.compile(rf"(?<!\w)(?:{'|'.join(sorted(ways, key=len, reverse=True)) or '(?!)'})(?!\w)")


def _common_sentences(messages: list[str]) -> list[str]:
    first, *others = [_split_sentences(message) for message in messages]
    return [sentence for sentence in first if all(sentence in other for other in others)]


def _split_sentences(message: str) -> list[str]:
    return re.split(r"(?<=[.;:!?]) (?=[A-Z])", message)
