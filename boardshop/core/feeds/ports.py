"""What a jack can be plugged into: an outlet at one of its settings, or two outlets joined."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, product
from math import lcm

from boardshop.core.index import fold
from boardshop.core.plan import Outlet, Supply
from boardshop.core.power.connections import Connection, FedJack, Joining, Tap, make_tap


@dataclass(frozen=True, slots=True)
class Port:
    """One outlet at one setting, or two joined outlets at theirs."""

    taps: tuple[Tap, ...]
    joining: Joining = "single"

    @property
    def outlets(self) -> tuple[str, ...]:
        """Folded refs; the same for every setting of the same outlets, whatever order they were named in."""
        return tuple(sorted(fold(tap.ref) for tap in self.taps))

    @property
    def key(self) -> tuple[tuple[tuple[str, int | None], ...], Joining]:
        return tuple(sorted((fold(tap.ref), tap.setting_mv or -1) for tap in self.taps)), self.joining

    @property
    def mv(self) -> int:
        """What it gives; 0 for an outlet of which no setting is recorded."""
        volts = [tap.setting_mv or 0 for tap in self.taps]
        return sum(volts) if self.joining == "series" else max(volts)

    @property
    def limit_ma(self) -> int | None:
        """Of each outlet, mA; None where one is not recorded."""
        limits = [tap.limit_ma for tap in self.taps]
        known = [limit for limit in limits if limit is not None]
        return min(known) if len(known) == len(limits) else None

    @property
    def shown(self) -> Fraction:
        """The part of the load that each outlet shows."""
        return Fraction(1, 2) if self.joining == "parallel" else Fraction(1)

    @property
    def return_key(self) -> str:
        """What carries the return; joined outlets, both isolated, are one of their own."""
        return "+".join(sorted(fold(tap.return_ref) for tap in self.taps))

    @property
    def is_alternating(self) -> bool:
        return any(tap.outlet.current == "ac" for tap in self.taps)


def port_of(connection: Connection) -> Port:
    return Port(connection.taps, connection.joining)


def list_settings(outlet: Outlet, jacks: Sequence[FedJack]) -> tuple[int, ...]:
    """The voltages worth trying, mV: every fixed one, and of a range those at which a jack starts to fit.

    At a lower voltage of the same range the same jacks fit and the supply gives less power, so that the
    jacks' nominal and least voltages and the range's own end are enough.
    """
    found: dict[int, None] = {}
    wanted = sorted({mv for fed in jacks for mv in (fed.jack.nominal, fed.jack.min) if mv is not None})
    for setting in outlet.settings:
        if setting.min_mv == setting.max_mv:
            found[setting.min_mv] = None
            continue
        inside = [mv for mv in wanted if setting.min_mv <= mv <= setting.max_mv]
        found |= dict.fromkeys([*inside, setting.min_mv])
    return tuple(found)


def list_single_ports(
    outlets: Iterable[tuple[Supply, Outlet]], jacks: Sequence[FedJack], fixed: dict[str, int]
) -> Iterator[Port]:
    """Every outlet at each setting worth trying; ``fixed`` holds those that something pinned has set."""
    for supply, outlet in outlets:
        pinned = fixed.get(fold(f"{supply.ref}.{outlet.name}"))
        for mv in list_settings(outlet, jacks) if pinned is None else (pinned,):
            yield Port((make_tap(supply, outlet, mv),))


def list_joined_ports(singles: Sequence[Port]) -> Iterator[Port]:
    """Two isolated outlets in parallel at one voltage, or in series, where the makers permit it."""
    parallel = [p.taps[0] for p in singles if p.taps[0].outlet.parallel_ok and _is_isolated(p.taps[0])]
    series = [p.taps[0] for p in singles if p.taps[0].outlet.series_ok and _is_isolated(p.taps[0])]
    for one, other in combinations(parallel, 2):
        if one.ref != other.ref and one.setting_mv == other.setting_mv and one.limit_ma == other.limit_ma:
            yield Port((one, other), "parallel")
    by_outlet: dict[str, list[Tap]] = {}
    for tap in series:
        by_outlet.setdefault(tap.ref, []).append(tap)
    for ones, others in combinations(by_outlet.values(), 2):
        for one, other in product(ones, others):
            yield Port((one, other), "series")


def common_scale(ports: Iterable[Port], most: int) -> int:
    """A number that every load's share of a limit can be counted in without a rest, or ``most``."""
    scale = 1
    for port in ports:
        scale = lcm(scale, port.shown.denominator * (port.limit_ma or 1))
        if scale > most:
            return most
    return scale


def _is_isolated(tap: Tap) -> bool:
    return tap.outlet.group is None
