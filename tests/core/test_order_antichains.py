"""Largest antichains against all subsets, against networkx, and against known posets."""

import random
from itertools import combinations, product
from math import comb

import networkx as nx
import pytest
from networkx.algorithms.bipartite import hopcroft_karp_matching

from boardshop.core.order.antichains import find_largest_antichains, match_most
from boardshop.core.order.relations import bits_of, close_transitively, strong_parts, transpose

type Rows = tuple[int, ...]


def random_rows(seed: int, n: int, odds: float) -> list[int]:
    dice = random.Random(seed)
    return [sum(1 << j for j in range(n) if i != j and dice.random() < odds) for i in range(n)]


def random_order(seed: int, n: int, odds: float) -> Rows:
    """A random strict partial order: a random acyclic relation, closed."""
    rows = [row >> (i + 1) << (i + 1) for i, row in enumerate(random_rows(seed, n, odds))]
    return close_transitively(rows)


def as_graph(rows: Rows | list[int]) -> nx.DiGraph:
    graph = nx.DiGraph()
    graph.add_nodes_from(range(len(rows)))
    graph.add_edges_from((i, j) for i, row in enumerate(rows) for j in bits_of(row))
    return graph


def antichains_by_hand(below: Rows) -> list[tuple[int, ...]]:
    """All largest antichains, in dictionary order, by trying every subset."""
    n = len(below)
    for size in range(n, -1, -1):
        found = [
            chosen
            for chosen in combinations(range(n), size)
            if not any(below[i] >> j & 1 or below[j] >> i & 1 for i, j in combinations(chosen, 2))
        ]
        if found:
            return found
    raise AssertionError("the empty set is an antichain")


@pytest.mark.parametrize("seed", range(150))
def test_first_and_count_equal_all_subsets(seed: int) -> None:
    below = random_order(seed, n=seed % 10, odds=0.15 + seed % 7 / 10)
    expected = antichains_by_hand(below)
    answer = find_largest_antichains(below, cap=1000)
    assert (answer.first, answer.count, answer.more) == (expected[0], len(expected), False)


@pytest.mark.parametrize("seed", range(40))
def test_matching_and_width_equal_networkx(seed: int) -> None:
    below = random_order(seed, n=40, odds=0.02 + seed / 200)
    graph = nx.Graph((f"L{i}", f"R{j}") for i, row in enumerate(below) for j in bits_of(row))
    lefts = [node for node in graph if node.startswith("L")]
    size = len(hopcroft_karp_matching(graph, lefts)) // 2
    assert sum(right >= 0 for right in match_most(below)) == size
    assert len(find_largest_antichains(below, cap=10).first) == 40 - size


@pytest.mark.parametrize("seed", range(40))
def test_closure_and_strong_parts_equal_networkx(seed: int) -> None:
    rows = random_rows(seed, n=25, odds=seed / 300)
    closed = close_transitively(rows)
    assert set(as_graph(closed).edges) == set(nx.transitive_closure(as_graph(rows)).edges)
    parts = {frozenset(bits_of(part)) for part in strong_parts(closed)}
    assert parts == {frozenset(part) for part in nx.strongly_connected_components(as_graph(rows))}


def test_transpose_turns_every_pair() -> None:
    assert transpose([0b110, 0, 0b010]) == (0, 0b101, 0b001)


@pytest.mark.parametrize("n", range(1, 8))
def test_subsets_have_the_width_of_sperners_theorem(n: int) -> None:
    """Sperner 1928: the largest antichain of the subsets of n things has C(n, n // 2) members;
    there is one for even n and there are two for odd n."""
    sets = [frozenset(i for i in range(n) if mask >> i & 1) for mask in range(1 << n)]
    below = [sum(1 << j for j, other in enumerate(sets) if one < other) for one in sets]
    answer = find_largest_antichains(below, cap=10)
    assert (len(answer.first), answer.count) == (comb(n, n // 2), 1 + n % 2)


@pytest.mark.parametrize(("pairs", "count", "more"), [(3, 8, False), (9, 512, False), (10, 1000, True)])
def test_count_stops_at_the_cap(pairs: int, count: int, more: bool) -> None:
    """Separate pairs, one below the other, leave 2 x 2 x ... choices."""
    below = [row for i in range(pairs) for row in (1 << (2 * i + 1), 0)]
    answer = find_largest_antichains(below, cap=1000)
    assert (answer.count, answer.more) == (count, more)
    assert answer.first == tuple(range(0, 2 * pairs, 2))


def test_exactly_the_cap_is_no_more() -> None:
    """Chains of 10 x 10 x 10 elements side by side: exactly 1,000 largest antichains."""
    below = []
    for start, place in product((0, 10, 20), range(10)):
        below.append(sum(1 << (start + above) for above in range(place + 1, 10)))
    answer = find_largest_antichains(below, cap=1000)
    assert (answer.count, answer.more, answer.first) == (1000, False, (0, 10, 20))
