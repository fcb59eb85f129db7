"""The yardstick of the bench: longest piece first, each where the least is left."""

from boardshop.ops.bench_cuts import cut_longest_first, read_instances


def test_longest_first_opens_a_reel_when_nothing_has_room() -> None:
    assert cut_longest_first(100, [60, 50, 40, 30, 20]) == 2
    assert cut_longest_first(100, [60, 60, 60]) == 3


def test_longest_first_is_not_always_the_fewest() -> None:
    """The first published instance: 48 are enough."""
    _, length, fewest, pieces = next(read_instances())
    assert (cut_longest_first(length, pieces), fewest) == (49, 48)


def test_all_twenty_published_instances_are_there() -> None:
    found = list(read_instances())
    assert len(found) == 20
    assert {(length, len(pieces)) for _, length, _, pieces in found} == {(150, 120)}
