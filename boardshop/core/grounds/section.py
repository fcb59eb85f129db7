"""Ground loops of a board: how many, where they run, the fewest breaks, and earths that are missing."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from boardshop.core.findings import Finding, sort_findings
from boardshop.core.grounds.graph import KEEP_FIRST, NEVER_LIFT, GroundGraph, Join, map_grounds
from boardshop.core.index import PlanIndex, fold, index_plan, split_end
from boardshop.core.loops import Loop, list_breaks, list_loops
from boardshop.core.naming import called
from boardshop.core.plan import BoardPlan, Computer, Pedal
from boardshop.core.power.mains import judge_protective_earth
from boardshop.core.power.rules import COMMON

PATCH_LOOP = "patch loop"
"""What a loop of links between two pedals, or of one from a pedal to itself, is called."""


@dataclass(frozen=True, slots=True)
class GroundsSection:
    loops: int
    cycle_basis: tuple[tuple[str, ...], ...]
    """Each loop by its nodes in turn."""
    breaks: tuple[str, ...]
    """Links to isolate and jacks to feed from an isolated outlet; the fewest that leave no loop."""
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class RunningLoop:
    """One loop of the basis: what it is called, what sort it is, and where it runs."""

    letter: str
    """`A` for the first, `AA` for the 27th."""
    sort: str
    loop: Loop
    joins: tuple[Join, ...]
    """What leads from each node to the next."""
    why: str
    cure: str

    @property
    def is_small(self) -> bool:
        return self.sort == PATCH_LOOP


def compute_grounds(plan: BoardPlan) -> GroundsSection:
    """The ground loops of the plan as it is wired and fed."""
    graph = map_grounds(plan)
    index = index_plan(plan)
    running = trace_loops(plan, graph)
    ranks = [KEEP_FIRST.index(join.sort) for join in graph.joins]
    findings = [*(_judge_loop(index, graph, one) for one in running), *_judge_earths(plan)]
    return GroundsSection(
        loops=graph.loops,
        cycle_basis=tuple(one.loop.nodes for one in running),
        breaks=tuple(graph.joins[number].ref for number in list_breaks(graph.edges, ranks)),
        findings=sort_findings(findings),
    )


def trace_loops(plan: BoardPlan, graph: GroundGraph) -> tuple[RunningLoop, ...]:
    """The loops of this graph of the plan's grounds, or of a part of it, lettered in their order."""
    index = index_plan(plan)
    found: list[RunningLoop] = []
    for number, loop in enumerate(list_loops(graph.nodes, graph.edges)):
        joins = tuple(graph.joins[edge] for edge in loop.edges)
        sort, why, cure = _classify(index, loop, joins)
        found.append(RunningLoop(letter_of(number), sort, loop, joins, why, cure))
    return tuple(found)


def list_untold_earths(plan: BoardPlan) -> tuple[str, ...]:
    """Units that may be joined to earth without anybody having recorded it; they count as not joined.

    Amps, computers with a link, and supplies with a group whose class I or II is not recorded either.
    """
    supplies = (
        supply.ref
        for supply in plan.supplies
        if any(outlet.group is not None for outlet in supply.outlets)
        and (supply.protection_class is None or (supply.protection_class == "I" and supply.earthed is None))
    )
    computers = (one.ref for one in plan.computers if one.earthed is None and _is_linked(plan, one))
    amps = (one.ref for one in plan.amps if one.earthed is None and one.protection_class != "II")
    return (*amps, *computers, *supplies)


def letter_of(number: int) -> str:
    """0 is A, 25 Z, 26 AA."""
    letters = ""
    while number >= 0:
        number, last = divmod(number, 26)
        letters, number = chr(ord("A") + last) + letters, number - 1
    return letters


def say_way(index: PlanIndex, loop: Loop) -> str:
    """Once around: `Low Ember (P1) to Fen (P2) to S1/A to Low Ember (P1)`."""
    return " to ".join(called(index, node) for node in (*loop.nodes, loop.nodes[0]))


def _judge_loop(index: PlanIndex, graph: GroundGraph, one: RunningLoop) -> Finding:
    through = ", ".join(dict.fromkeys(join.ref for join in one.joins))
    return Finding(
        rule="G01",
        severity="advice" if one.is_small else "caution",
        subjects=tuple(node for node in one.loop.nodes if node != graph.nodes[-1]),
        message=f"Ground loop, a {one.sort}: {say_way(index, one.loop)} (through {through}). {one.why}",
        cure=one.cure,
        basis="calculation (cyclomatic number); cures common practice",
    )


def _classify(index: PlanIndex, loop: Loop, joins: Sequence[Join]) -> tuple[str, str, str]:
    """What sort of loop it is, why it matters and what opens it."""
    pedals_only = all(fold(node) in index.pedals for node in loop.nodes)
    if pedals_only and len(loop.nodes) < 3:
        return (
            PATCH_LOOP,
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
