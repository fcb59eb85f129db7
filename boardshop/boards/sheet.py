"""One board computed: its plan and the report on it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime
from functools import cached_property

from django.utils.translation import gettext as _

from boardshop.boards.models import Board, Revision
from boardshop.boards.plan.read import load_plan
from boardshop.core.boardfile import load_plan_text
from boardshop.core.cables import CablesSection, Run
from boardshop.core.findings import Finding, count_open, sort_findings
from boardshop.core.grounds import GroundsSection
from boardshop.core.index import fold
from boardshop.core.layout import LayoutSection
from boardshop.core.numbering import number_pedals
from boardshop.core.order import OrderSection
from boardshop.core.plan import BoardPlan, Pedal
from boardshop.core.power import PowerSection
from boardshop.core.report import compute_report
from boardshop.core.tone import ToneSection
from boardshop.core.weight import WeightSection
from boardshop.gear.templatetags.lengths import lengths_in


class BoardSheet:
    """Everything a page reads of one board; the cut plan is the one made by hand, which needs no solver."""

    def __init__(self, board: Board, plan: BoardPlan | None = None, revision: Revision | None = None) -> None:
        """Of the working copy, unless a plan is given; `revision` is the one whose plan that is."""
        self.board, self.revision = board, revision
        self.plan: BoardPlan = plan or board.plan_after or load_plan(board)
        board.plan_after = None
        self.report = compute_report(self.plan, cut_seconds=0)

    @classmethod
    def of_revision(cls, board: Board, revision: Revision) -> BoardSheet:
        """Of the frozen board file, whatever the shop's gear says today."""
        return cls(board, load_plan_text(revision.file.encode()), revision)

    @property
    def state_words(self) -> str:
        """Which state of the board this is, as title blocks and labels say it."""
        if self.revision is not None:
            return _("revision %(number)d") % {"number": self.revision.number}
        return _("working copy, edit %(edit)d") % {"edit": self.board.edit_number}

    @property
    def dated(self) -> datetime:
        """When it was released, or last changed."""
        return self.board.changed_at if self.revision is None else self.revision.at

    @property
    def order(self) -> OrderSection:
        return self.report.order

    @property
    def layout(self) -> LayoutSection:
        return self.report.layout

    @property
    def cables(self) -> CablesSection:
        return self.report.cables

    @property
    def tone(self) -> ToneSection:
        return self.report.tone

    @property
    def power(self) -> PowerSection:
        return self.report.power

    @property
    def grounds(self) -> GroundsSection:
        return self.report.grounds

    @property
    def weight(self) -> WeightSection:
        return self.report.weight

    @cached_property
    def runs(self) -> dict[str, Run]:
        """The links to cut, by folded ref."""
        return {fold(run.ref): run for run in self.cables.runs}

    @property
    def unknown_cuts(self) -> int:
        """How many links are to be cut that the total does not count, since their length is not known."""
        return sum(1 for run in self.cables.runs if run.cut_mm is None)

    @cached_property
    def numbers(self) -> dict[str, int]:
        """The balloons' numbers by ref."""
        return number_pedals(self.plan)

    @cached_property
    def pedals(self) -> list[Pedal]:
        """The pedals by their balloon's number, those without one last."""
        behind = len(self.numbers) + 1
        return sorted(self.plan.pedals, key=lambda pedal: self.numbers.get(pedal.ref, behind))

    def findings_of(self, *sections: str) -> tuple[Finding, ...]:
        """The findings of these sections, worst first, marked where they are kept on purpose."""
        found = sort_findings(found for name in sections for found in getattr(self.report, name).findings)
        return self.in_shop_unit(found)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        return self.in_shop_unit(self.report.findings)

    def in_shop_unit(self, findings: Iterable[Finding]) -> tuple[Finding, ...]:
        """As people of this shop read them: core speaks in mm."""
        unit = self.board.shop.length_unit
        if unit == "mm":
            return tuple(findings)
        return tuple(
            replace(one, message=lengths_in(one.message, unit), cure=lengths_in(one.cure, unit))
            for one in findings
        )

    @cached_property
    def counts(self) -> dict[str, int]:
        """How many of each severity are not kept on purpose."""
        return count_open(self.findings)

    @cached_property
    def kept(self) -> int:
        return sum(1 for finding in self.findings if finding.accepted is not None)
