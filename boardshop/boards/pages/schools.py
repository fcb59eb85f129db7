"""What it takes to follow a school of order: the fewest moves, one by one or all, and what they cost."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from boardshop.boards.pages.strip import Strip
from boardshop.boards.sheet import BoardSheet
from boardshop.core.index import index_plan
from boardshop.core.naming import called
from boardshop.core.order import (
    Outcome,
    SignalPath,
    Suggestion,
    compare_sequences,
    explain_moves,
    list_suggestions,
    move_all,
    move_one,
    new_joins,
    suggest_board,
)
from boardshop.core.vocabulary import SCHOOLS

MOST_CHOICES = 6
"""So many equally good choices are told one by one."""


@dataclass(frozen=True)
class MoveRow:
    """One pedal that would move; `id` is that of the sentence, `position` where it goes if it goes alone.

    It is 0 for a pedal with others in its own loops, which is not moved without them.
    """

    id: str
    ref: str
    name: str
    message: str
    position: int
    remade: int
    outcome: Outcome


@dataclass(frozen=True)
class Choice:
    """One set of fewest moves; `refs` is the sequence with all of them made, at `remade` cables re-made."""

    moves: tuple[MoveRow, ...]
    refs: str
    remade: int


@dataclass(frozen=True)
class LineMoves:
    """The moves of one line; `others` are equally good, `unsaid` how many more there are."""

    line: int
    name: str
    first: Choice
    others: tuple[Choice, ...]
    answers: int
    more: bool
    joins: int

    @property
    def unsaid(self) -> int:
        return self.answers - 1 - len(self.others)


@dataclass(frozen=True)
class School:
    """One school against the board as it is wired; `lines` are those with something to move."""

    name: str
    is_followed: bool
    lines: tuple[LineMoves, ...]
    moves: int
    remade: int


def list_schools(sheet: BoardSheet, strips: Iterable[Strip]) -> list[School]:
    """The board's own first."""
    own = sheet.plan.rules.school
    chains = suggest_board(sheet.plan, own).chains
    lines = list(zip(strips, chains, strict=True))
    return [_school(sheet, school, lines) for school in sorted(SCHOOLS, key=lambda name: name != own)]


def _school(sheet: BoardSheet, school: str, lines: list[tuple[Strip, SignalPath]]) -> School:
    fewest = suggest_board(sheet.plan, school)
    moving = [
        _line(sheet, school, strip, path)
        for (strip, path), suggestion in zip(lines, fewest.suggestions, strict=True)
        if suggestion.moved
    ]
    is_followed = school == sheet.plan.rules.school
    return School(school, is_followed, tuple(moving), len(fewest.moved), fewest.links_changed)


def _line(sheet: BoardSheet, school: str, strip: Strip, path: SignalPath) -> LineMoves:
    first, *others = list_suggestions(path, school, MOST_CHOICES)
    return LineMoves(
        line=strip.line,
        name=strip.name,
        first=_choice(sheet, school, strip, path, first),
        others=tuple(
            _choice(sheet, school, strip, path, other, number) for number, other in enumerate(others, 2)
        ),
        answers=first.answers,
        more=first.more,
        joins=len(path.stops) + 1,
    )


def _choice(
    sheet: BoardSheet, school: str, strip: Strip, path: SignalPath, suggestion: Suggestion, number: int = 1
) -> Choice:
    refs = move_all(path.stops, suggestion)
    index = index_plan(sheet.plan)
    rows = []
    for move in explain_moves(sheet.plan, path, school, suggestion):
        after = move_one(path.stops, suggestion, move.ref)
        rows.append(
            MoveRow(
                id=f"why-{school}-{strip.line}-{number}-{move.ref}",
                ref=move.ref,
                name=called(index, move.ref),
                message=move.message,
                position=after.index(move.ref) + 1 if after != path.stops else 0,
                remade=len(new_joins(path.stops, after)),
                outcome=compare_sequences(path, school, after),
            )
        )
    return Choice(tuple(rows), " ".join(refs), len(new_joins(path.stops, refs)))
