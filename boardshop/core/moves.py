"""What if a power jack is fed otherwise: the loads before and after, what it settles and what it brings."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from boardshop.core.findings import Finding, apply_accepted
from boardshop.core.grounds import compute_grounds
from boardshop.core.index import fold, index_plan
from boardshop.core.plan import BoardPlan, Feed
from boardshop.core.power import OutletRow, PowerSection, SumRow, compute_power, judge_feed
from boardshop.core.power.connections import with_feed


@dataclass(frozen=True, slots=True)
class OutletChange:
    """One outlet that the feed leaves or joins."""

    before: OutletRow
    after: OutletRow


@dataclass(frozen=True, slots=True)
class SumChange:
    """A group or a supply around such an outlet."""

    before: SumRow
    after: SumRow


@dataclass(frozen=True, slots=True)
class FeedMove:
    """One feed as it is and as it would be."""

    jacks: tuple[str, ...]
    left: tuple[OutletChange, ...]
    """The outlets that feed the jacks now and would not any more."""
    joined: tuple[OutletChange, ...]
    """The outlets that would feed them, also where they do already."""
    groups: tuple[SumChange, ...]
    supplies: tuple[SumChange, ...]
    settles: tuple[Finding, ...]
    """Worst first, as `brings`; one that stays on fewer things, or with other figures, is in neither."""
    brings: tuple[Finding, ...]
    """One that stays and concerns one thing more is here."""
    verdict: str
    """The worst severity that then speaks against the feed, or `right`; for none, of what it brings."""


def compare_feeds(plan: BoardPlan, feed: Feed) -> FeedMove:
    """The plan with this feed in place of whatever feeds its jacks now.

    A feed from no outlet stands for pulling its jacks' plugs.
    """
    feeds = with_feed(plan.feeds, feed)
    moved = replace(plan, feeds=feeds if feed.outlets else feeds[:-1])
    before, after = compute_power(plan), compute_power(moved)
    found_before = _list_findings(plan, before)
    found_after = _list_findings(moved, after)
    settles = list_settled(found_before, found_after)
    brings = list_brought(found_before, found_after)
    left, joined = _list_left(plan, feed), [fold(outlet) for outlet in feed.outlets]
    judged = judge_feed(plan, feed) if feed.outlets else brings
    groups, supplies = _list_around(plan, [*left, *joined])
    return FeedMove(
        jacks=feed.jacks,
        left=tuple(_outlet_changes(before, after, left)),
        joined=tuple(_outlet_changes(before, after, joined)),
        groups=tuple(_sum_changes(before.groups, after.groups, groups)),
        supplies=tuple(_sum_changes(before.supplies, after.supplies, supplies)),
        settles=settles,
        brings=brings,
        verdict=judged[0].severity if judged else "right",
    )


def _list_left(plan: BoardPlan, feed: Feed) -> list[str]:
    """Folded outlets that feed these jacks now and are not among those of the feed."""
    joined = {fold(outlet) for outlet in feed.outlets}
    index = index_plan(plan)
    feeds = [index.feed_of_jack[fold(jack)] for jack in feed.jacks if fold(jack) in index.feed_of_jack]
    outlets = dict.fromkeys(fold(outlet) for now in feeds for outlet in now.outlets)
    return [outlet for outlet in outlets if outlet not in joined]


def _list_findings(plan: BoardPlan, power: PowerSection) -> tuple[Finding, ...]:
    return apply_accepted(plan, [*power.findings, *compute_grounds(plan).findings])


def list_settled(before: Sequence[Finding], after: Sequence[Finding]) -> tuple[Finding, ...]:
    """Those of which nothing of their rule and severity stays, on fewer things or on more."""
    return tuple(one for one in before if not any(_is_like(one, other) for other in after))


def list_brought(before: Sequence[Finding], after: Sequence[Finding]) -> tuple[Finding, ...]:
    """Those that name a thing which no finding of their rule and severity named together with the rest."""
    return tuple(
        one
        for one in after
        if not any(_is_same_rule(one, other) and _name(one) <= _name(other) for other in before)
    )


def _is_like(one: Finding, other: Finding) -> bool:
    names, others = _name(one), _name(other)
    return _is_same_rule(one, other) and (names <= others or names >= others)


def _is_same_rule(one: Finding, other: Finding) -> bool:
    return (one.rule, one.severity) == (other.rule, other.severity)


OF_THE_PEDAL = ("P26", "P27", "P29")
"""Rules about the pedal or its lead, wherever they are plugged in: the outlet is only named."""


def _name(finding: Finding) -> frozenset[str]:
    about = finding.subjects
    if finding.rule in OF_THE_PEDAL and finding.severity == "unknown":
        about = about[-1:]
    return frozenset(fold(subject) for subject in about)


def _list_around(plan: BoardPlan, outlets: Sequence[str]) -> tuple[list[str], list[str]]:
    """The folded groups and supplies of these outlets."""
    index = index_plan(plan)
    parts = [index.outlets[outlet] for outlet in outlets]
    groups = [fold(f"{supply.ref}/{outlet.group}") for supply, outlet in parts if outlet.group is not None]
    return list(dict.fromkeys(groups)), list(dict.fromkeys(fold(supply.ref) for supply, _ in parts))


def _outlet_changes(
    before: PowerSection, after: PowerSection, outlets: Sequence[str]
) -> Sequence[OutletChange]:
    then = {fold(row.ref): row for row in after.outlets}
    now = {fold(row.ref): row for row in before.outlets}
    return [OutletChange(now[ref], then[ref]) for ref in outlets]


def _sum_changes(
    before: Sequence[SumRow], after: Sequence[SumRow], refs: Sequence[str]
) -> Sequence[SumChange]:
    then, now = {fold(row.ref): row for row in after}, {fold(row.ref): row for row in before}
    return [SumChange(now[ref], then[ref]) for ref in refs]
