"""Relations on 0..n-1 as rows of bits: bit j of row i says that i is related to j."""

from collections.abc import Iterator, Sequence

type Rows = tuple[int, ...]


def bits_of(row: int) -> Iterator[int]:
    """The set bits of a row, ascending."""
    while row:
        lowest = row & -row
        yield lowest.bit_length() - 1
        row ^= lowest


def close_transitively(rows: Sequence[int]) -> Rows:
    """The transitive closure (Warshall 1962), one row operation at a time."""
    closed = list(rows)
    for via in range(len(closed)):
        bit, reached = 1 << via, closed[via]
        if reached:
            closed = [row | reached if row & bit else row for row in closed]
    return tuple(closed)


def transpose(rows: Sequence[int]) -> Rows:
    turned = [0] * len(rows)
    for i, row in enumerate(rows):
        for j in bits_of(row):
            turned[j] |= 1 << i
    return tuple(turned)


def strong_parts(closed: Sequence[int]) -> Rows:
    """For each element the bits of its strongly connected part, itself included, from a closed relation."""
    return tuple(
        (row & column) | 1 << i for i, (row, column) in enumerate(zip(closed, transpose(closed), strict=True))
    )
