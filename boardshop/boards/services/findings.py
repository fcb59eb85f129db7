"""Findings kept on purpose, with a reason; what would destroy gear or hurt people cannot be."""

from collections.abc import Sequence

from django.utils import timezone

from boardshop.boards.errors import FindingGone, OnlyCured, WhyMissing
from boardshop.boards.models import AcceptedFinding, Board
from boardshop.boards.plan.read import plan_at_start
from boardshop.boards.services.editing import board_edit, check_board
from boardshop.core.findings import Finding, same_subjects
from boardshop.core.report import compute_report
from boardshop.crew.models import Person


@board_edit
def accept_finding(
    board: Board, rule: str, subjects: Sequence[str], why: str, person: Person
) -> AcceptedFinding:
    """Keep this finding on purpose; the name and today's date go with the reason.

    Raises OnlyCured for `danger` and `damage`, FindingGone when nothing of the kind stands.
    """
    finding = _find(board, rule, subjects)
    if not finding.can_be_kept:
        raise OnlyCured(rule=rule, severity=finding.severity)
    if not why.strip():
        raise WhyMissing
    return AcceptedFinding.objects.create(
        board=board,
        rule=finding.rule,
        subjects=list(finding.subjects),
        why=why.strip(),
        by=str(person),
        person=person,
        on=timezone.localdate(),
    )


@board_edit
def withdraw_reason(board: Board, accepted: AcceptedFinding) -> None:
    """The finding counts again."""
    check_board(board, accepted)
    accepted.delete()


def _find(board: Board, rule: str, subjects: Sequence[str]) -> Finding:
    for finding in compute_report(plan_at_start(board), cut_seconds=0).findings:
        if finding.rule == rule and same_subjects(finding.subjects, subjects):
            return finding
    raise FindingGone(rule=rule)
