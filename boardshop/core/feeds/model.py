"""The choice of feeds as a model for OR-Tools CP-SAT: which ways may be taken together.

A share of a limit is counted in whole parts of `FeedsModel.scale`, of which every limit is a divisor.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping
from itertools import combinations

from ortools.sat.python import cp_model

from boardshop.core.feeds.ports import common_scale
from boardshop.core.feeds.problem import FeedsProblem
from boardshop.core.feeds.sockets import (
    Budget,
    Socket,
    list_group_budgets,
    list_sockets,
    list_supply_budgets,
    share_of,
)
from boardshop.core.index import fold
from boardshop.core.power.connections import FedJack
from boardshop.core.power.goals import JOINING
from boardshop.core.screens import number_joined_units

MOST_SCALE = 10**8
"""Finer shares of limits than this part are rounded; limits as they are printed on supplies need far less."""

type Expr = cp_model.LinearExpr
type Terms = list[cp_model.LinearExprT]


class FeedsModel:
    """A variable for each way, and the rules that hold whatever is aimed at."""

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
        self.shares = [
            share_of(problem.jacks[way.jack].load_ma, problem.ports[way.port], self.scale)
            for way in problem.ways
        ]
        self.sockets = list_sockets(problem, self.scale)
        self.several = [self._add_several(socket) for socket in self.sockets]
        self.in_use: dict[int, cp_model.IntVar] = {}
        """By the port's number, of all that rule another out and of those that need an adapter to join."""
        self._keep_to_one_setting()
        self._keep_to_the_drawer()
        self._keep_to_limits()
        self._keep_poles_apart()
        self._leave_the_uncertain_alone()

    def fed(self, way: int) -> FedJack:
        return self.problem.jacks[self.problem.ways[way].jack]

    def count(self, ways: Iterable[int]) -> Expr:
        """How many of these ways are taken."""
        return cp_model.LinearExpr.sum([self.x[n] for n in ways])

    def hung(self, socket: Socket) -> Expr:
        """How many jacks hang on it."""
        return self.count(socket.ways) + len(socket.pinned)

    def load(self, socket: Socket) -> Expr:
        """In parts of the scale."""
        ways = socket.ways
        own = cp_model.LinearExpr.weighted_sum([self.x[n] for n in ways], [self.shares[n] for n in ways])
        return own + socket.pinned_share

    def most_share(self, socket: Socket) -> int:
        """The limit; what pinned feeds take, where that is more already."""
        return max(self.scale, socket.pinned_share)

    def list_joined_in_use(self, *kinds: str) -> list[cp_model.IntVar]:
        """Whether each joined port is used, of these kinds or of all."""
        ports = enumerate(self.problem.ports)
        return [self.in_use[number] for number, port in ports if port.joining in (kinds or JOINING)]

    def list_returns(self) -> list[list[Socket]]:
        returns: dict[str, list[Socket]] = defaultdict(list)
        for socket in self.sockets:
            returns[socket.return_key].append(socket)
        return list(returns.values())

    def _add_several(self, socket: Socket) -> cp_model.IntVar | None:
        """True where more than one jack hangs on it; None where that cannot be.

        Only jacks that are known to stand it share, none of an AC outlet.
        """
        may = {self.problem.ways[n].jack for n in socket.ways if self.fed(n).jack.share == "ok"}
        closed = socket.is_alternating or any(fed.jack.share != "ok" for fed in socket.pinned)
        most = len(may) + len(socket.pinned)
        if closed or most < 2:
            self.model.add(self.count(socket.ways) <= (0 if socket.pinned else 1))
            return None
        several = self.model.new_bool_var("")
        self.model.add(self.hung(socket) <= 1 + (most - 1) * several)
        self.model.add(self.hung(socket) >= 2 * several)
        for n in socket.ways:
            if self.fed(n).jack.share != "ok":
                self.model.add(self.x[n] + several <= 1)
        return several

    def _keep_to_one_setting(self) -> None:
        """An outlet is at one setting, and in one pair or in none."""
        touching: dict[str, list[int]] = defaultdict(list)
        for number, port in enumerate(self.problem.ports):
            for outlet in port.outlets:
                touching[outlet].append(number)
        joined = [number for number, port in enumerate(self.problem.ports) if port.joining != "single"]
        several = [numbers for numbers in touching.values() if len(numbers) > 1]
        for number in (*joined, *(number for numbers in several for number in numbers)):
            if number not in self.in_use:
                self.in_use[number] = self.model.new_bool_var("")
        for numbers in several:
            self.model.add_at_most_one(self.in_use[number] for number in numbers)
        for n, way in enumerate(self.problem.ways):
            if way.port in self.in_use:
                self.model.add_implication(self.x[n], self.in_use[way.port])

    def _keep_to_the_drawer(self) -> None:
        for kind, count in (self.problem.at_hand or {}).items():
            own = [
                n for n, way in enumerate(self.problem.ways) if kind in way.adapters and kind not in JOINING
            ]
            joined = self.list_joined_in_use(kind)
            if own or joined:
                self.model.add(self.count(own) + cp_model.LinearExpr.sum(joined) <= count)

    def _keep_to_limits(self) -> None:
        for socket in self.sockets:
            self.model.add(self.load(socket) <= self.most_share(socket))
            if socket.pinned_share > self.scale:
                self.model.add(self.count(socket.ways) == 0)
        for budget in (*list_group_budgets(self.problem), *list_supply_budgets(self.problem)):
            self._keep_to(budget)

    def _keep_to(self, budget: Budget) -> None:
        """Where a limit is passed already, nothing may be added, not even a load of 0."""
        fitting = [(n, load) for n, load in budget.loads if load <= budget.left]
        over = [n for n, load in budget.loads if load > budget.left]
        self.model.add(self.count(over) == 0)
        if fitting:
            chosen, loads = zip(*fitting, strict=True)
            sum_of = cp_model.LinearExpr.weighted_sum([self.x[n] for n in chosen], loads)
            self.model.add(sum_of <= budget.left)

    def _keep_poles_apart(self) -> None:
        """P06: no two of unlike or unknown ground pole on one return where their screens are joined."""
        island = number_joined_units(self.problem.plan)
        present = self.problem.present
        today = {fold(fed.ref): present.return_key(c) for c in present.connections for fed in c.jacks}
        for sockets in self.list_returns():
            by_jack: dict[int, list[int]] = defaultdict(list)
            for n in (n for socket in sockets for n in socket.ways):
                by_jack[self.problem.ways[n].jack].append(n)
            free = [(self.problem.jacks[jack], self.count(ways)) for jack, ways in by_jack.items()]
            for (one, on), (other, too) in combinations(free, 2):
                if _do_poles_clash(one, other, island, today):
                    self.model.add(on + too <= 1)
            pinned = [fed for socket in sockets for fed in socket.pinned]
            for one, on in free:
                if any(_do_poles_clash(one, other, island, today) for other in pinned):
                    self.model.add(on == 0)

    def _leave_the_uncertain_alone(self) -> None:
        """A jack whose draw is not recorded stays where it is, and nothing new comes to its outlet."""
        for socket in self.sockets:
            uncertain = [n for n in socket.ways if self.fed(n).load_ma is None]
            new = [n for n in socket.ways if not self.problem.ways[n].is_present]
            for n in uncertain:
                for other in new:
                    self.model.add(self.x[n] + self.x[other] <= 1)


def _do_poles_clash(
    one: FedJack, other: FedJack, island: Mapping[str, int], today: Mapping[str, str]
) -> bool:
    """An unknown pole clashes with any that is not floating, unless both are on this return today."""
    poles = {one.jack.ground_pole, other.jack.ground_pole}
    if "floating" in poles or island[fold(one.pedal.ref)] != island[fold(other.pedal.ref)]:
        return False
    if None not in poles:
        return len(poles) > 1
    stays = today.get(fold(one.ref))
    return stays is None or stays != today.get(fold(other.ref))
