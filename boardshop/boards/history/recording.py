"""Every edit of a board leaves a change behind: who, when, what, and the rows that it touched."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

from django.db.models import F
from django.utils import timezone

from boardshop.boards.constraints import BOARD_REFUSALS
from boardshop.boards.errors import StaleEdit
from boardshop.boards.history.moment import Moment, read_moment
from boardshop.boards.history.patch import Patch, make_patch
from boardshop.boards.history.state import digest_of, read_state
from boardshop.boards.history.stays import note_stays
from boardshop.boards.models import Board, Change
from boardshop.core.diff import compare_plans
from boardshop.core.index import index_plan
from boardshop.core.naming import called
from boardshop.crew.constraints import refusals_by
from boardshop.crew.models import Person

UNNAMED = {
    "thing": "It",
    "ref": "This ref",
    "target": "This input",
    "jack": "This power jack",
    "outlet": "This outlet",
    "unit": "This unit",
    "there": "on a board",
    "cable": "of this link",
}
"""What a refusal calls things where only Postgres noticed it and the constraint alone is known."""


class Unchanged(Exception):
    """What was sent is what is stored already."""


@dataclass
class Recording:
    """One edit that is being made; `of` is the change it answers, `said` stands before its sentences."""

    before: Moment
    kind: Change.Kind
    of: Change | None = None
    said: list[str] = field(default_factory=list)
    change: Change | None = None


@contextmanager
def recorded(
    board: Board, seen: int, kind: Change.Kind = Change.Kind.EDIT, **named: Any
) -> Iterator[Recording]:
    """Inside, an edit of this board: one transaction, recorded with what it changed.

    `seen` is the edit number that the person's page showed.  Raises StaleEdit when the board has moved on;
    otherwise the board carries the next number, and its row stays locked until the edit is stored whole.
    What turns out to change nothing leaves the number as it is and no record.
    """
    changed_at = board.changed_at
    try:
        with refusals_by(BOARD_REFUSALS, **(UNNAMED | named), board=board.name):
            _count_edit(board, seen)
            recording = Recording(read_moment(board), kind)
            board.plan_before = recording.before.plan
            yield recording
            _keep(board, recording)
    except Unchanged:
        board.edit_number, board.changed_at = seen, changed_at
    finally:
        board.plan_before = None


def _count_edit(board: Board, seen: int) -> None:
    now = timezone.now()
    rows = Board.with_trash.filter(pk=board.pk, edit_number=seen)
    if not rows.update(edit_number=F("edit_number") + 1, changed_at=now):
        raise StaleEdit(board=board.name)
    board.edit_number, board.changed_at = seen + 1, now


def _keep(board: Board, recording: Recording) -> None:
    after = read_moment(board)
    patch = make_patch(recording.before.state, after.state)
    if not patch and after.plan == recording.before.plan and not recording.said:
        raise Unchanged
    note_stays(board, recording.before, after)
    differences = compare_plans(recording.before.plan, after.plan)
    sentences = [*recording.said, *(one.sentence for one in differences)]
    recording.change = store_change(
        board,
        recording.kind,
        # Of what no comparison counts, such as the order of scenes, undo says what it answers.
        sentences=sentences or (recording.of.sentences if recording.of else []),
        patch=patch,
        digest=digest_of(after.state),
        of=recording.of,
        removed=_pedals_taken_off(patch, recording.before),
    )
    board.plan_after, board.change_after = after.plan, recording.change


def record_begin(board: Board, person: Person | None, said: str) -> Change:
    """The first line of a board's history."""
    board.person = person
    return store_change(board, Change.Kind.BEGUN, sentences=[said], digest=digest_of(read_state(board)))


def _pedals_taken_off(patch: Patch, before: Moment) -> list[str]:
    """`Low Ember (P4)` for each pedal that is there no more."""
    gone = [key for key, (_old, new) in patch.get("boards_placement", {}).items() if new is None]
    index = index_plan(before.plan)
    return [called(index, before.state["boards_item"][key]["ref"]) for key in gone]


def store_change(
    board: Board,
    kind: Change.Kind,
    *,
    sentences: list[str],
    digest: str,
    patch: Patch | None = None,
    of: Change | None = None,
    removed: list[str] | None = None,
) -> Change:
    """The record of one edit, under the number that the board bears now."""
    return Change.objects.create(
        board=board,
        number=board.edit_number,
        at=board.changed_at,
        variant_id=board.variant_id,
        removed=removed or [],
        person=board.person,
        who=str(board.person or ""),
        kind=kind,
        of=of,
        sentences=sentences,
        patch=patch or {},
        digest=digest,
        mark=board.form_mark,
    )
