"""Ground loops: which units' grounds are joined how often, and what opens the loops.

Nodes are every pedal, amp, instrument and computer, every isolated outlet, every group, and earth.
Edges are links with joined screens, the return of every fed jack, and the earth of earthed amps, of
computers and of the groups of earthed class I supplies.  An edge to earth is never a thing to break.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from boardshop.core.findings import Finding, sort_findings
from boardshop.core.index import PlanIndex, SignalPart, fold, index_plan, split_end
from boardshop.core.loops import Loop, count_loops, list_breaks, list_loops
from boardshop.core.naming import called
from boardshop.core.plan import Amp, BoardPlan, Computer, Link, Pedal, Supply
from boardshop.core.power.connections import find_power_jack, return_of
from boardshop.core.power.mains import judge_protective_earth
from boardshop.core.power.rules import COMMON
from boardshop.core.screens import joins_screen

EARTH = "earth"

KEEP_FIRST = ("earth", "signal", "lead", "return", "control", "midi", "usb")
"""Which joins are kept before others when loops are opened: common practice.

An isolator or an isolated outlet takes a USB, MIDI, control or return join away without touching the sound,
and a transformer that of an amp's lead; inside the board the signal needs its screen.
"""


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


@dataclass(frozen=True, slots=True)
class GroundsSection:
    loops: int
    cycle_basis: tuple[tuple[str, ...], ...]
    """Each loop by its nodes in turn."""
    breaks: tuple[str, ...]
    """Links to isolate and jacks to feed from an isolated outlet; the fewest that leave no loop."""
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Recount:
    """What opening some joins would leave; ``refused`` says why it is no cure at all."""

    loops: int
    refused: str | None = None


def compute_grounds(plan: BoardPlan) -> GroundsSection:
    """The ground loops of the plan as it is wired and fed."""
    graph = map_grounds(plan)
    loops = list_loops(graph.nodes, graph.edges)
    index = index_plan(plan)
    ranks = [KEEP_FIRST.index(join.sort) for join in graph.joins]
    findings = [
        *(_judge_loop(index, graph, loop) for loop in loops),
        *_judge_earths(plan),
    ]
    return GroundsSection(
        loops=graph.loops,
        cycle_basis=tuple(loop.nodes for loop in loops),
        breaks=tuple(graph.joins[number].ref for number in list_breaks(graph.edges, ranks)),
        findings=sort_findings(findings),
    )


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
    kept = tuple(join for join in graph.joins if fold(join.ref) not in names)
    lifted = tuple(join.ref for join in graph.joins if join.sort == "earth" and fold(join.ref) in names)
    loops = GroundGraph(graph.nodes, kept).loops
    if not lifted:
        return Recount(loops)
    return Recount(
        graph.loops,
        f"Lifting the protective earth of {' and '.join(lifted)} is no cure: "
        "a fault then makes its metal live.",
    )


def _join_of(index: PlanIndex, link: Link) -> Join:
    ends = [index.signal_parts[fold(split_end(end)[0])] for end in (link.source, link.target)]
    at_amp = any(isinstance(part, Amp) for part in ends)
    sort = "lead" if link.carries == "signal" and at_amp else link.carries
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


def _judge_loop(index: PlanIndex, graph: GroundGraph, loop: Loop) -> Finding:
    joins = [graph.joins[number] for number in loop.edges]
    sort, why, cure = _classify(index, loop, joins)
    small = sort == "patch loop"
    named = " to ".join(called(index, node) for node in (*loop.nodes, loop.nodes[0]))
    through = ", ".join(dict.fromkeys(join.ref for join in joins))
    return Finding(
        rule="G01",
        severity="advice" if small else "caution",
        subjects=tuple(node for node in loop.nodes if node != graph.nodes[-1]),
        message=f"Ground loop, a {sort}: {named} (through {through}). {why}",
        cure=cure,
        basis="calculation (cyclomatic number); cures common practice",
    )


NEVER_LIFT = "Never lift a protective earth for it."


def _classify(index: PlanIndex, loop: Loop, joins: list[Join]) -> tuple[str, str, str]:
    """What sort of loop it is, why it matters and what opens it."""
    pedals_only = all(fold(node) in index.pedals for node in loop.nodes)
    if pedals_only and len(loop.nodes) < 3:
        return (
            "patch loop",
            "It is small, and silent where its leads lie together.",
            "Loom its leads together; if it hums, isolate one screen at one end.",
        )
    sorts = {join.sort for join in joins}
    if any(isinstance(index.signal_parts.get(fold(node)), Computer) for node in loop.nodes):
        return (
            "computer loop",
            "The computer's clock noise runs through the audio ground and is heard as a whine.",
            f"Put an isolator in the USB lead, or use DIN MIDI. {NEVER_LIFT}",
        )
    if "earth" in sorts:
        return (
            "loop through the protective earth",
            "Earth currents of two mains units run through the audio screen and hum: the worst of loops.",
            f"Use one distribution for both, and a transformer-isolated output to one amp. {NEVER_LIFT}",
        )
    if "return" in sorts:
        return (
            "loop through a shared supply return",
            "Supply currents run through the audio screens and are heard as hum or whine.",
            "Feed the noisier pedal from an isolated outlet of its own.",
        )
    return (
        "loop of screens",
        "It picks up mains hum from the area it encloses.",
        "Lay its leads close together; if it hums, isolate one screen at one end.",
    )


def _judge_earths(plan: BoardPlan) -> Iterable[Finding]:
    units: list[tuple[str, str | None, bool | None]] = []
    units += [(amp.ref, amp.protection_class, amp.earthed) for amp in plan.amps]
    units += [(supply.ref, supply.protection_class, supply.earthed) for supply in plan.supplies]
    for unit in units:
        # what is not known of a supply's earth is asked for once, with the other power findings
        yield from (found for found in judge_protective_earth(*unit) if found.severity == "danger")
    for computer in plan.computers:
        if computer.earthed is None and _is_linked(plan, computer):
            yield Finding(
                rule="G02",
                severity="unknown",
                subjects=(computer.ref,),
                message=f"Not recorded: whether {computer.ref} is joined to earth. "
                "The loops are counted as if it were not.",
                cure="Look at its power unit: a third pin joins it to earth.",
                basis=COMMON,
            )


def _is_linked(plan: BoardPlan, part: Pedal | Computer) -> bool:
    ends = (end for link in plan.links for end in (link.source, link.target))
    return any(fold(split_end(end)[0]) == fold(part.ref) for end in ends)
