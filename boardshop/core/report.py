"""The report of a board: every section in the format's order, with what is kept on purpose marked."""

from dataclasses import dataclass, replace
from functools import lru_cache

from boardshop.core.cables import CablesSection, compute_cables
from boardshop.core.cables.cut_plan import REPORT_SECONDS
from boardshop.core.findings import Finding, apply_accepted, same_subjects, sort_findings
from boardshop.core.grounds import GroundsSection, compute_grounds
from boardshop.core.half_recorded import find_half_recorded
from boardshop.core.layout import LayoutSection, compute_layout
from boardshop.core.order import OrderSection, compute_order
from boardshop.core.plan import Accepted, BoardPlan, Pedal, Supply
from boardshop.core.power import PowerSection, compute_power
from boardshop.core.tone import ToneSection, compute_tone
from boardshop.core.vocabulary import REPORT_VERSION
from boardshop.core.weight import WeightSection, compute_weight

REPORT_FORMAT = "boardshop-report"

HOME_OF_LETTER = {
    "R": "order",
    "O": "order",
    "L": "layout",
    "K": "layout",
    "C": "cables",
    "T": "tone",
    "P": "power",
    "G": "grounds",
    "M": "weight",
}
"""The section where a mark is reported that keeps nothing, by the first letter of its rule."""

HOME_OF_OTHERS = "order"

type Section = (
    OrderSection | LayoutSection | CablesSection | ToneSection | PowerSection | GroundsSection | WeightSection
)


@dataclass(frozen=True, slots=True)
class Report:
    """Version 1: field names are the report's keys, in its order."""

    format: str
    version: int
    order: OrderSection
    layout: LayoutSection
    cables: CablesSection
    tone: ToneSection
    power: PowerSection
    grounds: GroundsSection
    weight: WeightSection

    @property
    def findings(self) -> tuple[Finding, ...]:
        """Those of every section, worst first."""
        sections = (self.order, self.layout, self.cables, self.tone, self.power, self.grounds, self.weight)
        return sort_findings(finding for section in sections for finding in section.findings)


def compute_report(plan: BoardPlan, cut_seconds: float = REPORT_SECONDS) -> Report:
    """Everything there is to say about a plan; never raises on a plan that a loader made.

    ``cut_seconds`` is the work put into the cut plan; a page that is drawn on every edit takes 0.
    """
    cables = compute_cables(plan, cut_seconds)
    order, power, grounds = _judge_wiring(without_places(plan))
    made = Report(
        format=REPORT_FORMAT,
        version=REPORT_VERSION,
        order=order,
        layout=compute_layout(plan),
        cables=replace(cables, findings=(*cables.findings, *find_half_recorded(plan, ("stock", "pieces")))),
        tone=compute_tone(plan),
        power=replace(power, findings=(*power.findings, *find_half_recorded(plan, ("/settings",)))),
        grounds=grounds,
        weight=compute_weight(plan),
    )
    return mark_kept(plan, made)


def without_places(plan: BoardPlan) -> BoardPlan:
    """The same gear and wiring, placed nowhere: all that order, power and grounds may ask."""
    pedals = tuple([_lift(pedal) for pedal in plan.pedals])
    return replace(plan, pedals=pedals, supplies=tuple([_lift_supply(supply) for supply in plan.supplies]))


@lru_cache(maxsize=1024)
def _lift(pedal: Pedal) -> Pedal:
    """Kept, so that plans that differ in places alone are compared without looking into their pedals."""
    return replace(pedal, place=None, pinned=False)


@lru_cache(maxsize=256)
def _lift_supply(supply: Supply) -> Supply:
    return replace(supply, place=None)


@lru_cache(maxsize=32)
def _judge_wiring(plan: BoardPlan) -> tuple[OrderSection, PowerSection, GroundsSection]:
    """Kept, since what is moved on a board most often is a pedal, and these do not change with its place."""
    return compute_order(plan), compute_power(plan), compute_grounds(plan)


def compute_kept_order(plan: BoardPlan) -> OrderSection:
    """The report's order section without the work of the others."""
    section = compute_order(plan)
    return _mark(plan, section, "order", section.findings)


def mark_kept(plan: BoardPlan, report: Report) -> Report:
    """The same report with accepted findings marked, and marks that keep nothing reported."""
    found = report.findings
    return replace(
        report,
        order=_mark(plan, report.order, "order", found),
        layout=_mark(plan, report.layout, "layout", found),
        cables=_mark(plan, report.cables, "cables", found),
        tone=_mark(plan, report.tone, "tone", found),
        power=_mark(plan, report.power, "power", found),
        grounds=_mark(plan, report.grounds, "grounds", found),
        weight=_mark(plan, report.weight, "weight", found),
    )


def _mark[S: Section](plan: BoardPlan, section: S, name: str, found: tuple[Finding, ...]) -> S:
    """``found`` is every finding that a mark of this section may have meant."""
    idle = [
        _keeps_nothing(mark)
        for mark in plan.accepted
        if _home_of(mark.rule) == name and not _keeps_any(mark, found)
    ]
    return replace(section, findings=sort_findings([*apply_accepted(plan, section.findings), *idle]))


def _home_of(rule: str) -> str:
    """By its letter; a rule that has a word for a name, as LEVEL, is one of the order's."""
    numbered = rule[1:].isdigit()
    return HOME_OF_LETTER.get(rule[:1], HOME_OF_OTHERS) if numbered else HOME_OF_OTHERS


def _keeps_any(mark: Accepted, found: tuple[Finding, ...]) -> bool:
    return any(f.rule == mark.rule and same_subjects(f.subjects, mark.subjects) for f in found)


def _keeps_nothing(mark: Accepted) -> Finding:
    on = f" on {' and '.join(mark.subjects)}" if mark.subjects else ""
    return Finding(
        rule="K03",
        severity="advice",
        subjects=mark.subjects,
        message=f"{mark.rule or 'A finding'}{on} is marked as kept on purpose, but there is no such finding.",
        cure="Take the mark out, or correct its rule and subjects.",
        basis="calculation",
    )
