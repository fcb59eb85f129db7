"""Loops of multigraphs: published cyclomatic numbers, and networkx on random ones."""

from itertools import combinations, pairwise

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from boardshop.core.loops import Edge, count_loops, list_breaks, list_loops


def ring(size: int) -> list[Edge]:
    names = [f"n{i}" for i in range(size)]
    return list(pairwise([*names, names[0]]))


def complete(size: int) -> list[Edge]:
    return list(combinations([f"n{i}" for i in range(size)], 2))


def nodes_of(edges: list[Edge]) -> list[str]:
    return list(dict.fromkeys(name for edge in edges for name in edge))


PETERSEN = [(f"n{a}", f"n{b}") for a, b in nx.petersen_graph().edges]
K33 = [(f"n{a}", f"n{b}") for a, b in nx.complete_bipartite_graph(3, 3).edges]


@pytest.mark.parametrize(
    ("edges", "expected"),
    [
        ([("a", "b"), ("b", "c"), ("b", "d")], 0),
        (ring(3), 1),
        (ring(7), 1),
        (complete(4), 3),
        (complete(5), 6),
        (PETERSEN, 6),
        (K33, 4),
        ([("a", "b"), ("a", "b"), ("b", "a")], 2),
        ([("a", "a")], 1),
    ],
)
def test_published_cyclomatic_numbers(edges: list[Edge], expected: int) -> None:
    """Berge, Graphs: a tree 0, a ring 1, K4 3, K5 6, Petersen 6, K3,3 4; parallel edges count."""
    assert count_loops(edges) == expected
    assert len(list_loops(nodes_of(edges), edges)) == expected
    assert len(list_breaks(edges, [0] * len(edges))) == expected


def test_the_shortest_loops_are_found_first() -> None:
    """The Petersen graph has girth 5 (Holton and Sheehan, The Petersen Graph)."""
    assert [len(loop.nodes) for loop in list_loops(nodes_of(PETERSEN), PETERSEN)] == [5] * 6
    assert [len(cycle) for cycle in nx.minimum_cycle_basis(nx.petersen_graph())] == [5] * 6


NAMES = st.sampled_from("abcdefgh")
EDGES = st.lists(st.tuples(NAMES, NAMES), max_size=20)


@given(EDGES)
def test_the_number_agrees_with_networkx(edges: list[Edge]) -> None:
    graph = nx.MultiGraph(edges)
    components = nx.number_connected_components(graph)
    assert count_loops(edges) == graph.number_of_edges() - graph.number_of_nodes() + components


@given(EDGES)
def test_the_basis_is_made_of_independent_closed_walks(edges: list[Edge]) -> None:
    loops = list_loops(list("abcdefgh"), edges)
    assert len(loops) == count_loops(edges)
    for loop in loops:
        assert len(set(loop.nodes)) == len(loop.nodes) == len(set(loop.edges))
        for number, (one, other) in zip(loop.edges, pairwise([*loop.nodes, loop.nodes[0]]), strict=True):
            assert set(edges[number]) == {one, other}
    assert rank_mod_2([sum(1 << n for n in loop.edges) for loop in loops]) == len(loops)


def rank_mod_2(rows: list[int]) -> int:
    rows, rank = list(rows), 0
    while rows:
        pivot = rows.pop()
        if pivot:
            rank += 1
            low = pivot & -pivot
            rows = [row ^ pivot if row & low else row for row in rows]
    return rank


@given(EDGES)
def test_no_basis_starts_with_a_shorter_loop(edges: list[Edge]) -> None:
    """networkx.minimum_cycle_basis of the simple graph has the least total; ours starts with its shortest."""
    simple = nx.Graph([(a, b) for a, b in edges if a != b])
    shortest = sorted(len(cycle) for cycle in nx.minimum_cycle_basis(simple))
    ours = sorted(len(loop.nodes) for loop in list_loops(list("abcdefgh"), edges) if len(loop.nodes) > 2)
    assert len(ours) == len(shortest)
    assert ours[:1] == shortest[:1]
    assert sum(ours) >= sum(shortest)


@given(EDGES, st.randoms(use_true_random=False))
def test_breaks_leave_a_forest_and_spare_what_is_kept_first(edges: list[Edge], random: object) -> None:
    ranks = [random.randrange(3) for _ in edges]  # type: ignore[attr-defined]
    breaks = list_breaks(edges, ranks)
    assert len(breaks) == count_loops(edges)
    assert count_loops([edge for number, edge in enumerate(edges) if number not in breaks]) == 0
    kept_first = [edge for edge, rank in zip(edges, ranks, strict=True) if rank == 0]
    assert sum(ranks[number] == 0 for number in breaks) == count_loops(kept_first)
