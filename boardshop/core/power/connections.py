"""Feeds with everything they name looked up: which outlets at which setting, joined how, into which jacks."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from boardshop.core.disjoint import Islands
from boardshop.core.index import PlanIndex, fold, index_plan, split_end
from boardshop.core.plan import BoardPlan, DcLead, Feed, Outlet, OutletSetting, Pedal, PowerJack, Supply

type Joining = Literal["single", "parallel", "series", "unclear"]


@dataclass(frozen=True, slots=True)
class Tap:
    """One outlet as a feed uses it."""

    ref: str
    supply: Supply
    outlet: Outlet
    setting_mv: int | None
    """The voltage chosen on a feed, or the outlet's one fixed voltage; None when neither tells."""
    offered: OutletSetting | None
    """The outlet's own entry for that voltage; None when it is unknown or the outlet has no such setting."""

    @property
    def limit_ma(self) -> int | None:
        return self.offered.max_ma if self.offered else None

    @property
    def return_ref(self) -> str:
        """What carries its return: the group (`S1/A`), or the isolated outlet itself (`S1.4`)."""
        return return_of(self.supply, self.outlet)

    @property
    def is_selectable(self) -> bool:
        settings = self.outlet.settings
        return len(settings) > 1 or any(s.min_mv != s.max_mv for s in settings)


@dataclass(frozen=True, slots=True)
class FedJack:
    """One power jack at the end of a feed."""

    ref: str
    pedal: Pedal
    jack: PowerJack

    @property
    def load_ma(self) -> int | None:
        """Measured before rated; None when nobody recorded either."""
        return self.jack.measured if self.jack.measured is not None else self.jack.rated


@dataclass(frozen=True, slots=True)
class Connection:
    """One feed, looked up."""

    taps: tuple[Tap, ...]
    jacks: tuple[FedJack, ...]
    adapters: tuple[str, ...] = ()
    lead: DcLead | None = None

    @property
    def joining(self) -> Joining:
        if len(self.taps) == 1:
            return "single"
        if ("parallel" in self.adapters) == ("series" in self.adapters):
            return "unclear"
        return "parallel" if "parallel" in self.adapters else "series"


@dataclass(frozen=True, slots=True)
class Feeding:
    """All feeds of a board; dictionaries are keyed by folded refs and keep the plan's order."""

    plan: BoardPlan
    index: PlanIndex
    connections: tuple[Connection, ...]
    at_outlet: dict[str, tuple[Connection, ...]]
    returns: dict[str, str]
    """Each used return (folded group or isolated outlet) with the one it is joined to, or itself."""
    by_return: dict[str, tuple[Connection, ...]]
    """The connections on each return; isolated outlets that one feed joins are one return."""

    def jacks_at(self, outlet_ref: str) -> tuple[FedJack, ...]:
        return tuple(jack for c in self.at_outlet.get(fold(outlet_ref), ()) for jack in c.jacks)

    def return_key(self, connection: Connection) -> str:
        return self.returns[fold(connection.taps[0].return_ref)]


def make_feeding(plan: BoardPlan, feeds: Sequence[Feed] | None = None) -> Feeding:
    """The plan's feeds looked up, or other feeds tried on the same plan."""
    index = index_plan(plan)
    chosen = plan.feeds if feeds is None else tuple(feeds)
    settings = _recorded_settings(chosen)
    connections = tuple(_look_up(index, feed, settings) for feed in chosen if feed.outlets and feed.jacks)
    at_outlet: dict[str, tuple[Connection, ...]] = {}
    islands = Islands()
    for connection in connections:
        for tap in {fold(tap.ref): tap for tap in connection.taps}.values():
            at_outlet[fold(tap.ref)] = (*at_outlet.get(fold(tap.ref), ()), connection)
            islands.join(fold(connection.taps[0].return_ref), fold(tap.return_ref))
    returns = {fold(t.return_ref): islands.find(fold(t.return_ref)) for c in connections for t in c.taps}
    by_return: dict[str, tuple[Connection, ...]] = {}
    for connection in connections:
        key = returns[fold(connection.taps[0].return_ref)]
        by_return[key] = (*by_return.get(key, ()), connection)
    return Feeding(plan, index, connections, at_outlet, returns, by_return)


def with_feed(feeds: Sequence[Feed], feed: Feed) -> tuple[Feed, ...]:
    """The feeds with this one in, its jacks taken out of whatever fed them before."""
    taken = {fold(jack) for jack in feed.jacks}
    kept: list[Feed] = []
    for other in feeds:
        left = tuple(jack for jack in other.jacks if fold(jack) not in taken)
        if left == other.jacks:
            kept.append(other)
        elif left:
            kept.append(_without_tails(other, left))
    return (*kept, feed)


def make_tap(supply: Supply, outlet: Outlet, recorded_mv: int | None) -> Tap:
    """An outlet at the recorded setting, or at its one fixed voltage when none is recorded."""
    setting_mv = recorded_mv
    if setting_mv is None and len(outlet.settings) == 1:
        only = outlet.settings[0]
        setting_mv = only.min_mv if only.min_mv == only.max_mv else None
    ref = f"{supply.ref}.{outlet.name}"
    return Tap(ref, supply, outlet, setting_mv, find_setting(outlet, setting_mv))


def find_setting(outlet: Outlet, setting_mv: int | None) -> OutletSetting | None:
    """The outlet's entry for this voltage: a fixed one before a range that includes it."""
    if setting_mv is None:
        return None
    fitting = [s for s in outlet.settings if s.min_mv <= setting_mv <= s.max_mv]
    return min(fitting, key=lambda s: s.max_mv - s.min_mv, default=None)


def return_of(supply: Supply, outlet: Outlet) -> str:
    return f"{supply.ref}.{outlet.name}" if outlet.group is None else f"{supply.ref}/{outlet.group}"


def find_power_jack(index: PlanIndex, end: str) -> FedJack:
    """The power jack named `P4.DC`; one that has no power data is a jack of which nothing is known."""
    found = index.power_jacks.get(fold(end))
    if found is not None:
        pedal, jack = found
        return FedJack(f"{pedal.ref}.{jack.name}", pedal, jack)
    ref, name = split_end(end)
    return FedJack(end, index.pedals[fold(ref)], PowerJack(name=name))


def _look_up(index: PlanIndex, feed: Feed, settings: dict[str, int]) -> Connection:
    taps = tuple(make_tap(*index.outlets[fold(end)], settings.get(fold(end))) for end in feed.outlets)
    jacks = tuple(find_power_jack(index, end) for end in feed.jacks)
    return Connection(taps, jacks, feed.adapters, feed.lead)


def _recorded_settings(feeds: Sequence[Feed]) -> dict[str, int]:
    """An outlet has one switch: what one of its feeds records holds for all of them."""
    recorded: dict[str, int] = {}
    for feed in feeds:
        for end, setting in zip(feed.outlets, feed.settings, strict=False):
            if setting is not None:
                recorded.setdefault(fold(end), setting)
    return recorded


def _without_tails(feed: Feed, left: tuple[str, ...]) -> Feed:
    """A chain shortened to the jacks that stay on it, each with its own tail."""
    lead = feed.lead
    if lead is not None and lead.tails:
        tails = zip(feed.jacks, lead.tails, strict=False)
        lead = replace(lead, tails=tuple(tail for jack, tail in tails if jack in left))
    return replace(feed, jacks=left, lead=lead)
