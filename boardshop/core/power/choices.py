"""What if: a feed tried on the plan, and every outlet as a choice for one jack."""

from collections.abc import Mapping
from dataclasses import dataclass

from boardshop.core.findings import Finding, sort_findings
from boardshop.core.index import fold, index_plan
from boardshop.core.plan import BoardPlan, Feed, Outlet, Supply
from boardshop.core.power.connections import Connection, FedJack, Feeding, make_feeding, with_feed
from boardshop.core.power.drops import judge_drop, measure_drop
from boardshop.core.power.loads import (
    add_up_group,
    add_up_outlet,
    add_up_supply,
    judge_group,
    judge_outlets,
    judge_supply,
)
from boardshop.core.power.matching import judge_pair
from boardshop.core.power.pairing import pair_up
from boardshop.core.power.sharing import judge_outlet_sharing, judge_return
from boardshop.core.printing import round_percent, round_whole
from boardshop.core.screens import number_joined_units

MATCHING_RULES = ("P01", "P02", "P03", "P04", "P05", "P06", "P14", "P28")
LIMIT_RULES = ("P08", "P10")
"""A jack is wrongly fed by a fault under these, by any damage, or by sharing without standing it."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One outlet at one setting, as it would be with the jack on it."""

    outlet: str
    setting_mv: int | None
    load_ma: int
    """On the outlet, the jack's own load included as far as it is known."""
    limit_ma: int | None
    load_percent: float | None
    verdict: str
    """The worst severity of its findings, or `right` where nothing speaks against it."""
    findings: tuple[Finding, ...]
    is_partial: bool
    """The load leaves out a draw that nobody recorded."""
    feeds: tuple[str, ...]
    """The other jacks that the outlet feeds already."""


def judge_feed(plan: BoardPlan, feed: Feed) -> tuple[Finding, ...]:
    """All findings on this feed's outlets and jacks if the plan had it, in place of what fed them before."""
    feeding = make_feeding(plan, with_feed(plan.feeds, feed))
    connection = feeding.connections[-1]
    drops = [
        finding
        for number, fed in enumerate(connection.jacks)
        for finding in judge_drop(
            plan.rules, measure_drop(plan.rules, connection, number, pair_up(feeding, connection, fed))
        )
    ]
    found = judge_connection(feeding, connection, number_joined_units(plan))
    return sort_findings([*found, *drops])


def list_choices(plan: BoardPlan, jack_ref: str, adapters: tuple[str, ...] = ()) -> tuple[Choice, ...]:
    """Every outlet at each of its settings, in the plan's order, as a feed for this jack by its own lead.

    An outlet that others use already keeps the setting recorded for it.
    The lead is not judged: its length is not known before the choice.
    """
    units = number_joined_units(plan)
    index = index_plan(plan)
    others = make_feeding(plan, with_feed(plan.feeds, Feed((), (jack_ref,))))
    nominal = index.power_jacks[fold(jack_ref)][1].nominal if fold(jack_ref) in index.power_jacks else None
    return tuple(
        _try_choice(plan, Feed((f"{supply.ref}.{outlet.name}",), (jack_ref,), (setting,), adapters), units)
        for supply in plan.supplies
        for outlet in supply.outlets
        for setting in _list_settings(others, supply, outlet, nominal)
    )


def judge_connection(
    feeding: Feeding, connection: Connection, joined_units: Mapping[str, int]
) -> tuple[Finding, ...]:
    """Pairing, sharing and limits of one connection within the feeding, leads apart."""
    found = [f for fed in connection.jacks for f in judge_pair(pair_up(feeding, connection, fed))]
    on_return = judge_return(feeding, feeding.return_key(connection), joined_units)
    found += [f for f in on_return if any(_concerns(f, fed) for fed in connection.jacks)]
    for tap in connection.taps:
        found += judge_outlet_sharing(feeding, tap.ref)
        if tap.outlet.group is not None:
            found += judge_group(feeding, add_up_group(feeding, tap.supply, tap.outlet.group))
        found += judge_supply(feeding, add_up_supply(feeding, tap.supply))
    loads = [add_up_outlet(feeding, tap.supply, tap.outlet) for tap in connection.taps]
    found += judge_outlets(feeding, loads)
    return sort_findings(found)


def is_wrongly_fed(feeding: Feeding, connection: Connection, fed: FedJack) -> bool | None:
    """Whether this jack of the connection is fed wrongly; None where a value that decides it is not recorded.

    Wrong are: voltage, kind of current, polarity or connector (adapters counted), unlike ground poles through
    joined screens, sharing without standing it, and a limit of the outlet, group or supply that is passed.
    """
    found = [
        finding
        for finding in judge_connection(feeding, connection, number_joined_units(feeding.plan))
        if _concerns(finding, fed) or finding.rule in LIMIT_RULES
    ]
    shares = pair_up(feeding, connection, fed).shares_outlet
    if shares and fed.jack.share not in ("ok", None):
        return True
    if any(_is_wrong(finding) for finding in found):
        return True
    return None if any(finding.severity == "unknown" for finding in found) else False


def _is_wrong(finding: Finding) -> bool:
    counts = finding.rule in MATCHING_RULES or finding.rule in LIMIT_RULES
    return finding.severity == "damage" or (counts and finding.severity == "fault")


def _concerns(finding: Finding, fed: FedJack) -> bool:
    names = {fold(fed.ref), fold(fed.pedal.ref)}
    return any(fold(subject) in names for subject in finding.subjects)


def _list_settings(
    others: Feeding, supply: Supply, outlet: Outlet, nominal: int | None
) -> tuple[int | None, ...]:
    """The settings worth offering: the one in use, else every fixed one and the nearest of each range."""
    ref = fold(f"{supply.ref}.{outlet.name}")
    for tap in (tap for connection in others.at_outlet.get(ref, ()) for tap in connection.taps):
        if fold(tap.ref) == ref and tap.setting_mv is not None:
            return (tap.setting_mv,)
    offered = [max(s.min_mv, min(nominal or s.min_mv, s.max_mv)) for s in outlet.settings]
    return tuple(dict.fromkeys(offered)) or (None,)


def _try_choice(plan: BoardPlan, feed: Feed, joined_units: Mapping[str, int]) -> Choice:
    feeding = make_feeding(plan, with_feed(plan.feeds, feed))
    connection = feeding.connections[-1]
    tap = connection.taps[0]
    load = add_up_outlet(feeding, tap.supply, tap.outlet).load
    percent = load.percent_of(load.load_ma)
    found = judge_connection(feeding, connection, joined_units)
    return Choice(
        outlet=tap.ref,
        setting_mv=tap.setting_mv,
        load_ma=round_whole(float(load.load_ma)),
        limit_ma=load.limit,
        load_percent=None if percent is None else round_percent(float(percent)),
        verdict=found[0].severity if found else "right",
        findings=found,
        is_partial=load.is_partial,
        feeds=tuple(fed.ref for fed in load.jacks if fold(fed.ref) != fold(feed.jacks[0])),
    )
