"""The choice of feeds as a model for OR-Tools CP-SAT.

A share of a limit is counted in whole parts of `FeedsModel.scale`, of which every limit is a divisor.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from itertools import combinations

from ortools.sat.python import cp_model

from boardshop.core.feeds.ports import Port, common_scale, port_of
from boardshop.core.feeds.problem import FeedsProblem, Way
from boardshop.core.index import fold
from boardshop.core.power.connections import FedJack
from boardshop.core.screens import number_joined_units

MOST_SCALE = 10**8
"""Finer shares of limits than this part are rounded; limits as they are printed on supplies need far less."""

type Expr = cp_model.LinearExprT


@dataclass(slots=True)
class Socket:
    """An outlet, or a pair of joined ones: what hangs on it, whatever the setting."""

    outlets: tuple[str, ...]
    return_key: str
    ways: list[int] = field(default_factory=list)
    pinned: list[FedJack] = field(default_factory=list)
    pinned_share: int = 0
    """Of the limit, in parts of the scale."""
    is_alternating: bool = False


class FeedsModel:
    """Variables and rules; the aims are methods, so that each is only built when its turn comes."""

    def __init__(self, problem: FeedsProblem) -> None:
        self.problem = problem
        self.model = cp_model.CpModel()
        self.scale = common_scale(problem.ports, MOST_SCALE)
        self.x = [self.model.new_bool_var("") for _ in problem.ways]
        self.of_jack: list[list[int]] = [[] for _ in problem.jacks]
        for number, way in enumerate(problem.ways):
            self.of_jack[way.jack].append(number)
        for ways in self.of_jack:
            self.model.add_at_most_one(self.x[n] for n in ways)
        self.shares = [self._share_of(way) for way in problem.ways]
        self.sockets = self._list_sockets()
        self.several = [self._add_several(socket) for socket in self.sockets]
        self._keep_to_one_setting()
        self._keep_to_limits()
        self._keep_poles_apart()
        self._leave_the_uncertain_alone()

    def unfed(self) -> Expr:
        return len(self.problem.jacks) - cp_model.LinearExpr.sum(self.x)

    def digital_sharing(self) -> Expr:
        """Digital jacks whose return carries another jack."""
        terms: list[Expr] = []
        for sockets in self._returns().values():
            hung = [n for socket in sockets for n in socket.ways]
            pinned = [fed for socket in sockets for fed in socket.pinned]
            if len({self.problem.ways[n].jack for n in hung}) + len(pinned) < 2:
                continue
            digital = [n for n in hung if self._fed(n).pedal.circuit == "digital"]
            fixed = sum(fed.pedal.circuit == "digital" for fed in pinned)
            if digital or fixed:
                terms += self._count_digital(hung, digital, len(pinned), fixed)
        return _sum(terms)

    def sharing(self) -> Expr:
        """Jacks on an outlet, or a joined pair, with another."""
        terms: list[Expr] = []
        for socket, several in zip(self.sockets, self.several, strict=True):
            if several is None:
                terms += [len(socket.pinned)] if len(socket.pinned) > 1 else []
                continue
            count = self.model.new_int_var(0, len(socket.ways) + len(socket.pinned), "")
            # With several on it the first term is their number, else it is not above zero.
            self.model.add(count >= self._hung(socket) - 1 + several)
            terms.append(count)
        return _sum(terms)

    def above_headroom(self) -> Expr:
        terms: list[Expr] = []
        limit, margin = self.problem.headroom * self.scale, self.problem.plan.rules.headroom_percent
        for socket in self.sockets:
            most = max(self.scale, socket.pinned_share) * 100
            if socket.pinned_share * 100 > limit:
                terms.append(len(socket.outlets))
            elif margin > 0 and socket.ways:
                above = self.model.new_bool_var("")
                self.model.add(100 * self._load(socket) <= limit + (most - limit) * above)
                terms.append(len(socket.outlets) * above)
        return _sum(terms)

    def adapters(self) -> Expr:
        """Each jack's own; what joins two outlets counts once."""
        own = [len(_own_adapters(way.adapters)) for way in self.problem.ways]
        joined = [self._is_used(socket) for socket in self.sockets if len(socket.outlets) > 1 and socket.ways]
        fixed = sum(len(c.adapters) for c in self.problem.pinned)
        return cp_model.LinearExpr.weighted_sum(self.x, own) + _sum(joined) + fixed

    def largest_share(self) -> Expr:
        top = max([self.scale, *(socket.pinned_share for socket in self.sockets)])
        largest = self.model.new_int_var(0, top, "")
        for socket in self.sockets:
            self.model.add(largest >= self._load(socket))
        return largest

    def changed(self) -> Expr:
        """Jacks fed otherwise than in the file, or not fed as there."""
        kept: list[Expr] = []
        fed_now = {fold(fed.ref) for c in self.problem.present.connections for fed in c.jacks}
        for jack, ways in enumerate(self.of_jack):
            if fold(self.problem.jacks[jack].ref) in fed_now:
                kept += [self.x[n] for n in ways if self.problem.ways[n].is_present]
            else:
                kept.append(1 - cp_model.LinearExpr.sum([self.x[n] for n in ways]))
        return len(self.problem.jacks) - _sum(kept)

    def squares(self) -> Expr:
        """The sum over all outlets of the square of the share."""
        terms: list[Expr] = []
        for socket, several in zip(self.sockets, self.several, strict=True):
            times, fixed = len(socket.outlets), socket.pinned_share
            own = [self.shares[n] * (self.shares[n] + 2 * fixed) for n in socket.ways]
            one_by_one = cp_model.LinearExpr.weighted_sum([self.x[n] for n in socket.ways], own)
            terms.append(times * (one_by_one + fixed * fixed))
            if several is not None:
                terms += [times * product for product in self._products(socket, several)]
        return _sum(terms)

    def deviations(self) -> Expr:
        """How far, mV, the chosen settings lie from what the jacks are labelled for."""
        weights = []
        for way in self.problem.ways:
            nominal = self.problem.jacks[way.jack].jack.nominal
            mv = self._volts(self.problem.ports[way.port])
            weights.append(abs(mv - nominal) if nominal is not None else 0)
        return cp_model.LinearExpr.weighted_sum(self.x, weights)

    def order(self, first: int, beyond: int) -> Expr:
        """The jacks from ``first`` up to ``beyond``, each on as early an outlet as it can be, one by one."""
        place = {socket.outlets: number for number, socket in enumerate(self.sockets)}
        base = len(self.sockets) + 1
        terms: list[Expr] = []
        for jack in range(first, beyond):
            weight = base ** (beyond - 1 - jack)
            for n in self.of_jack[jack]:
                at = place[self.problem.ports[self.problem.ways[n].port].outlets]
                terms.append(weight * (at - base) * self.x[n])
        return _sum(terms) + base ** (beyond - first + 1)

    def _fed(self, way: int) -> FedJack:
        return self.problem.jacks[self.problem.ways[way].jack]

    def _share_of(self, way: Way) -> int:
        """Of each outlet's limit, in parts of the scale; a draw that nobody recorded counts as nothing."""
        port = self.problem.ports[way.port]
        return share_of(self.problem.jacks[way.jack].load_ma, port, self.scale)

    def _list_sockets(self) -> list[Socket]:
        sockets: dict[tuple[str, ...], Socket] = {}
        for connection in self.problem.pinned:
            port = port_of(connection)
            socket = sockets.setdefault(port.outlets, Socket(port.outlets, port.return_key))
            socket.pinned += connection.jacks
            socket.pinned_share += sum(share_of(fed.load_ma, port, self.scale) for fed in connection.jacks)
        for number, way in enumerate(self.problem.ways):
            port = self.problem.ports[way.port]
            socket = sockets.setdefault(port.outlets, Socket(port.outlets, port.return_key))
            socket.ways.append(number)
            socket.is_alternating |= port.is_alternating
        place = {ref: number for number, ref in enumerate(self.problem.present.index.outlets)}
        return sorted(sockets.values(), key=lambda s: (len(s.outlets), [place[ref] for ref in s.outlets]))

    def _add_several(self, socket: Socket) -> cp_model.IntVar | None:
        """True where more than one jack hangs on it; None where that cannot be, as the rules are then added.

        Only jacks that are known to stand it share, none of an AC outlet.
        """
        may = [n for n in socket.ways if self._fed(n).jack.share == "ok"]
        jacks = {self.problem.ways[n].jack for n in may}
        closed = socket.is_alternating or any(fed.jack.share != "ok" for fed in socket.pinned)
        if closed or len(jacks) + len(socket.pinned) < 2:
            most = 0 if socket.pinned else 1
            self.model.add(cp_model.LinearExpr.sum([self.x[n] for n in socket.ways]) <= most)
            return None
        several = self.model.new_bool_var("")
        most = len(jacks) + len(socket.pinned)
        self.model.add(self._hung(socket) <= 1 + (most - 1) * several)
        self.model.add(self._hung(socket) >= 2 * several)
        for n in socket.ways:
            if self._fed(n).jack.share != "ok":
                self.model.add(self.x[n] + several <= 1)
        return several

    def _keep_to_one_setting(self) -> None:
        """An outlet is at one setting, and in one pair or in none."""
        used: dict[str, dict[int, cp_model.IntVar]] = defaultdict(dict)
        ports = {number: port for number, port in enumerate(self.problem.ports)}
        touching: dict[str, list[int]] = defaultdict(list)
        for number, port in ports.items():
            for outlet in port.outlets:
                touching[outlet].append(number)
        active: dict[int, cp_model.IntVar] = {}
        for outlet, numbers in touching.items():
            if len(numbers) > 1:
                for number in numbers:
                    if number not in active:
                        active[number] = self.model.new_bool_var("")
                    used[outlet][number] = active[number]
                self.model.add_at_most_one(used[outlet].values())
        for n, way in enumerate(self.problem.ways):
            if way.port in active:
                self.model.add_implication(self.x[n], active[way.port])

    def _keep_to_limits(self) -> None:
        for socket in self.sockets:
            self.model.add(self._load(socket) <= max(self.scale, socket.pinned_share))
        groups: dict[str, list[tuple[int, int]]] = defaultdict(list)
        supplies: dict[str, list[tuple[int, int]]] = defaultdict(list)
        for n, way in enumerate(self.problem.ways):
            port, load = self.problem.ports[way.port], self._fed(n).load_ma or 0
            for tap in port.taps:
                groups[fold(tap.return_ref)].append((n, load))
                # Twice the power, so that half a load on each of two outlets stays whole.
                drawn = 2 * load if port.joining != "parallel" else load
                supplies[fold(tap.supply.ref)].append((n, drawn * (tap.setting_mv or 0)))
        for name, (limit, pinned) in self._group_limits().items():
            self._limit(groups[name], limit - pinned)
        for name, (limit, pinned) in self._supply_limits().items():
            self._limit(supplies[name], limit - pinned)

    def _limit(self, loads: list[tuple[int, int]], left: int) -> None:
        """What is left of a limit; where it is passed already nothing may be added, not even a load of 0."""
        if left < 0:
            self.model.add(cp_model.LinearExpr.sum([self.x[n] for n, _ in loads]) == 0)
        elif loads:
            over = [n for n, load in loads if load > left]
            fitting = [(n, load) for n, load in loads if load <= left]
            self.model.add(cp_model.LinearExpr.sum([self.x[n] for n in over]) == 0)
            self.model.add(
                cp_model.LinearExpr.weighted_sum([self.x[n] for n, _ in fitting], [load for _, load in fitting])
                <= left
            )

    def _group_limits(self) -> Mapping[str, tuple[int, int]]:
        """Of each group with a limit: that in mA, and what pinned feeds draw."""
        limits: dict[str, int] = {}
        for supply in self.problem.plan.supplies:
            for outlet in supply.outlets:
                if outlet.group is not None and outlet.group_max_ma is not None:
                    name = fold(f"{supply.ref}/{outlet.group}")
                    limits[name] = min(limits.get(name, outlet.group_max_ma), outlet.group_max_ma)
        drawn: dict[str, int] = defaultdict(int)
        for connection in self.problem.pinned:
            load = sum(fed.load_ma or 0 for fed in connection.jacks)
            for name in sorted({fold(tap.return_ref) for tap in connection.taps}):
                drawn[name] += load
        return {name: (limit, drawn[name]) for name, limit in limits.items()}

    def _supply_limits(self) -> Mapping[str, tuple[int, int]]:
        """Of each supply with a limit: twice that in uW, and twice what pinned feeds take."""
        drawn: dict[str, int] = defaultdict(int)
        for connection in self.problem.pinned:
            load = sum(fed.load_ma or 0 for fed in connection.jacks)
            for tap in connection.taps:
                times = 1 if connection.joining == "parallel" else 2
                drawn[fold(tap.supply.ref)] += times * load * (tap.setting_mv or 0)
        return {
            fold(supply.ref): (2000 * supply.limit_mw, drawn[fold(supply.ref)])
            for supply in self.problem.plan.supplies
            if supply.limit_mw is not None
        }

    def _keep_poles_apart(self) -> None:
        """P06: no two of unlike or unknown ground pole on one return where their screens are joined."""
        island = number_joined_units(self.problem.plan)
        today = {
            fold(fed.ref): self.problem.present.return_key(c)
            for c in self.problem.present.connections
            for fed in c.jacks
        }
        for sockets in self._returns().values():
            by_jack: dict[int, list[Expr]] = defaultdict(list)
            for n in (n for socket in sockets for n in socket.ways):
                by_jack[self.problem.ways[n].jack].append(self.x[n])
            here = [(self.problem.jacks[jack], _sum(xs)) for jack, xs in by_jack.items()]
            here += [(fed, 1) for socket in sockets for fed in socket.pinned]
            for (one, on), (other, too) in combinations(here, 2):
                if _poles_clash(one, other, island, today) and not (isinstance(on, int) and isinstance(too, int)):
                    self.model.add(on + too <= 1)

    def _leave_the_uncertain_alone(self) -> None:
        """A jack whose draw is not recorded stays where it is, and nothing new comes to its outlet."""
        for socket in self.sockets:
            uncertain = [n for n in socket.ways if self._fed(n).load_ma is None]
            new = [n for n in socket.ways if not self.problem.ways[n].is_present]
            for n in uncertain:
                for other in new:
                    self.model.add(self.x[n] + self.x[other] <= 1)

    def _count_digital(self, hung: list[int], digital: list[int], pinned: int, fixed: int) -> list[Expr]:
        several = self.model.new_bool_var("")
        on_return = cp_model.LinearExpr.sum([self.x[n] for n in hung]) + pinned
        self.model.add(on_return <= 1 + (len(hung) + pinned) * several)
        terms: list[Expr] = [fixed * several]
        by_jack: dict[int, list[cp_model.IntVar]] = defaultdict(list)
        for n in digital:
            by_jack[self.problem.ways[n].jack].append(self.x[n])
        for xs in by_jack.values():
            counts = self.model.new_bool_var("")
            self.model.add(counts >= cp_model.LinearExpr.sum(xs) + several - 1)
            terms.append(counts)
        return terms

    def _returns(self) -> dict[str, list[Socket]]:
        returns: dict[str, list[Socket]] = defaultdict(list)
        for socket in self.sockets:
            returns[socket.return_key].append(socket)
        return returns

    def _hung(self, socket: Socket) -> Expr:
        return cp_model.LinearExpr.sum([self.x[n] for n in socket.ways]) + len(socket.pinned)

    def _load(self, socket: Socket) -> Expr:
        ways = socket.ways
        own = cp_model.LinearExpr.weighted_sum([self.x[n] for n in ways], [self.shares[n] for n in ways])
        return own + socket.pinned_share

    def _is_used(self, socket: Socket) -> cp_model.IntVar:
        used = self.model.new_bool_var("")
        for n in socket.ways:
            self.model.add_implication(self.x[n], used)
        return used

    def _products(self, socket: Socket, several: cp_model.IntVar) -> Iterable[Expr]:
        """Twice the product of each two shares on one outlet, for the square of their sum."""
        for one, other in combinations(socket.ways, 2):
            ways = self.problem.ways[one], self.problem.ways[other]
            size = 2 * self.shares[one] * self.shares[other]
            if ways[0].jack == ways[1].jack or ways[0].port != ways[1].port or not size:
                continue
            if self.shares[one] + self.shares[other] + socket.pinned_share > max(self.scale, socket.pinned_share):
                continue
            both = self.model.new_bool_var("")
            self.model.add(both >= self.x[one] + self.x[other] - 1)
            yield size * both

    def _volts(self, port: Port) -> int:
        volts = [tap.setting_mv or 0 for tap in port.taps]
        return sum(volts) if port.joining == "series" else max(volts)


def share_of(load_ma: int | None, port: Port, scale: int) -> int:
    """How much of each outlet's limit a load takes, in parts of ``scale``, rounded where it does not divide."""
    limit = port.limit_ma
    if not load_ma or limit is None:
        return 0
    if limit == 0:
        return scale + 1
    return round(load_ma * port.shown * scale / limit)


def _own_adapters(adapters: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(name for name in adapters if name not in ("parallel", "series"))


def _poles_clash(one: FedJack, other: FedJack, island: Mapping[str, int], today: Mapping[str, str]) -> bool:
    poles = {one.jack.ground_pole, other.jack.ground_pole}
    if "floating" in poles or island[fold(one.pedal.ref)] != island[fold(other.pedal.ref)]:
        return False
    if None not in poles:
        return len(poles) > 1
    stays = today.get(fold(one.ref))
    return stays is None or stays != today.get(fold(other.ref))


def _sum(terms: Iterable[Expr]) -> Expr:
    return cp_model.LinearExpr.sum(list(terms)) + 0
