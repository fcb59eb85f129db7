"""The list of leads and adapters to take along, grouped and counted, with spares as advice."""

from collections import Counter
from dataclasses import dataclass

from boardshop.core.plan import BoardPlan, DcLead
from boardshop.core.power.leads import FeedLead, LeadToGet, assign_leads, count_adapters
from boardshop.core.vocabulary import ADAPTERS

SPARE_LEADS = 2
ADAPTERS_PER_USE = 2
"""Two more DC leads of each kind, and each adapter twice: common practice on the road."""


@dataclass(frozen=True, slots=True)
class TakeLine:
    """Equal leads, counted; ``origin`` is `recorded`, a supply's ref, `drawer` or `get`."""

    count: int
    origin: str
    lead: DcLead | None
    to_get: LeadToGet | None
    jacks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class AdapterLine:
    """Adapters of one kind: used by feeds, to take with the spare, lying in the drawer."""

    kind: str
    used: int
    take: int
    in_drawer: int


@dataclass(frozen=True, slots=True)
class SpareLine:
    """Advice: so many more leads with this plug, as long as the longest of them; None where unknown."""

    count: int
    connector: str | None
    length: int | None


@dataclass(frozen=True, slots=True)
class LeadList:
    lines: tuple[TakeLine, ...]
    adapters: tuple[AdapterLine, ...]
    spares: tuple[SpareLine, ...]


def list_leads_to_take(plan: BoardPlan) -> LeadList:
    """For each feed the recorded lead, else the chosen one, else what to get; captive ones come along."""
    feeds = [one for one in assign_leads(plan).feeds if not one.is_captive]
    return LeadList(_group(feeds), _list_adapters(plan), _list_spares(feeds))


def _group(feeds: list[FeedLead]) -> tuple[TakeLine, ...]:
    groups: dict[tuple[str, DcLead | None, LeadToGet | None], list[str]] = {}
    counts: Counter[tuple[str, DcLead | None, LeadToGet | None]] = Counter()
    for one in feeds:
        key = (_origin_of(one), one.recorded or (one.chosen.lead if one.chosen else None), one.to_get)
        groups.setdefault(key, []).extend(one.feed.jacks)
        counts[key] += 1
    return tuple(TakeLine(counts[key], *key, tuple(jacks)) for key, jacks in groups.items())


def _origin_of(one: FeedLead) -> str:
    if one.recorded is not None:
        return "recorded"
    return one.chosen.origin if one.chosen else "get"


def _list_adapters(plan: BoardPlan) -> tuple[AdapterLine, ...]:
    used = count_adapters(plan)
    lying = Counter[str]()
    for item in plan.drawer:
        lying[item.kind] += item.count
    return tuple(
        AdapterLine(kind, used[kind], ADAPTERS_PER_USE * used[kind], lying[kind])
        for kind in ADAPTERS
        if used[kind]
    )


def _list_spares(feeds: list[FeedLead]) -> tuple[SpareLine, ...]:
    """By the plug at the pedal's end, in the order of the feeds."""
    lengths: dict[str | None, list[int | None]] = {}
    for one in feeds:
        lead = one.recorded or (one.chosen.lead if one.chosen else None)
        length = lead.length if lead else one.need.mm
        plugs = one.to_get.to_connectors if one.to_get else (lead.connector if lead else None,)
        for plug in dict.fromkeys(plugs):
            lengths.setdefault(plug, []).append(length)
    return tuple(
        SpareLine(SPARE_LEADS, plug, max((mm for mm in known if mm is not None), default=None))
        for plug, known in lengths.items()
    )
