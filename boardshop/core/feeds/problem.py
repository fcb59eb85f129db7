"""The choice of feeds as numbers: jacks, ports, and the ways in which a jack may be fed from a port.

Only what is known to fit is a way; what is plugged in today and is not known to be wrong may stay.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from boardshop.core.feeds.ports import Port, list_joined_ports, list_single_ports, port_of
from boardshop.core.index import fold
from boardshop.core.plan import BoardPlan, DcLead, Outlet
from boardshop.core.power.connections import Connection, FedJack, Feeding, find_power_jack, make_feeding
from boardshop.core.power.fitting import adapters_needed, does_fit
from boardshop.core.power.goals import JOINING
from boardshop.core.power.mains import list_unfed
from boardshop.core.power.pairing import Pairing
from boardshop.core.vocabulary import ADAPTERS

MOST_JOINED_WAYS = 4_000
"""With more ways over joined outlets, only jacks that strain one outlet alone are offered a pair."""


@dataclass(frozen=True, slots=True)
class Way:
    """One jack on one port; numbers count `FeedsProblem.jacks` and `.ports`."""

    jack: int
    port: int
    adapters: tuple[str, ...] = ()
    """The joining adapter included."""
    is_present: bool = False
    """Just as the file has it."""
    is_certain: bool = True
    """False where it is only kept because it is there: a value that decides it is not recorded."""


@dataclass(frozen=True, slots=True)
class FeedsProblem:
    plan: BoardPlan
    present: Feeding
    jacks: tuple[FedJack, ...]
    """All to be fed, in the plan's order; those of pinned feeds are not among them."""
    ports: tuple[Port, ...]
    ways: tuple[Way, ...]
    pinned: tuple[Connection, ...]
    is_whole: bool
    """False where pairs of outlets were left out for their number."""
    at_hand: dict[str, int] | None
    """How many of each adapter there are, those on the board included; None where no drawer is recorded."""

    @property
    def headroom(self) -> int:
        """Percent of a limit up to which an outlet is not above headroom."""
        return 100 - self.plan.rules.headroom_percent


def make_problem(plan: BoardPlan) -> FeedsProblem:
    present = make_feeding(plan)
    whole = [feed for feed in plan.feeds if feed.outlets and feed.jacks]
    pinned = tuple(c for feed, c in zip(whole, present.connections, strict=True) if feed.pinned)
    jacks = _list_jacks(plan, present, {fold(fed.ref) for c in pinned for fed in c.jacks})
    ports = _list_ports(plan, present, pinned, jacks)
    finder = _WayFinder(present, jacks, ports)
    ways, is_whole = finder.find(100 - plan.rules.headroom_percent)
    used = sorted({way.port for way in ways})
    number = {port: place for place, port in enumerate(used)}
    return FeedsProblem(
        plan=plan,
        present=present,
        jacks=jacks,
        ports=tuple(ports[port] for port in used),
        ways=tuple(replace(way, port=number[way.port]) for way in ways),
        pinned=pinned,
        is_whole=is_whole,
        at_hand=_count_adapters(plan, present) if plan.drawer else None,
    )


def _count_adapters(plan: BoardPlan, present: Feeding) -> dict[str, int]:
    """What lies in the drawer and what unpinned feeds use today, by kind."""
    counts = dict.fromkeys(ADAPTERS, 0)
    for item in plan.drawer:
        if item.kind in counts:
            counts[item.kind] += item.count
    whole = (feed for feed in plan.feeds if feed.outlets and feed.jacks)
    for feed, connection in zip(whole, present.connections, strict=True):
        for name in () if feed.pinned else connection.adapters:
            counts[name] += 1 if name in JOINING else len(connection.jacks)
    return counts


def _list_jacks(plan: BoardPlan, present: Feeding, pinned: set[str]) -> tuple[FedJack, ...]:
    """Those that are fed or wait for it, in the plan's order of pedals."""
    ends = [*(fed.ref for c in present.connections for fed in c.jacks), *list_unfed(plan)]
    found = {fold(end): find_power_jack(present.index, end) for end in ends if fold(end) not in pinned}
    place = {end: number for number, end in enumerate(present.index.power_jacks)}
    pedals = {ref: number for number, ref in enumerate(present.index.pedals)}

    def position(end: str) -> tuple[int, int, str]:
        return pedals[fold(found[end].pedal.ref)], place.get(end, len(place)), end

    return tuple(found[end] for end in sorted(found, key=position))


def _list_ports(
    plan: BoardPlan, present: Feeding, pinned: Sequence[Connection], jacks: Sequence[FedJack]
) -> tuple[Port, ...]:
    """Every port that is free to use, and those in use today whatever is known of them."""
    closed = {fold(tap.ref) for c in pinned if _closes(c) for tap in c.taps}
    fixed = {fold(tap.ref): tap.setting_mv for c in pinned for tap in c.taps if tap.setting_mv is not None}
    outlets = [
        (supply, outlet)
        for supply in plan.supplies
        for outlet in supply.outlets
        if fold(f"{supply.ref}.{outlet.name}") not in closed
    ]
    singles = list(list_single_ports(outlets, jacks, fixed))
    free = [port for port in singles if fold(port.taps[0].ref) not in fixed]
    today = [port_of(c) for c in present.connections if c not in pinned]
    of_use = [p for p in today if not closed.intersection(p.outlets) and p.joining != "unclear"]
    ports = {port.key: port for port in (*singles, *list_joined_ports(free), *of_use)}
    return tuple(ports.values())


def _closes(connection: Connection) -> bool:
    """Whether nothing else may be put on these outlets: joined, or at an unknown voltage or load."""
    unknown_load = any(fed.load_ma is None for fed in connection.jacks)
    return len(connection.taps) > 1 or connection.taps[0].limit_ma is None or unknown_load


class _WayFinder:
    """Tries every jack on every port, each kind of outlet and each kind of need only once."""

    def __init__(self, present: Feeding, jacks: Sequence[FedJack], ports: Sequence[Port]) -> None:
        self.jacks, self.ports = jacks, ports
        self.now = {fold(fed.ref): c for c in present.connections for fed in c.jacks}
        self._known: dict[object, tuple[bool | None, tuple[str, ...]]] = {}
        self._facts = [tuple(_facts_of(tap.outlet, tap.setting_mv) for tap in port.taps) for port in ports]

    def find(self, headroom: int) -> tuple[list[Way], bool]:
        single = [n for n, port in enumerate(self.ports) if len(port.taps) == 1]
        joined = [n for n, port in enumerate(self.ports) if len(port.taps) > 1]
        is_whole = len(joined) * len(self.jacks) <= MOST_JOINED_WAYS
        ways = list(self._find_over(single))
        for way in self._find_over(joined):
            port = self.ports[way.port]
            load, limit = self.jacks[way.jack].load_ma or 0, port.limit_ma or 0
            strains = port.joining == "series" or load * 100 > headroom * limit
            if is_whole or strains or way.is_present:
                ways.append(way)
        settled = [way for way in ways if not self._is_better_set(way, ways)]
        return sorted(settled, key=lambda way: (way.jack, way.port)), is_whole

    def _is_better_set(self, way: Way, ways: Sequence[Way]) -> bool:
        """Whether it is plugged in at a voltage nobody recorded where the outlet has a right one."""
        port = self.ports[way.port]
        if way.is_certain or all(tap.setting_mv is not None for tap in port.taps):
            return False
        others = (other for other in ways if other.jack == way.jack and other.is_certain)
        return any(self.ports[other.port].outlets == port.outlets for other in others)

    def _find_over(self, ports: Sequence[int]) -> Iterator[Way]:
        for jack in range(len(self.jacks)):
            for port in ports:
                way = self._find_way(jack, port)
                if way is not None:
                    yield way

    def _find_way(self, jack: int, number: int) -> Way | None:
        fed, port = self.jacks[jack], self.ports[number]
        now = self.now.get(fold(fed.ref))
        if now is not None and port_of(now).key == port.key:
            fits = does_fit(_pair(port, fed, now.adapters, now.lead))
            if fits or (fits is None and port.joining == "single"):
                is_certain = bool(fits) and fed.load_ma is not None and port.limit_ma is not None
                return Way(jack, number, now.adapters, is_present=True, is_certain=is_certain)
        if fed.load_ma is None or port.limit_ma is None or _exceeds(fed, port):
            return None
        fits, adapters = self._try(fed, port, self._facts[number], find_lead_along(now, port))
        return Way(jack, number, adapters) if fits else None

    def _try(
        self, fed: FedJack, port: Port, facts: object, lead: DcLead | None
    ) -> tuple[bool | None, tuple[str, ...]]:
        need = replace(fed.jack, name="", rated=None, measured=None, peak=None, share=None)
        supplies = tuple(dict.fromkeys((fold(tap.supply.ref), tap.supply.model) for tap in port.taps))
        connector = lead.connector if lead else None
        key = (need, fed.pedal.circuit, facts, port.joining, supplies[1:] and supplies, connector)
        if key not in self._known:
            adapters = () if port.joining == "single" else (port.joining,)
            adapters = (*adapters, *adapters_needed(_pair(port, fed, adapters, lead)))
            self._known[key] = does_fit(_pair(port, fed, adapters, lead)), adapters
        return self._known[key]


def _pair(port: Port, fed: FedJack, adapters: tuple[str, ...], lead: DcLead | None) -> Pairing:
    """By itself: what shares the outlet is weighed by the model."""
    connector = lead.connector if lead else None
    return Pairing(
        port.taps, port.joining, fed, adapters, connector, shares_outlet=False, shares_return=False
    )


def find_lead_along(now: Connection | None, port: Port) -> DcLead | None:
    """The jack's own lead, which goes with it from one outlet to another of the same connector.

    A chain's lead stays, and so does one with adapters on it, since they were chosen for the old outlet.
    """
    if now is None or now.adapters or not len(now.jacks) == len(now.taps) == len(port.taps) == 1:
        return None
    return now.lead if now.taps[0].outlet.connector == port.taps[0].outlet.connector else None


def _exceeds(fed: FedJack, port: Port) -> bool:
    return (fed.load_ma or 0) * port.shown > (port.limit_ma or 0)


def _facts_of(outlet: Outlet, setting_mv: int | None) -> object:
    """What decides whether the outlet fits a jack, without its name, group and place."""
    isolated = outlet.group is None
    return replace(outlet, name="", group=None, group_max_ma=None), setting_mv, isolated
