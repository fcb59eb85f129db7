"""What changed between two plans of a board, in sentences.

    for one in compare_plans(released, working_copy):
        print(one.sentence)

Meaningless, and so no difference: the refs of cable and plug types, which are numbers of one document; the
order of parts, jacks, scenes and kept findings in their lists, since each is found by its ref or name; stock
rows that sum up alike, and those of none.  The order of a line is in its links.
"""

from collections.abc import Iterable

from boardshop.core.diff.cuts import OtherCut, compare_cuts, find_other_cuts
from boardshop.core.diff.difference import KINDS, Difference
from boardshop.core.diff.feeding import compare_feeding
from boardshop.core.diff.parts import compare_parts
from boardshop.core.diff.whole import compare_whole
from boardshop.core.diff.wiring import compare_wiring
from boardshop.core.plan import BoardPlan

__all__ = [
    "KINDS",
    "Difference",
    "OtherCut",
    "compare_cuts",
    "compare_plans",
    "find_other_cuts",
    "group_differences",
    "in_order",
]


def compare_plans(before: BoardPlan, after: BoardPlan) -> tuple[Difference, ...]:
    """Everything that was recorded otherwise, by kind; what is only computed from it, as cuts, is not."""
    if before == after:
        return ()
    found = [
        difference
        for compare in (compare_parts, compare_wiring, compare_feeding, compare_whole)
        for difference in compare(before, after)
    ]
    return in_order(found)


def in_order(differences: Iterable[Difference]) -> tuple[Difference, ...]:
    """By kind; within one kind as they come."""
    return tuple(sorted(differences, key=lambda one: KINDS.index(one.kind)))


def group_differences(differences: Iterable[Difference]) -> tuple[tuple[str, tuple[Difference, ...]], ...]:
    """The kinds that occur, in their order, each with its differences."""
    found = tuple(differences)
    grouped = ((kind, tuple(one for one in found if one.kind == kind)) for kind in KINDS)
    return tuple((kind, group) for kind, group in grouped if group)
