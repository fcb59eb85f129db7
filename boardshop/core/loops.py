"""Loops of an undirected multigraph: how many, which, and the fewest edges whose removal leaves none.

The number of independent loops is edges - nodes + components (cyclomatic number; Berge, Graphs).
Parallel edges and edges from a node to itself count.
"""

from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass

from boardshop.core.disjoint import Islands

type Edge = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Loop:
    """A simple closed walk: its nodes in turn, and the number of the edge that leaves each."""

    nodes: tuple[str, ...]
    edges: tuple[int, ...]


def count_loops(edges: Sequence[Edge]) -> int:
    """Edges - nodes + components: one for each edge whose ends hang together already."""
    islands = Islands()
    return sum(not islands.join(one, other) for one, other in edges)


def list_breaks(edges: Sequence[Edge], keep_first: Sequence[int]) -> tuple[int, ...]:
    """The numbers of as few edges as leave no loop; ``keep_first`` ranks the edges, least kept before others.

    Greedy over a graphic matroid: the kept edges are a spanning forest of the least ranks.
    """
    islands = Islands()
    order = sorted(range(len(edges)), key=lambda number: (keep_first[number], number))
    return tuple(sorted(number for number in order if not islands.join(*edges[number])))


def list_loops(nodes: Sequence[str], edges: Sequence[Edge]) -> tuple[Loop, ...]:
    """A cycle basis of short loops, shortest first; as many as `count_loops` says.

    Loops of one node or two come from each edge beyond the first of its pair.  The rest are picked, shortest
    first and each independent of those before, among the shortest loop through every edge and the loops that
    close a spanning tree, which always suffice.
    """
    first: dict[Edge, int] = {}
    small: list[Loop] = []
    for number, (one, other) in enumerate(edges):
        pair = (one, other) if one <= other else (other, one)
        if one == other:
            small.append(Loop((one,), (number,)))
        elif pair in first:
            small.append(Loop((edges[first[pair]]), (first[pair], number)))
        else:
            first[pair] = number
    simple = {number: edges[number] for number in first.values()}
    return (*small, *_pick_independent(nodes, simple))


def _pick_independent(nodes: Sequence[str], edges: dict[int, Edge]) -> tuple[Loop, ...]:
    neighbours: dict[str, list[tuple[str, int]]] = {node: [] for node in nodes}
    for number, (one, other) in edges.items():
        neighbours[one].append((other, number))
        neighbours[other].append((one, number))
    wanted = count_loops(tuple(edges.values()))
    if not wanted:
        return ()
    place = {node: position for position, node in enumerate(nodes)}
    candidates = _list_candidates(nodes, edges, neighbours)
    ranked = sorted(
        {_turn(loop, place) for loop in candidates}, key=lambda loop: (len(loop.edges), loop.edges)
    )
    picked: list[Loop] = []
    basis: dict[int, int] = {}
    for loop in ranked:
        if len(picked) == wanted:
            break
        if _adds(basis, sum(1 << number for number in loop.edges)):
            picked.append(loop)
    return tuple(picked)


def _list_candidates(
    nodes: Sequence[str], edges: dict[int, Edge], neighbours: dict[str, list[tuple[str, int]]]
) -> list[Loop]:
    """The shortest loop through every edge, and those that the edges outside one spanning forest close."""
    found: list[Loop] = []
    forest = Islands()
    tree: dict[str, list[tuple[str, int]]] = {node: [] for node in nodes}
    outside: list[int] = []
    for number, (one, other) in edges.items():
        if forest.join(one, other):
            tree[one].append((other, number))
            tree[other].append((one, number))
        else:
            outside.append(number)
    for graph, numbers in ((neighbours, list(edges)), (tree, outside)):
        for number in numbers:
            loop = _close(graph, number, edges[number])
            found += [loop] if loop else []
    return found


def _close(graph: dict[str, list[tuple[str, int]]], closing: int, edge: Edge) -> Loop | None:
    """The shortest loop of an edge and a path between its ends that does without it."""
    start, goal = edge
    came: dict[str, tuple[str, int]] = {start: (start, closing)}
    waiting = deque([start])
    while waiting and goal not in came:
        node = waiting.popleft()
        for neighbour, number in graph[node]:
            if number != closing and neighbour not in came:
                came[neighbour] = (node, number)
                waiting.append(neighbour)
    if goal not in came:
        return None
    walk, numbers = [goal], [closing]
    while walk[-1] != start:
        node, number = came[walk[-1]]
        walk.append(node)
        numbers.append(number)
    # the walk runs goal .. start; the closing edge leads from start back to goal
    return Loop(tuple(walk), (*numbers[1:], closing))


def _turn(loop: Loop, place: dict[str, int]) -> Loop:
    """The same loop from its earliest node towards the earlier of that node's two neighbours."""
    size = len(loop.nodes)
    at = min(range(size), key=lambda i: place[loop.nodes[i]])
    nodes = loop.nodes[at:] + loop.nodes[:at]
    edges = loop.edges[at:] + loop.edges[:at]
    if place[nodes[1]] <= place[nodes[-1]]:
        return Loop(nodes, edges)
    return Loop((nodes[0], *reversed(nodes[1:])), tuple(reversed(edges)))


def _adds(basis: dict[int, int], mask: int) -> bool:
    """Whether a set of edges is no sum (modulo 2) of those before; keeps it when so."""
    while mask:
        top = mask.bit_length()
        if top not in basis:
            basis[top] = mask
            return True
        mask ^= basis[top]
    return False
