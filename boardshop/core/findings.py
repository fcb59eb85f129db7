"""Findings: what a check has to say, and how one is kept on purpose."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from boardshop.core.plan import Accepted, BoardPlan
from boardshop.core.vocabulary import NEVER_KEPT, SEVERITIES, URGENT


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing a check found.

    ``subjects`` are refs (`P3`), jacks and outlets (`P4.DC`, `S1.3`) or groups (`S1/A`), as in the plan.
    ``message`` says what is wrong, with which two things, and why it matters in sound or in safety;
    ``cure`` what to do; ``basis`` on what the rule rests.  ``accepted`` is the reason it is kept, or None.
    """

    rule: str
    severity: str
    subjects: tuple[str, ...]
    message: str
    cure: str
    basis: str
    accepted: Accepted | None = None

    @property
    def can_be_kept(self) -> bool:
        return self.severity not in NEVER_KEPT


def same_subjects(one: Iterable[str], other: Iterable[str]) -> bool:
    """Whether two lists name the same things; refs compare without case, order does not count."""
    return sorted(s.casefold() for s in one) == sorted(s.casefold() for s in other)


def apply_accepted(plan: BoardPlan, findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Mark the findings that the plan keeps on purpose, worst first.

    A reason given for a `danger` or `damage` finding is ignored and reported (K01): those can only be cured.
    """
    marked: list[Finding] = []
    for finding in findings:
        reason = _reason_for(plan, finding)
        if reason is None:
            marked.append(finding)
        elif finding.can_be_kept:
            marked.append(replace(finding, accepted=reason))
        else:
            marked += [finding, _refused_reason(finding)]
    return sort_findings(marked)


def sort_findings(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Worst first, then by rule and subjects; equal findings appear once."""
    return tuple(sorted(dict.fromkeys(findings), key=_position))


def pick_urgent(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """What must be known before anything is plugged in: danger, damage and faults not kept on purpose."""
    return sort_findings(one for one in findings if one.severity in URGENT and one.accepted is None)


def count_open(findings: Iterable[Finding]) -> dict[str, int]:
    """How many findings of each severity are not kept on purpose, every severity named."""
    counts = dict.fromkeys(SEVERITIES, 0)
    for finding in findings:
        if finding.accepted is None:
            counts[finding.severity] += 1
    return counts


def _position(finding: Finding) -> tuple[int, str, tuple[str, ...], str]:
    return SEVERITIES.index(finding.severity), finding.rule, finding.subjects, finding.message


def _reason_for(plan: BoardPlan, finding: Finding) -> Accepted | None:
    for accepted in plan.accepted:
        if accepted.rule == finding.rule and same_subjects(accepted.subjects, finding.subjects):
            return accepted
    return None


def _refused_reason(finding: Finding) -> Finding:
    return Finding(
        rule="K01",
        severity="caution",
        subjects=finding.subjects,
        message=f"{finding.rule} on {' and '.join(finding.subjects)} is marked as kept on purpose, "
        f"but a {finding.severity} finding can only be cured, so the mark is ignored.",
        cure=f"Cure {finding.rule}, then remove the mark.",
        basis="common practice",
    )
