"""The signal of a board as lanes: a main way, and what branches off it, loops back into it or stands apart.

The main lane goes from the first linked source (where none is, from the first amp's output, unfed pedal or
ring) to the first amp that can be reached without entering a loop, past the most pedals; of equal ways by the
first jack, outputs before sends, then by the first link.  Where no amp is reached it goes on as far as it
can.  Every further lane begins at a jack that no lane has left by, follows the best way in the same sense (in
a loop: back to the return past the most pedals) and ends where it meets a pedal that is in a lane already, a
pedal that it would go back to, or an end.  So each linked pedal and each link is in exactly one lane; a lane
may hold no pedal, as a dry way from a splitter straight to a mixer.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

from boardshop.core.order.lane_joins import (
    Join,
    Value,
    choose_ways,
    find_back_joins,
    find_loop_joins,
    list_joins,
)
from boardshop.core.plan import BoardPlan

type LaneKind = Literal["main", "branch", "loop", "amp loop", "apart"]
type JackAt = tuple[str, str]
"""The ref of a pedal and the name of one of its jacks."""


@dataclass(frozen=True, slots=True)
class Lane:
    """``stops`` are refs in signal order; ``joins`` lead into, between and out of them.

    ``leaves`` and ``returns`` are the jacks of other lanes' pedals (in a ring, of its own) that it hangs on.
    ``start`` and ``end`` are the jacks of an instrument, amp or computer at its ends, '' where there is none:
    without that and without ``leaves`` or ``returns`` the end is open.
    """

    number: int
    kind: LaneKind
    stops: tuple[str, ...]
    joins: tuple[Join, ...]
    leaves: JackAt | None
    returns: JackAt | None
    start: str
    end: str

    @property
    def links(self) -> tuple[str, ...]:
        return tuple(ref for join in self.joins for ref in join.links)


@dataclass(frozen=True, slots=True)
class Lanes:
    """``order`` has the linked pedals so that every join that does not lead back goes forward in it."""

    lanes: tuple[Lane, ...]
    order: tuple[str, ...]
    not_wired: tuple[str, ...]

    @property
    def joins(self) -> Iterator[Join]:
        return (join for lane in self.lanes for join in lane.joins)


@lru_cache(maxsize=32)
def find_lanes(plan: BoardPlan) -> Lanes:
    """The lanes as found: the main lane first, each before those that leave it."""
    return _Walker(plan).walk_all()


class _Walker:
    def __init__(self, plan: BoardPlan) -> None:
        joins = list_joins(plan)
        linked = {ref for j in joins for ref, is_pedal in _parts(j) if is_pedal}
        self.pedals = [pedal.ref for pedal in plan.pedals if pedal.ref in linked]
        self.not_wired = tuple(pedal.ref for pedal in plan.pedals if pedal.ref not in linked)
        fed = {join.target for join in joins}
        self.unfed = [ref for ref in self.pedals if ref not in fed]
        self.sources = [source.ref for source in plan.sources]
        self.outputs = [*(amp.ref for amp in plan.amps), *(one.ref for one in plan.computers)]
        back, self.order = find_back_joins(self._first_met(joins), _by_source(joins))
        loops = find_loop_joins(joins)
        marked = [replace(j, is_back=j.number in back, is_loop=j.number in loops) for j in joins]
        self.joins_of = _by_source(marked)
        self.ends = {ref: len(self.outputs) - at for at, ref in enumerate(self.outputs)}
        self.ways: dict[str | None, dict[str, tuple[Value, Join]]] = {}
        self.taken: set[str] = set()
        self.used: set[int] = set()
        self.lanes: list[Lane] = []

    def walk_all(self) -> Lanes:
        for ref in self.sources:
            self._walk_from(ref)
        for ref in (*self.outputs, *self.unfed, *self.pedals):
            self._walk_from(ref)
        return Lanes(tuple(self.lanes), tuple(self.order), self.not_wired)

    def _first_met(self, joins: Iterable[Join]) -> list[str]:
        """Where the walk for rings begins: fed by sources, unfed, fed by amps, then all others."""
        fed_by: dict[str, list[str]] = {}
        for join in joins:
            if join.to_pedal and not join.from_pedal:
                fed_by.setdefault(join.source, []).append(join.target)
        at_sources = [ref for source in self.sources for ref in fed_by.get(source, ())]
        at_outputs = [ref for part in self.outputs for ref in fed_by.get(part, ())]
        return [*at_sources, *self.unfed, *at_outputs, *self.pedals]

    def _walk_from(self, ref: str) -> None:
        """The lanes that begin at a source, an amp or a pedal in no lane yet, and all that leave them."""
        begun = len(self.lanes)
        if ref in self.taken:
            return
        if ref in self.pedals:
            self._walk(None, ref)
        else:
            first = sorted(self.joins_of.get(ref, ()), key=self._rank)
            for join in first:
                self._walk(join, "")
        while begun < len(self.lanes):
            for stop in self.lanes[begun].stops:
                for join in self.joins_of.get(stop, ()):
                    if join.number not in self.used:
                        self._walk(join, "")
            begun += 1

    def _rank(self, join: Join) -> tuple[int, int, int]:
        """The best of a source's ways first, if it leads to several."""
        if not join.to_pedal:
            return -self.ends.get(join.target, 0), 0, join.number
        way = self._ways_to(None).get(join.target)
        leads_to, pedals = way[0] if way else (-1, 0)
        return -leads_to, -pedals, join.number

    def _walk(self, join: Join | None, first: str) -> None:
        goal = join.source if join is not None and join.is_loop else None
        stops, joins = ([first], []) if join is None else ([], [join])
        self.taken.update(stops)
        if join is None:
            join = self._way_on(first, goal)
            joins += [join] if join else []
        while join is not None and join.to_pedal and not join.is_back and join.target not in self.taken:
            stops.append(join.target)
            self.taken.add(join.target)
            join = self._way_on(join.target, goal)
            joins += [join] if join else []
        self.used.update(one.number for one in joins)
        self._keep(stops, joins, first)

    def _way_on(self, ref: str, goal: str | None) -> Join | None:
        way = self._ways_to(goal).get(ref) or self._ways_to(None).get(ref)
        return way[1] if way else None

    def _ways_to(self, goal: str | None) -> dict[str, tuple[Value, Join]]:
        if goal not in self.ways:
            self.ways[goal] = choose_ways(self.order, self.joins_of, self.ends, goal)
        return self.ways[goal]

    def _keep(self, stops: list[str], joins: list[Join], first: str) -> None:
        """``first`` is the pedal that it begins with, '' where it begins with a join."""
        leads_in = joins[0] if joins and not first else None
        # Of the joins, all but the lead in and one more stand between two stops.
        leads_out = joins[-1] if len(joins) > len(stops) - (1 if first else 0) else None
        lane = Lane(
            number=len(self.lanes) + 1,
            kind="main",
            stops=tuple(stops),
            joins=tuple(joins),
            leaves=(leads_in.source, leads_in.out) if leads_in and leads_in.from_pedal else None,
            returns=(leads_out.target, leads_out.into) if leads_out and leads_out.to_pedal else None,
            start=leads_in.start if leads_in else "",
            end=leads_out.end if leads_out else "",
        )
        self.lanes.append(replace(lane, kind=self._kind(lane)) if self.lanes else lane)

    def _kind(self, lane: Lane) -> LaneKind:
        if lane.start and lane.joins[0].source not in self.sources:
            return "amp loop"
        if lane.leaves and lane.returns and lane.leaves[0] == lane.returns[0]:
            if lane.joins[0].from_send and lane.joins[-1].to_return:
                return "loop"
            return "branch"
        hangs = lane.leaves or (lane.returns and lane.returns[0] not in lane.stops)
        return "branch" if hangs else "apart"


def _by_source(joins: Iterable[Join]) -> dict[str, list[Join]]:
    grouped: dict[str, list[Join]] = {}
    for join in joins:
        grouped.setdefault(join.source, []).append(join)
    return grouped


def _parts(join: Join) -> tuple[tuple[str, bool], tuple[str, bool]]:
    return (join.source, join.from_pedal), (join.target, join.to_pedal)
