"""The paths of the signal: every way from a source, an amp's send or an unfed pedal to where it ends."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import groupby, islice

from boardshop.core.index import fold, index_plan, split_end
from boardshop.core.order.graph import SignalGraph, Start, Step, iterate_walks, signal_graph
from boardshop.core.order.ranks import slot_of
from boardshop.core.plan import BoardPlan, Link, Pedal

MOST_PATHS = 64
MOST_WALKS = 4_096
"""Limits of this program: parallel branches multiply, and nobody reads more paths than these."""


@dataclass(frozen=True, slots=True)
class SignalPath:
    """One way of the signal.

    ``pedals`` in the order it first meets them; ``links`` in the order it takes them, the leads included;
    ``start`` the jack it comes from (`G1.OUT`, an amp's `A1.SEND`) or None; ``end`` the amp's input or None;
    ``in_loop`` where it comes from an amp's send.  ``acts_after`` tells for each pedal the position of the
    last pedal inside its own loops, its own position where it has none in use.  ``stops`` are the refs in the
    order the signal passes them, a switcher's again each time it comes back from one of its loops.
    """

    pedals: tuple[Pedal, ...]
    links: tuple[Link, ...]
    start: str | None
    end: str | None
    in_loop: bool
    acts_after: tuple[int, ...]
    stops: tuple[str, ...]

    @property
    def refs(self) -> tuple[str, ...]:
        return tuple(pedal.ref for pedal in self.pedals)

    @property
    def slots(self) -> tuple[str, ...]:
        """Each pedal's slot as it is wired on this path.

        A gate with pedals in its own loop listens before and acts after them, and a di left by its through
        jack does not end the chain: neither has a rank then.
        """
        return tuple(self._slot(i, pedal) for i, pedal in enumerate(self.pedals))

    def _slot(self, position: int, pedal: Pedal) -> str:
        if pedal.kind == "noise-gate" and self.acts_after[position] > position:
            return "four-jack gate"
        if pedal.kind == "di" and self._leaves_through(pedal):
            return "di through"
        return slot_of(pedal)

    def _leaves_through(self, pedal: Pedal) -> bool:
        names = [split_end(link.source)[1] for link in self.links if _is_from(link, pedal)]
        return any(name.casefold().startswith(("thru", "through", "link")) for name in names)


def _is_from(link: Link, pedal: Pedal) -> bool:
    return fold(split_end(link.source)[0]) == fold(pedal.ref)


@dataclass(frozen=True, slots=True)
class SignalPaths:
    """``left_off`` are the refs of sources, amps or pedals from which more ways lead than are listed."""

    paths: tuple[SignalPath, ...]
    left_off: tuple[str, ...]


def signal_paths(plan: BoardPlan) -> tuple[SignalPath, ...]:
    """The paths through `signal` links in the plan's order; at most ``MOST_PATHS``, none without a pedal."""
    return trace_paths(plan).paths


@lru_cache(maxsize=32)
def trace_paths(plan: BoardPlan) -> SignalPaths:
    graph, pedals = signal_graph(plan), index_plan(plan).pedals
    found: dict[tuple[str | None, str | None, tuple[str, ...]], SignalPath] = {}
    left_off: list[str] = []
    for start in graph.starts:
        if not _take_paths(pedals, graph, start, found):
            left_off.append(split_end(start.end)[0] if start.end else _first_ref(pedals, start))
    return SignalPaths(tuple(found.values()), tuple(dict.fromkeys(left_off)))


def _take_paths(
    pedals: dict[str, Pedal],
    graph: SignalGraph,
    start: Start,
    found: dict[tuple[str | None, str | None, tuple[str, ...]], SignalPath],
) -> bool:
    """Add the start's paths to ``found``; false where some had to be left off."""
    walks = iterate_walks(graph, start)
    for walk in islice(walks, MOST_WALKS):
        path = _path_of(pedals, start, walk)
        key = (path.start, path.end, path.refs)
        if not path.pedals or key in found:
            continue
        if len(found) == MOST_PATHS:
            return False
        found[key] = path
    return next(walks, None) is None


def _path_of(pedals: dict[str, Pedal], start: Start, walk: Sequence[Step]) -> SignalPath:
    position: dict[str, int] = {}
    acts_after: list[int] = []
    for step in walk:
        if step.stage is not None and step.stage.ref in position:
            acts_after[position[step.stage.ref]] = len(position) - 1
        elif step.stage is not None:
            acts_after.append(len(position))
            position[step.stage.ref] = len(position)
    last = walk[-1]
    stages = [step.stage.ref for step in walk if step.stage is not None]
    return SignalPath(
        pedals=tuple(pedals[ref] for ref in position),
        links=tuple(step.link for step in walk if step.link is not None),
        start=start.end,
        end=last.link.target if last.stage is None and last.link is not None else None,
        in_loop=start.is_send,
        acts_after=tuple(acts_after),
        stops=tuple(pedals[ref].ref for ref, _ in groupby(stages)),
    )


def _first_ref(pedals: dict[str, Pedal], start: Start) -> str:
    stage = start.steps[0].stage
    return pedals[stage.ref].ref if stage is not None else ""
