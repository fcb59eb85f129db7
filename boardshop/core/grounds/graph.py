"""The grounds of a board as a graph: which units' metalwork is joined with which, and by what.

Nodes are every pedal, amp, instrument and computer, every isolated outlet, every group, and earth.
Edges are links with joined screens, the return of every fed jack, and the earth of earthed amps, of
computers and of the groups of earthed class I supplies.  An edge to earth is never a thing to open.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from boardshop.core.index import PlanIndex, SignalPart, fold, index_plan, split_end
from boardshop.core.loops import count_loops
from boardshop.core.plan import Amp, BoardPlan, Link, Supply
from boardshop.core.power.connections import find_power_jack, return_of
from boardshop.core.power.wording import say_list
from boardshop.core.screens import joins_screen, what_it_carries

EARTH = "earth"

KEEP_FIRST = ("earth", "signal", "lead", "return", "control", "midi", "usb")
"""Which joins are kept before others when loops are opened: common practice.

An isolator or an isolated outlet takes a USB, MIDI, control or return join away without touching the sound,
and a transformer that of an amp's lead; inside the board the signal needs its screen.
"""

NEVER_LIFT = "A protective earth is never lifted, cut, taped over or adapted away."
"""IEC 61140: basic insulation and the earthed metal are a class I unit's two measures against shock."""


@dataclass(frozen=True, slots=True)
class Join:
    """One edge: a link (``W7``), the return of a fed jack (``P4.DC``) or the earth of a unit (``A1``)."""

    ref: str
    sort: str
    """A word of `KEEP_FIRST`; `lead` is a signal link to or from an amp."""
    one: str
    other: str


@dataclass(frozen=True, slots=True)
class GroundGraph:
    nodes: tuple[str, ...]
    """The last one is earth."""
    joins: tuple[Join, ...]

    @property
    def edges(self) -> tuple[tuple[str, str], ...]:
        return tuple((join.one, join.other) for join in self.joins)

    @property
    def loops(self) -> int:
        return count_loops(self.edges)

    @property
    def joined(self) -> int:
        """How many nodes anything is joined to: the others close no loop and count as a part each."""
        return len({node for join in self.joins for node in (join.one, join.other)})

    @property
    def parts(self) -> int:
        """Into how many connected parts the joined nodes fall."""
        return self.loops - len(self.joins) + self.joined

    def without(self, opened: Iterable[str]) -> "GroundGraph":
        """The same with these joins (by ref) open; a ref that is none of its joins opens nothing."""
        names = {fold(ref) for ref in opened}
        return GroundGraph(self.nodes, tuple(join for join in self.joins if fold(join.ref) not in names))

    def list_looped(self) -> tuple[Join, ...]:
        """The joins that lie on a loop: opening one of them leaves a loop fewer."""
        return tuple(join for join in self.joins if self.without((join.ref,)).loops < self.loops)


@dataclass(frozen=True, slots=True)
class Recount:
    """What opening some joins would leave, every protective earth left where it is.

    ``refused`` says why opening one is no cure at all, and ``falls_to`` what the number would fall to.
    """

    loops: int
    refused: str | None = None
    falls_to: int | None = None


def map_grounds(plan: BoardPlan) -> GroundGraph:
    """The plan's grounds as nodes and joins, both in the plan's order."""
    index = index_plan(plan)
    groups: tuple[tuple[SignalPart, ...], ...] = (plan.pedals, plan.amps, plan.sources, plan.computers)
    units = [part.ref for group in groups for part in group]
    earth = f"{EARTH}/" if EARTH in map(fold, units) else EARTH  # a unit may bear that name
    returns = {
        fold(return_of(supply, outlet)): return_of(supply, outlet)
        for supply in plan.supplies
        for outlet in supply.outlets
    }
    joins = (
        *(_join_of(index, link) for link in plan.links if joins_screen(index, link)),
        *_list_returns(plan, index, returns),
        *_list_earths(plan, returns, earth),
    )
    return GroundGraph((*units, *returns.values(), earth), joins)


def recount_without(graph: GroundGraph, opened: Iterable[str]) -> Recount:
    """The loops left when these joins are opened (by ref); opening an earth is refused whatever it counts."""
    names = {fold(ref) for ref in opened}
    earths = [join.ref for join in graph.joins if join.sort == "earth" and fold(join.ref) in names]
    loops = graph.without(names - {fold(ref) for ref in earths}).loops
    if not earths:
        return Recount(loops)
    falls_to = graph.without(names).loops
    falls = f"though the count would fall to {falls_to}" if falls_to < loops else "and opens no loop either"
    return Recount(
        loops,
        f"Stop: lifting the protective earth of {say_list(tuple(earths))} is no cure, {falls}. "
        "A fault then makes its metal live, and whoever touches it and an earthed thing is the way to earth. "
        f"{NEVER_LIFT}",
        falls_to,
    )


def _join_of(index: PlanIndex, link: Link) -> Join:
    ends = [index.signal_parts[fold(split_end(end)[0])] for end in (link.source, link.target)]
    carries = what_it_carries(index, link)
    at_amp = any(isinstance(part, Amp) for part in ends)
    sort = "lead" if carries == "signal" and at_amp else carries
    return Join(link.ref, sort, ends[0].ref, ends[1].ref)


def _list_returns(plan: BoardPlan, index: PlanIndex, returns: dict[str, str]) -> Iterable[Join]:
    for feed in plan.feeds:
        for end in feed.jacks if feed.outlets else ():
            fed = find_power_jack(index, end)
            node = returns[fold(return_of(*index.outlets[fold(feed.outlets[0])]))]
            yield Join(fed.ref, "return", fed.pedal.ref, node)


def _list_earths(plan: BoardPlan, returns: dict[str, str], earth: str) -> Iterable[Join]:
    units = [(amp.ref, amp.earthed) for amp in plan.amps] + [(c.ref, c.earthed) for c in plan.computers]
    for ref, earthed in units:
        if earthed:
            yield Join(ref, "earth", ref, earth)
    for supply in plan.supplies:
        if supply.protection_class == "I" and supply.earthed:
            for group in _list_group_nodes(supply, returns):
                yield Join(group, "earth", group, earth)


def _list_group_nodes(supply: Supply, returns: dict[str, str]) -> tuple[str, ...]:
    grouped = (outlet for outlet in supply.outlets if outlet.group is not None)
    return tuple(dict.fromkeys(returns[fold(return_of(supply, outlet))] for outlet in grouped))
