"""Revisions: freezing the working copy as the next one, and bringing one back."""

from __future__ import annotations

import json
from dataclasses import replace

from django.db import transaction
from django.utils import timezone

from boardshop.boards.errors import AsReleased, ReleaseBlocked, ReleaseReasonMissing, StaleEdit
from boardshop.boards.history.applying import apply_patch
from boardshop.boards.history.moment import read_moment
from boardshop.boards.history.patch import make_patch, without_identity
from boardshop.boards.history.recording import recorded
from boardshop.boards.history.state import digest_of
from boardshop.boards.models import Board, Change, Revision
from boardshop.core.boardfile import dump_plan, load_plan_text
from boardshop.core.findings import Finding
from boardshop.core.plan import BoardPlan
from boardshop.core.printing import as_json
from boardshop.core.report import Report, compute_report
from boardshop.crew.audit import record_event
from boardshop.crew.models import AuditEntry

ASKS_WHY = ("fault", "unknown")
"""Severities that a revision may be released with, for a reason; worse ones must be cured."""


def blocking(findings: tuple[Finding, ...]) -> list[Finding]:
    """What keeps a board from being released: it would destroy gear or hurt people."""
    return [one for one in findings if not one.can_be_kept]


def asking(findings: tuple[Finding, ...]) -> list[Finding]:
    """What may only be released for a reason."""
    return [one for one in findings if one.accepted is None and one.severity in ASKS_WHY]


def release_revision(board: Board, seen: int, note: str = "", reason: str = "") -> Revision:
    """Freeze the working copy, as the page with the edit number `seen` showed it, as the next revision.

    Raises ReleaseBlocked with `danger` or `damage` open, ReleaseReasonMissing with `fault` or `unknown` open
    and no reason, AsReleased where nothing differs from the last one, StaleEdit where the board moved on.
    """
    if board.edit_number != seen:
        raise StaleEdit(board=board.name)
    moment = read_moment(board)
    report = compute_report(moment.plan)
    _check_findings(board, report.findings, reason)
    with transaction.atomic():
        # The row stays locked from here on, so the moment that was read is the one that is frozen.
        if not Board.objects.select_for_update().filter(pk=board.pk, edit_number=seen).exists():
            raise StaleEdit(board=board.name)
        last = board.revisions.first()
        if last is not None and without_stock(plan_of(last)) == without_stock(moment.plan):
            raise AsReleased(board=board.name, number=last.number)
        revision = Revision.objects.create(
            board=board,
            number=last.number + 1 if last else 1,
            edit_number=seen,
            at=timezone.now(),
            person=board.person,
            who=str(board.person or ""),
            note=note.strip(),
            reason=reason.strip() if asking(report.findings) else "",
            file=file_text(moment.plan),
            report=report_text(report),
            state=moment.state,
            digest=digest_of(moment.state),
        )
        _audit(board, AuditEntry.Kind.RELEASE, revision)
    return revision


def restore_revision(board: Board, seen: int, revision: Revision) -> None:
    """Make the working copy what that revision was; name and owner stay, and it can be undone.

    Raises GearGone or GearInTrash where gear of it is no longer there, UnitElsewhere where a unit stands on
    another board now.
    """
    with recorded(board, seen, Change.Kind.RESTORE) as recording:
        now = recording.before.state
        patch = without_identity(make_patch(now, revision.state))
        if patch:
            left_out = apply_patch(board, patch, now)
            recording.said += [f"Revision {revision.number} was restored.", *left_out]
        _audit(board, AuditEntry.Kind.RESTORE, revision)


def _audit(board: Board, kind: AuditEntry.Kind, revision: Revision) -> None:
    record_event(board.shop, board.person, kind, about=f"{board} ({board.code}), revision {revision.number}")


def file_text(plan: BoardPlan) -> str:
    """The board file as it is downloaded."""
    return json.dumps(dump_plan(plan), ensure_ascii=False, indent=2) + "\n"


def report_text(report: Report) -> str:
    return json.dumps(as_json(report), ensure_ascii=False, indent=2) + "\n"


def plan_of(revision: Revision) -> BoardPlan:
    """The plan of its frozen file, whatever the shop's gear says today."""
    return load_plan_text(revision.file.encode())


def without_stock(plan: BoardPlan) -> BoardPlan:
    """What the shop has in stock, in its drawer and in supplies' boxes is no part of what is built."""
    supplies = tuple(replace(supply, leads=(), price=None) for supply in plan.supplies)
    return replace(plan, stock=(), drawer=(), supplies=supplies)


def _check_findings(board: Board, findings: tuple[Finding, ...], reason: str) -> None:
    if grave := blocking(findings):
        said = ", ".join(dict.fromkeys(f"{one.rule} {' '.join(one.subjects)}" for one in grave))
        raise ReleaseBlocked(board=board.name, findings=said)
    if asking(findings) and not reason.strip():
        raise ReleaseReasonMissing(n=len(asking(findings)))
