"""What hangs together in a choice of feeds: outlets with what may be put on them, and shared budgets."""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field

from boardshop.core.feeds.ports import Port, port_of
from boardshop.core.feeds.problem import FeedsProblem
from boardshop.core.index import fold
from boardshop.core.power.connections import FedJack


@dataclass(slots=True)
class Socket:
    """An outlet, or a pair of joined ones, whatever the setting; ``ways`` count those of the problem."""

    outlets: tuple[str, ...]
    return_key: str
    ways: list[int] = field(default_factory=list)
    pinned: list[FedJack] = field(default_factory=list)
    pinned_share: int = 0
    """Of the limit, in parts of the scale."""
    is_alternating: bool = False


@dataclass(frozen=True, slots=True)
class Budget:
    """A limit that several outlets share, less what pinned feeds take; negative where they pass it."""

    left: int
    loads: tuple[tuple[int, int], ...]
    """Each way with what it takes."""


def list_sockets(problem: FeedsProblem, scale: int) -> list[Socket]:
    """Single outlets in the plan's order, then pairs."""
    sockets: dict[tuple[str, ...], Socket] = {}
    for connection in problem.pinned:
        port = port_of(connection)
        socket = sockets.setdefault(port.outlets, Socket(port.outlets, port.return_key))
        socket.pinned += connection.jacks
        socket.pinned_share += sum(share_of(fed.load_ma, port, scale) for fed in connection.jacks)
        socket.is_alternating |= port.is_alternating
    for number, way in enumerate(problem.ways):
        port = problem.ports[way.port]
        socket = sockets.setdefault(port.outlets, Socket(port.outlets, port.return_key))
        socket.ways.append(number)
        socket.is_alternating |= port.is_alternating
    place = {ref: number for number, ref in enumerate(problem.present.index.outlets)}
    return sorted(sockets.values(), key=lambda s: (len(s.outlets), [place[ref] for ref in s.outlets]))


def share_of(load_ma: int | None, port: Port, scale: int) -> int:
    """What a load takes of each outlet's limit, in parts of ``scale``; rounded where it does not divide.

    Nothing where the draw or the limit is not recorded.
    """
    limit = port.limit_ma
    if not load_ma or limit is None:
        return 0
    return round(load_ma * port.shown * scale / limit) if limit else scale + 1


def list_group_budgets(problem: FeedsProblem) -> Iterator[Budget]:
    """In mA, of each group with a limit of its own: the smallest that one of its outlets names."""
    limits: dict[str, int] = {}
    for supply in problem.plan.supplies:
        for outlet in supply.outlets:
            if outlet.group is not None and outlet.group_max_ma is not None:
                name = fold(f"{supply.ref}/{outlet.group}")
                limits[name] = min(limits.get(name, outlet.group_max_ma), outlet.group_max_ma)
    taken: dict[str, int] = defaultdict(int)
    for connection in problem.pinned:
        for name in sorted({fold(tap.return_ref) for tap in connection.taps}):
            taken[name] += sum(fed.load_ma or 0 for fed in connection.jacks)
    loads: dict[str, list[tuple[int, int]]] = defaultdict(list)
    for number, way in enumerate(problem.ways):
        for tap in problem.ports[way.port].taps:
            loads[fold(tap.return_ref)].append((number, problem.jacks[way.jack].load_ma or 0))
    for name, limit in limits.items():
        yield Budget(limit - taken[name], tuple(loads[name]))


def list_supply_budgets(problem: FeedsProblem) -> Iterator[Budget]:
    """In half uW, of each supply with a limit: half a load on each of two joined outlets stays whole."""
    taken: dict[str, int] = defaultdict(int)
    for connection in problem.pinned:
        load = sum(fed.load_ma or 0 for fed in connection.jacks)
        for name, drawn in _power_of(port_of(connection), load):
            taken[name] += drawn
    loads: dict[str, list[tuple[int, int]]] = defaultdict(list)
    for number, way in enumerate(problem.ways):
        for name, drawn in _power_of(problem.ports[way.port], problem.jacks[way.jack].load_ma or 0):
            loads[name].append((number, drawn))
    for supply in problem.plan.supplies:
        if supply.limit_mw is not None:
            name = fold(supply.ref)
            yield Budget(2000 * supply.limit_mw - taken[name], tuple(loads[name]))


def _power_of(port: Port, load_ma: int) -> Iterator[tuple[str, int]]:
    """What each supply gives, in half uW."""
    for tap in port.taps:
        drawn = load_ma if port.joining == "parallel" else 2 * load_ma
        yield fold(tap.supply.ref), drawn * (tap.setting_mv or 0)
