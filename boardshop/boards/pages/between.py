"""The findings of order between the pedals that they are about."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from boardshop.boards.pages.findings import FoundRows, Heard, list_findings
from boardshop.boards.pages.page import PageState
from boardshop.core.findings import Finding
from boardshop.core.index import fold, split_end
from boardshop.core.naming import say_all
from boardshop.core.order.scenes import judge_order
from boardshop.core.plan import BoardPlan


@dataclass(frozen=True)
class Between:
    """By folded ref what stands right before and right behind a pedal's row, and what has no such place."""

    before: dict[str, FoundRows]
    behind: dict[str, FoundRows]
    rest: FoundRows
    placed: int

    @property
    def worst_before(self) -> dict[str, str]:
        """The worst severity that presses in front of each pedal."""
        return {ref: rows.pressing[0].severity for ref, rows in self.before.items() if rows.pressing}


def place_findings(
    plan: BoardPlan, refs: Sequence[str], findings: Iterable[Finding], state: PageState
) -> Between:
    """`refs` are those of the list, top to bottom.

    What is about several of them stands before the last one, what is about one and an amp behind it.
    """
    at = {fold(ref): number for number, ref in enumerate(refs)}
    sources = {fold(source.ref) for source in plan.sources}
    before: dict[str, list[Finding]] = {}
    behind: dict[str, list[Finding]] = {}
    rest: list[Finding] = []
    for finding in findings:
        owners = dict.fromkeys(fold(split_end(subject)[0]) for subject in finding.subjects)
        listed = sorted((at[owner], owner) for owner in owners if owner in at)
        if not listed or finding.rule == "O01":
            rest.append(finding)
        elif len(listed) > 1 or sources.intersection(owners):
            before.setdefault(listed[-1][1], []).append(finding)
        else:
            behind.setdefault(listed[-1][1], []).append(finding)
    heard = say_heard(plan)
    return Between(
        before={ref: list_findings(plan, found, state, heard) for ref, found in before.items()},
        behind={ref: list_findings(plan, found, state, heard) for ref, found in behind.items()},
        rest=list_findings(plan, rest, state, heard),
        placed=sum(len(found) for found in (*before.values(), *behind.values())),
    )


def say_heard(plan: BoardPlan) -> Heard:
    """In which scenes a finding is heard, where that is not in all of them; empty without scenes."""
    judged = judge_order(plan)
    said: dict[tuple[str, tuple[str, ...]], str] = {}
    for finding in judged.findings:
        name = finding.rule, finding.subjects
        scenes = [f"“{scene.name}”" for scene in judged.scenes if name in scene.heard]
        if not scenes and judged.scenes:
            said[name] = _("It is heard in none of the scenes.")
        elif len(scenes) < len(judged.scenes):
            said[name] = _("Of the scenes it is heard in %(scenes)s.") % {"scenes": say_all(scenes)}
    return said
