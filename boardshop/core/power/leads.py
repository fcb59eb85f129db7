"""DC leads: what each feed needs, which lead at hand serves it, and what to take along.

At hand are the leads that come with a supply, for its own feeds, and those of the shop's drawer; what equals
a feed's recorded lead counts as taken.  What is not recorded is never taken to fit.
"""

from collections import Counter
from dataclasses import dataclass, replace
from functools import lru_cache

from boardshop.core.drawer import DrawerItem, SupplyLead
from boardshop.core.index import fold, split_end
from boardshop.core.plan import BoardPlan, DcLead, Feed
from boardshop.core.power.connections import Connection, Feeding, make_feeding
from boardshop.core.power.drops import Drop
from boardshop.core.power.lead_choice import assign_cheapest
from boardshop.core.power.lead_fits import Fit, fit_lead, list_trial_drops, thinnest_gauge
from boardshop.core.power.lead_ways import Lack, LeadNeed, lead_need
from boardshop.core.power.wording import say_list

DRAWER = "drawer"
"""Where a lead is from that no supply of the board brought."""
MOST_TRIED = 20_000
"""Limit of this program: pairs of a feed and a sort of lead; a large board has some hundreds."""


@dataclass(frozen=True, slots=True)
class Heap:
    """Leads of one sort: ``origin`` is the ref of a supply, or DRAWER; ``left`` are not on a feed yet."""

    origin: str
    lead: DcLead
    count: int
    left: int


@dataclass(frozen=True, slots=True)
class LeadToGet:
    """What a lead must be that nobody has; the gauge None where it cannot be told, or none will do."""

    length: int | None
    tails: tuple[int | None, ...]
    awg: int | None
    from_connector: str | None
    to_connectors: tuple[str | None, ...]
    no_gauge_does: bool
    lacks: tuple[Lack, ...]

    @property
    def plugs(self) -> tuple[str | None, ...]:
        """The connectors of its jacks, each once."""
        return tuple(dict.fromkeys(self.to_connectors))


@dataclass(frozen=True, slots=True)
class FeedLead:
    """One feed: its need, and the lead that is recorded on it, else that is chosen for it, else to get."""

    feed: Feed
    need: LeadNeed
    recorded: DcLead | None
    """With its length; without one nobody knows what lead it is."""
    chosen: Heap | None
    to_get: LeadToGet | None
    drops: tuple[Drop, ...]
    """With the recorded or the chosen lead, one for each jack; none where there is neither."""
    why_not: tuple[str, ...] = ()
    """Why leads that are at hand do not serve it."""
    is_captive: bool = False
    """The outlet's own lead cannot be taken off, so there is none to take."""

    @property
    def is_too_short(self) -> bool:
        known = self.recorded is not None and self.recorded.length is not None and self.need.mm is not None
        return known and (self.recorded.length or 0) < (self.need.mm or 0)  # type: ignore[union-attr]

    @property
    def spare_mm(self) -> int | None:
        """How much longer the lead is than needed; negative where it is too short."""
        lead = self.recorded or (self.chosen.lead if self.chosen else None)
        if lead is None or lead.length is None or self.need.mm is None:
            return None
        return lead.length - self.need.mm


@dataclass(frozen=True, slots=True)
class LeadAssignment:
    """``heaps`` in order: each supply's leads, then the drawer's; ``feeds`` one for each feed, in order."""

    heaps: tuple[Heap, ...]
    feeds: tuple[FeedLead, ...]
    is_tried: bool = True
    """False on a board beyond MOST_TRIED: then nothing is chosen."""


@lru_cache(maxsize=8)
def assign_leads(plan: BoardPlan) -> LeadAssignment:
    """Most feeds without a recorded lead served; then the least excess length; then short ones to near jacks.

    The last aim is the least sum of squared excess; what is equal still goes by order.
    """
    feeding, heaps = make_feeding(plan), list_heaps(plan)
    listed = [feed for feed in plan.feeds if feed.outlets and feed.jacks]
    needs = [lead_need(plan, feed) for feed in listed]
    waiting = [n for n, feed in enumerate(listed) if not (_recorded(feed) or _is_captive(feeding, n))]
    is_tried = len(waiting) * len(heaps) <= MOST_TRIED
    fits = {n: _fits(feeding, n, needs[n], heaps) for n in waiting} if is_tried else {}
    excess = [[_excess(heap, needs[n], fit) for heap, fit in zip(heaps, fits[n], strict=True)] for n in fits]
    columns = assign_cheapest(_price(excess), [heap.left for heap in heaps])
    chosen = {n: heaps[c] for n, c in zip(fits, columns, strict=True) if c is not None}
    feeds = (
        _feed_lead(feeding.connections[n], feeding, feed, needs[n], chosen.get(n), fits.get(n, ()))
        for n, feed in enumerate(listed)
    )
    return LeadAssignment(heaps, tuple(feeds), is_tried)


def list_heaps(plan: BoardPlan) -> tuple[Heap, ...]:
    """What is at hand: one less where a feed's recorded lead equals some, its own supply's first."""
    heaps = [_heap(supply.ref, lead) for supply in plan.supplies for lead in supply.leads]
    heaps += [_heap(DRAWER, item) for item in plan.drawer if item.kind == "lead"]
    for feed in plan.feeds:
        lead = _recorded(feed)
        own = {fold(split_end(outlet)[0]) for outlet in feed.outlets}
        for number, heap in enumerate(heaps):
            if lead and heap.left and _is_at_hand(heap, own) and _is_of(lead, heap.lead):
                heaps[number] = replace(heap, left=heap.left - 1)
                break
    return tuple(heaps)


def _heap(origin: str, one: SupplyLead | DrawerItem) -> Heap:
    lead = DcLead(length=one.length, mm2=one.mm2, awg=one.awg, connector=one.connector)
    return Heap(origin, lead, one.count, one.count)


def _recorded(feed: Feed) -> DcLead | None:
    return feed.lead if feed.lead is not None and feed.lead.length is not None else None


def _is_at_hand(heap: Heap, supplies: set[str]) -> bool:
    return heap.origin == DRAWER or fold(heap.origin) in supplies


def _is_of(lead: DcLead, heap: DcLead) -> bool:
    """Whether a recorded lead is one of that sort, chains apart; its plug may be left unsaid."""
    same = (lead.length, lead.mm2, lead.awg) == (heap.length, heap.mm2, heap.awg)
    return same and not lead.tails and lead.connector in (heap.connector, None)


def _is_captive(feeding: Feeding, number: int) -> bool:
    return any(tap.outlet.connector == "captive" for tap in feeding.connections[number].taps)


def _fits(feeding: Feeding, number: int, need: LeadNeed, heaps: tuple[Heap, ...]) -> tuple[Fit, ...]:
    """Of each heap for this feed; an ordinary lead has one plug, so it serves no chain."""
    connection = feeding.connections[number]
    own = {fold(tap.supply.ref) for tap in connection.taps}
    return tuple(_fit(feeding, connection, need, heap, own) for heap in heaps)


def _fit(feeding: Feeding, connection: Connection, need: LeadNeed, heap: Heap, own: set[str]) -> Fit:
    if not _is_at_hand(heap, own):
        return Fit(False)
    if len(connection.jacks) > 1:
        return Fit(False, "it has one plug, and this feed is a chain")
    if not heap.left:
        return Fit(False, "all of them are taken")
    return fit_lead(feeding, connection, heap.lead, need.mm)


def _excess(heap: Heap, need: LeadNeed, fit: Fit) -> int | None:
    if not fit.does or heap.lead.length is None or need.mm is None:
        return None
    return heap.lead.length - need.mm


def _price(excess: list[list[int | None]]) -> list[list[int | None]]:
    """The excess first, its square below one unit of that: the two aims in one whole number."""
    most = max((mm for row in excess for mm in row if mm is not None), default=0)
    unit = len(excess) * most**2 + 1
    return [[None if mm is None else mm * unit + mm**2 for mm in row] for row in excess]


def _feed_lead(
    connection: Connection,
    feeding: Feeding,
    feed: Feed,
    need: LeadNeed,
    chosen: Heap | None,
    fits: tuple[Fit, ...],
) -> FeedLead:
    recorded = _recorded(feed)
    captive = any(tap.outlet.connector == "captive" for tap in connection.taps)
    lead = recorded or (chosen.lead if chosen else None)
    none_yet = lead is None and not captive
    return FeedLead(
        feed=feed,
        need=need,
        recorded=recorded,
        chosen=chosen,
        to_get=_lead_to_get(feeding, connection, need) if none_yet else None,
        drops=() if lead is None else list_trial_drops(feeding, connection, lead),
        why_not=_say_why(fits) if none_yet else (),
        is_captive=captive,
    )


def _say_why(fits: tuple[Fit, ...]) -> tuple[str, ...]:
    short = sorted({fit.short_mm for fit in fits if fit.short_mm is not None})
    said = [f"too short: {say_list(tuple(f'{mm} mm' for mm in short))}"] if short else []
    said += [fit.why_not for fit in fits if fit.why_not]
    if any(fit.does is None and not fit.why_not for fit in fits):
        said.insert(0, "whether the others do cannot be told before what is missing is recorded")
    said += ["the others serve other feeds"] if any(fit.does for fit in fits) else []
    return tuple(dict.fromkeys(said))


def _lead_to_get(feeding: Feeding, connection: Connection, need: LeadNeed) -> LeadToGet:
    awg, fit = thinnest_gauge(feeding, connection, need) if need.mm is not None else (None, Fit(None))
    return LeadToGet(
        length=need.mm,
        tails=tuple(tail.mm for tail in need.tails),
        awg=awg,
        from_connector=connection.taps[0].outlet.connector,
        to_connectors=tuple(fed.jack.connector for fed in connection.jacks),
        no_gauge_does=fit.does is False,
        lacks=tuple(dict.fromkeys((*need.lacks, *fit.lacks))),
    )


def count_adapters(plan: BoardPlan) -> Counter[str]:
    """How many adapters of each kind the feeds use."""
    return Counter(adapter for feed in plan.feeds for adapter in feed.adapters)
