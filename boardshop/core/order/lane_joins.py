"""What the lanes are walked over: the joins of the signal, those that lead back, and the best way on.

A join is all the links between the same two parts that go from jacks of one role to jacks of one role, so a
stereo pair is one join.  From a part to itself, and between parts that are no pedals, each link is its own.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from boardshop.core.index import PlanIndex, fold, index_plan, split_end
from boardshop.core.order.graph import signal_links
from boardshop.core.plan import Amp, BoardPlan, Computer, Link, Pedal

type Value = tuple[int, int]
"""How good a way is: what it leads to, then how many pedals it passes."""

OPEN, BACK = -1, 0
"""What a way leads to when not to an amp, whose values are above."""


@dataclass(frozen=True, slots=True)
class Join:
    """``number`` is its place in the order of parts, roles (outputs before sends), jacks and links.

    ``is_back`` where it closes a ring: its target comes before its source.
    ``is_loop`` where it goes out at a send from which the signal comes back to a return of the same pedal.
    """

    number: int
    source: str
    out: str
    target: str
    into: str
    links: tuple[str, ...]
    from_pedal: bool
    to_pedal: bool
    from_send: bool
    to_return: bool
    is_back: bool = False
    is_loop: bool = False

    @property
    def start(self) -> str:
        """The jack that it begins at where that is not a pedal's, else ''."""
        return "" if self.from_pedal else f"{self.source}.{self.out}"

    @property
    def end(self) -> str:
        return "" if self.to_pedal else f"{self.target}.{self.into}"


def list_joins(plan: BoardPlan) -> tuple[Join, ...]:
    """In order, none of them marked yet as leading back or as a loop."""
    index, placed = index_plan(plan), _jack_order(plan)
    grouped: dict[tuple[object, ...], list[Link]] = {}
    for link in signal_links(plan):
        grouped.setdefault(_key(index, link), []).append(link)
    firsts = sorted(grouped.values(), key=lambda links: placed[fold(links[0].source)])
    return tuple(_join(number, index, links) for number, links in enumerate(firsts))


def _key(index: PlanIndex, link: Link) -> tuple[object, ...]:
    one, other = fold(split_end(link.source)[0]), fold(split_end(link.target)[0])
    if one == other or one not in index.pedals or other not in index.signal_parts:
        return (link.ref,)
    return one, _role(index, link.source), other, _role(index, link.target)


def _role(index: PlanIndex, end: str) -> str:
    jack = index.jacks.get(fold(end))
    return jack.role if jack is not None else ""


def _join(number: int, index: PlanIndex, links: list[Link]) -> Join:
    (source, out), (target, into) = split_end(links[0].source), split_end(links[0].target)
    source, target = _written(index, source), _written(index, target)
    return Join(
        number=number,
        source=source,
        out=out,
        target=target,
        into=into,
        links=tuple(link.ref for link in links),
        from_pedal=fold(source) in index.pedals,
        to_pedal=fold(target) in index.pedals,
        from_send=_role(index, links[0].source) == "send",
        to_return=_role(index, links[0].target) == "return",
    )


def _written(index: PlanIndex, ref: str) -> str:
    part = index.signal_parts.get(fold(ref))
    return part.ref if part is not None else ref


def _jack_order(plan: BoardPlan) -> dict[str, int]:
    """Sources, pedals, amps, computers; of each its outputs before its sends, else as recorded."""
    order: dict[str, int] = {}
    for end in _output_ends(plan):
        order.setdefault(fold(end), len(order))
    return order


def _output_ends(plan: BoardPlan) -> Iterator[str]:
    yield from (f"{source.ref}.OUT" for source in plan.sources)
    parts: tuple[Pedal | Amp | Computer, ...] = (*plan.pedals, *plan.amps, *plan.computers)
    for part in parts:
        for role in ("out", "send"):
            yield from (f"{part.ref}.{jack.name}" for jack in part.jacks if jack.role == role)


def find_back_joins(order: Iterable[str], joins_of: dict[str, list[Join]]) -> tuple[set[int], list[str]]:
    """The joins that close rings, and all pedals so that every other join leads from left to right.

    A depth-first walk from each pedal of ``order`` in turn; what leads to a pedal still under way leads back.
    """
    back: set[int] = set()
    behind: list[str] = []
    under_way: dict[str, bool] = {}
    for first in order:
        if first in under_way:
            continue
        under_way[first] = True
        waiting = [(first, iter(joins_of.get(first, ())))]
        while waiting:
            ref, ways = waiting[-1]
            join = next(ways, None)
            if join is None:
                waiting.pop()
                under_way[ref] = False
                behind.append(ref)
            elif join.to_pedal and under_way.get(join.target):
                back.add(join.number)
            elif join.to_pedal and join.target not in under_way:
                under_way[join.target] = True
                waiting.append((join.target, iter(joins_of.get(join.target, ()))))
    return back, behind[::-1]


def find_loop_joins(joins: Iterable[Join]) -> set[int]:
    """Those that leave a pedal at a send from which the signal comes back to one of its returns."""
    between = [join for join in joins if join.from_pedal and join.to_pedal]
    feeders: dict[str, list[Join]] = {}
    for join in between:
        feeders.setdefault(join.target, []).append(join)
    found: set[int] = set()
    for owner in dict.fromkeys(join.source for join in between if join.from_send):
        inside = _leading_to_return(owner, feeders)
        found |= {j.number for j in between if j.source == owner and j.from_send and _closes(j, inside)}
    return found


def _closes(join: Join, inside: set[str]) -> bool:
    return join.target in inside or (join.source == join.target and join.to_return)


def _leading_to_return(owner: str, feeders: dict[str, list[Join]]) -> set[str]:
    """The pedals from which the signal reaches a return of the owner without passing through it."""
    waiting = [join.source for join in feeders.get(owner, ()) if join.to_return]
    inside: set[str] = set()
    while waiting:
        ref = waiting.pop()
        if ref != owner and ref not in inside:
            inside.add(ref)
            waiting += [join.source for join in feeders.get(ref, ())]
    return inside


def choose_ways(
    order: list[str], joins_of: dict[str, list[Join]], ends: dict[str, int], goal: str | None
) -> dict[str, tuple[Value, Join]]:
    """For each pedal the best join to go on by, and how good it is; none where it cannot go on.

    Without a goal: to the end of the highest value in ``ends``, then past the most pedals, then by the first
    join.  With a goal: to a return of that pedal past the most pedals.  Loops are never entered: they are
    lanes of their own.  One pass from right to left, so the work grows with the joins alone.
    """
    ways: dict[str, tuple[Value, Join]] = {}
    for ref in reversed(order):
        for join in joins_of.get(ref, ()):
            value = None if join.is_loop else _value(join, ways, ends, goal)
            if value is not None and (ref not in ways or value > ways[ref][0]):
                ways[ref] = value, join
    return ways


def _value(
    join: Join, ways: dict[str, tuple[Value, Join]], ends: dict[str, int], goal: str | None
) -> Value | None:
    if goal is not None:
        if join.target == goal and join.to_return:
            return 1, 0
        if not join.to_pedal or join.is_back or join.target not in ways:
            return None
    elif not join.to_pedal:
        return ends.get(join.target, OPEN), 0
    elif join.is_back:
        return BACK, 0
    (leads_to, pedals), _ = ways.get(join.target, ((OPEN, 0), join))
    return leads_to, pedals + 1
