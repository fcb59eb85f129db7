"""A line of the signal as it is wired: where it starts and ends, and which jacks and links it takes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from boardshop.boards.errors import CannotPass, InputHeld, NoLoopLeft, OnAnotherLine
from boardshop.boards.services.directory import Directory
from boardshop.core.index import fold, index_plan, split_end
from boardshop.core.order import list_chains, list_loops, signal_links
from boardshop.core.order.paths import SignalPath
from boardshop.core.plan import SOURCE_JACK_NAME, BoardPlan, Link

type Join = tuple[str, str]
"""From one jack to another, as the plan spells them."""


@dataclass(frozen=True)
class Line:
    """The jacks at both ends; by folded ref those that each pedal uses; and the links it is made of.

    Of a pedal that the signal passes more than once `inputs` has the jack of its first arrival, `outputs`
    that of its last leaving, and `loops` the pedals that stand in each of its loops, by the send's jack.
    `between` holds the links from one pedal to another by both their folded refs.
    """

    start: str | None
    end: str | None
    inputs: dict[str, str]
    outputs: dict[str, str]
    links: tuple[Link, ...]
    between: dict[Join, Link]
    loops: dict[str, dict[str, tuple[str, ...]]]

    def side_of(self, join: Join) -> str:
        """Which end of the line a join hangs on; leads keep their cable whatever they are plugged into."""
        if join[0] == self.start:
            return "start"
        return "end" if join[1] == self.end else ""


def line_to_wire(plan: BoardPlan, path: SignalPath | None, refs: Sequence[str], directory: Directory) -> Line:
    """The path with the other ones that the named pedals stand on, as one line.

    Where the path has no start or no end, the first of the others that has one gives its own.  Raises
    OnAnotherLine where such a path has pedals that are not named.
    """
    others = _other_paths(plan, path, refs)
    parts = [line_of(each) for each in ([path] if path else []) + others]
    start = next((part.start for part in parts if part.start), None)
    end = next((part.end for part in parts if part.end), None)
    if start is None and end is None:
        start, end = _outer_ends(plan, directory, is_first=path is None)
    links = {link.ref: link for part in parts for link in part.links}
    return Line(
        start,
        end,
        inputs=_first_of(part.inputs for part in parts),
        outputs=_first_of(part.outputs for part in parts),
        links=tuple(links.values()),
        between=_first_of([*(part.between for part in parts), _straight_links(plan)]),
        loops=_first_of(part.loops for part in parts),
    )


def line_of(path: SignalPath) -> Line:
    inputs: dict[str, str] = {}
    outputs: dict[str, str] = {}
    between: dict[Join, Link] = {}
    loops: dict[str, dict[str, tuple[str, ...]]] = {}
    met: list[str] = []
    for link in path.links:
        start, end = _refs_of(link)
        if end in inputs:
            inside = tuple(met[len(met) - met[::-1].index(end) :])
            loops.setdefault(end, {})[fold(outputs[end])] = inside
        inputs.setdefault(end, link.target)
        outputs[start], between[start, end] = link.source, link
        met.append(end)
    return Line(path.start, path.end, inputs, outputs, path.links, between, loops)


def list_joins(plan: BoardPlan, line: Line, refs: Sequence[str]) -> list[Join]:
    """From jack to jack along the sequence; neighbours that are linked keep that link's jacks."""
    passes = _passes(plan, line, refs)
    passed_again = {*line.loops, *(fold(refs[place]) for place, _ in passes)}
    joins = [(line.start, _entry(plan, line, refs[0]))] if line.start else []
    for place, (one, other) in enumerate(pairwise(refs)):
        link = line.between.get((fold(one), fold(other)))
        if link is not None and not {fold(one), fold(other)} & passed_again:
            joins.append((link.source, link.target))
        else:
            leaves, arrives = passes.get((place, "out")), passes.get((place + 1, "in"))
            joins.append((leaves or _exit(plan, line, one), arrives or _entry(plan, line, other)))
    return joins + ([(_exit(plan, line, refs[-1]), line.end)] if line.end else [])


def _passes(plan: BoardPlan, line: Line, refs: Sequence[str]) -> dict[tuple[int, str], str]:
    """By place in the sequence and side, the jacks of the pedals that it passes more than once."""
    places: dict[str, list[int]] = {}
    for place, ref in enumerate(refs):
        places.setdefault(fold(ref), []).append(place)
    found: dict[tuple[int, str], str] = {}
    for ref, at in places.items():
        if len(at) == 1:
            continue
        inside = [[fold(each) for each in refs[one + 1 : other]] for one, other in pairwise(at)]
        loops = choose_loops(_free_loops(plan, line, ref), line.loops.get(ref, {}), inside)
        if loops is None:
            count = len(_free_loops(plan, line, ref))
            raise NoLoopLeft(ref=refs[at[0]], times=len(at), needed=len(inside), count=count)
        found[at[0], "in"], found[at[-1], "out"] = _entry(plan, line, ref), _exit(plan, line, ref)
        for (one, other), (send, back) in zip(pairwise(at), loops, strict=True):
            found[one, "out"], found[other, "in"] = send, back
    return found


def choose_loops(
    loops: Sequence[Join], held: Mapping[str, Sequence[str]], inside: Sequence[Sequence[str]]
) -> list[Join] | None:
    """One loop for each group of pedals, in the order the signal takes them; None where they do not suffice.

    As many pedals as can be stay in the loop in which they are `held`; of equal choices the first loops.
    """
    best: dict[int, tuple[int, list[Join]]] = {0: (0, [])}
    for loop in loops:
        there = set(held.get(fold(loop[0]), ()))
        for taken in sorted(best, reverse=True):
            if taken == len(inside):
                continue
            score = best[taken][0] + len(there.intersection(inside[taken]))
            if taken + 1 not in best or score > best[taken + 1][0]:
                best[taken + 1] = (score, [*best[taken][1], loop])
    return best[len(inside)][1] if len(inside) in best else None


def _free_loops(plan: BoardPlan, line: Line, ref: str) -> tuple[Join, ...]:
    """The loops that this line takes, or that nothing is plugged into."""
    own = {fold(end) for link in line.links for end in (link.source, link.target)}
    used = {fold(end) for link in signal_links(plan) for end in (link.source, link.target)}
    loops = list_loops(index_plan(plan).pedals[ref])
    ends = {fold(line.start or ""), fold(line.end or ""), fold(line.inputs.get(ref, ""))}
    ends.add(fold(line.outputs.get(ref, "")))
    return tuple(
        (send, back)
        for send, back in loops
        if not ends & {fold(send), fold(back)} and not {fold(send), fold(back)} & (used - own)
    )


def _entry(plan: BoardPlan, line: Line, ref: str) -> str:
    return _jack(plan, ref, "in", line.inputs)


def _exit(plan: BoardPlan, line: Line, ref: str) -> str:
    return _jack(plan, ref, "out", line.outputs)


def links_in_the_way(plan: BoardPlan, line: Line, refs: Sequence[str], joins: Sequence[Join]) -> list[Link]:
    """The links beside the line in inputs that the joins need, since one input takes one plug.

    Raises InputHeld for one that comes from something that is not named.
    """
    own, wanted = {link.ref for link in line.links}, {fold(join[1]): join for join in joins}
    named = {fold(ref) for ref in refs}
    found: list[Link] = []
    for link in signal_links(plan):
        join = wanted.get(fold(link.target))
        if join is None or link.ref in own or join == (link.source, link.target):
            continue
        if link.source != line.start and _pedal_of(link.source) not in named:
            raise InputHeld(target=link.target, link=link.ref, source=link.source)
        found.append(link)
    return found


def is_lead(plan: BoardPlan, link: Link) -> bool:
    """Whether it leaves the board: to or from an instrument, an amp or a computer."""
    pedals = index_plan(plan).pedals
    return any(ref not in pedals for ref in _refs_of(link))


def _other_paths(plan: BoardPlan, path: SignalPath | None, refs: Sequence[str]) -> list[SignalPath]:
    """Those with named pedals that the path does not have, each sequence of pedals once."""
    named = {fold(ref) for ref in refs}
    strange = named - {fold(ref) for ref in path.refs} if path else named
    others: list[SignalPath] = []
    for number, other in enumerate(list_chains(plan), start=1):
        held = [ref for ref in other.refs if fold(ref) in strange]
        left = [ref for ref in other.refs if fold(ref) not in named]
        if held and left:
            way = " ".join(other.refs)
            raise OnAnotherLine(ref=held[0], number=number, way=way, others=", ".join(left))
        if held:
            others.append(other)
    return others


def _outer_ends(plan: BoardPlan, directory: Directory, *, is_first: bool) -> tuple[str | None, str | None]:
    """Of a lead that joins an instrument straight to an amp; else the first ones of the board."""
    pedals, sources = index_plan(plan).pedals, {fold(source.ref) for source in plan.sources}
    for link in signal_links(plan):
        start, end = _refs_of(link)
        if start in sources and end not in pedals:
            return link.source, link.target
    if not is_first:
        return None, None
    source, amp = directory.first("source"), directory.first("amp")
    jack = next((jack["name"] for jack in amp.all_jacks() if jack["role"] == "in"), None) if amp else None
    return (
        f"{source.ref}.{SOURCE_JACK_NAME}" if source else None,
        f"{amp.ref}.{jack}" if amp and jack else None,
    )


def _straight_links(plan: BoardPlan) -> dict[Join, Link]:
    """The links from an output to an input of two pedals, on whatever path or on none."""
    jacks = index_plan(plan).jacks
    return {
        _refs_of(link): link
        for link in reversed(signal_links(plan))
        if not is_lead(plan, link)
        and (jacks[fold(link.source)].role, jacks[fold(link.target)].role) == ("out", "in")
    }


def _refs_of(link: Link) -> Join:
    return _pedal_of(link.source), _pedal_of(link.target)


def _pedal_of(end: str) -> str:
    return fold(split_end(end)[0])


def _first_of[K, V](tables: Iterable[dict[K, V]]) -> dict[K, V]:
    """All of them as one; of a key that stands in several the first."""
    found: dict[K, V] = {}
    for table in tables:
        found = table | found
    return found


def _jack(plan: BoardPlan, ref: str, role: str, used: dict[str, str]) -> str:
    if fold(ref) in used:
        return used[fold(ref)]
    pedal = index_plan(plan).pedals[fold(ref)]
    for jack in pedal.jacks:
        if jack.role == role:
            return f"{pedal.ref}.{jack.name}"
    raise CannotPass(ref=ref, role=role)
