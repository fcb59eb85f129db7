"""The page of proposed feeds: the best choice there is beside the present one, each change by its name."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from django.utils.translation import gettext as _

from boardshop.boards.forms.proposed import write_plug
from boardshop.boards.pages.findings import list_findings
from boardshop.boards.pages.page import Page, PageState
from boardshop.boards.pages.wording import say_volts
from boardshop.boards.sheet import BoardSheet
from boardshop.core.feeds import propose_feeds
from boardshop.core.feeds.changes import FeedChange, list_feed_changes
from boardshop.core.feeds.cures import explain_unfed
from boardshop.core.feeds.proposal import Proposal
from boardshop.core.feeds.score import score_feeds
from boardshop.core.findings import Finding
from boardshop.core.index import fold, split_end
from boardshop.core.moves import list_brought, list_settled
from boardshop.core.plan import BoardPlan
from boardshop.core.power import PowerSection, compute_power

WORK = 2.0
"""The solver's deterministic seconds for the page."""


@dataclass(frozen=True)
class ChangeRow:
    """One change with what its button sends."""

    change: FeedChange
    plug: str

    @property
    def id(self) -> str:
        return f"change-{self.change.jack.replace('.', '-')}"


@dataclass(frozen=True)
class AimRow:
    """One aim: what it counts, now and then, and what no choice is better than; None where none is proved."""

    name: str
    now: Any
    then: Any
    bound: Any
    unit: str = ""

    @property
    def is_proved(self) -> bool:
        return bool(self.then == self.bound)


@dataclass(frozen=True)
class OutletPair:
    """One outlet today and with the proposal, as the report's rows have it."""

    ref: str
    now: Any
    then: Any
    now_feeds: tuple[str, ...]
    then_feeds: tuple[str, ...]
    setting: str

    @property
    def is_changed(self) -> bool:
        return self.now_feeds != self.then_feeds or self.now.load_ma != self.then.load_ma


def build_proposed(sheet: BoardSheet, state: PageState) -> dict[str, Any]:
    plan = sheet.plan
    proposal = propose_feeds(plan, WORK)
    changes = list_feed_changes(plan, proposal)
    rows = [ChangeRow(change, write_plug(change.jack, change.feed)) for change in changes]
    after = compute_power(replace(plan, feeds=proposal.feeds))
    state.take("take-feeds")
    return {
        "proposal": proposal,
        "rows": rows,
        "aims": list_aims(plan, proposal),
        "pairs": list_pairs(sheet, after),
        "unfed": explain_unfed(plan, proposal),
        "settles": _say_rules(list_settled(sheet.power.findings, after.findings)),
        "brings": _say_rules(list_brought(sheet.power.findings, after.findings)),
        "headroom": plan.rules.headroom_percent,
        "has_supplies": bool(plan.supplies),
        "has_drawer": bool(plan.drawer),
        "findings": list_findings(plan, sheet.findings_of("power", "grounds"), state),
        "pinned": sum(feed.pinned for feed in plan.feeds),
    }


def list_aims(plan: BoardPlan, proposal: Proposal) -> list[AimRow]:
    """In the order in which they are sought."""
    now = score_feeds(plan, plan.feeds, proposal.jacks).printed()
    names = (
        (_("pedals left without a feed"), ""),
        (_("digital pedals that share a return"), ""),
        (_("pedals that share an outlet"), ""),
        (_("outlets above headroom"), ""),
        (_("adapters"), ""),
        (_("largest load of an outlet"), "%"),
        (_("pedals plugged over"), ""),
        (_("sum of the squared loads, smaller is more even"), ""),
    )
    parts = zip(names, now, proposal.score, proposal.bound, strict=True)
    return [AimRow(name, before, then, bound, unit) for (name, unit), before, then, bound in parts]


def list_pairs(sheet: BoardSheet, after: PowerSection) -> list[OutletPair]:
    """Every outlet in the plan's order."""
    return [
        OutletPair(
            ref=now.ref,
            now=now,
            then=then,
            now_feeds=_name_jacks(sheet, now.feeds),
            then_feeds=_name_jacks(sheet, then.feeds),
            setting=say_volts(then.setting_mv) if then.setting_mv is not None else "",
        )
        for now, then in zip(sheet.power.outlets, after.outlets, strict=True)
    ]


def _name_jacks(sheet: BoardSheet, ends: tuple[str, ...]) -> tuple[str, ...]:
    """`3 Otter`: the balloon's number and the pedal's name, by number."""
    on_it = {fold(split_end(end)[0]) for end in ends}
    standing = (pedal for pedal in sheet.pedals if fold(pedal.ref) in on_it)
    return tuple(
        f"{sheet.numbers.get(pedal.ref, pedal.ref)} {pedal.name or pedal.kind}" for pedal in standing
    )


def _say_rules(findings: Sequence[Finding]) -> list[str]:
    """`P09 (fault, 2 ×)`, worst first."""
    return [
        f"{rule} ({severity})" if times == 1 else f"{rule} ({severity}, {times} ×)"
        for (rule, severity), times in Counter((one.rule, one.severity) for one in findings).items()
    ]


PROPOSED = Page("proposed-feeds", build_proposed, under="power")
