"""Whether supplies find room under a frame, by their outlines and the sloping free height alone."""

from collections.abc import Sequence
from fractions import Fraction
from itertools import permutations, product
from math import ceil

from boardshop.core.plan import BoardPlan, Supply

type Outline = tuple[int, int]
"""Width along x and depth along y, mm."""


def do_fit_under(plan: BoardPlan, supplies: Sequence[Supply]) -> bool | None:
    """Side by side or one behind the other, turned by a quarter or not; None where a size is not recorded.

    What else is under the frame, and its cross members, are not known to it.
    """
    sizes = [(one.width, one.depth, one.height) for one in supplies]
    if plan.frame.under is None or any(None in size for size in sizes):
        return None
    outlines = [(one.width or 0, one.depth or 0) for one in supplies]
    firsts = [first_fitting_y(plan, (one.height or 0) + plan.rules.under_gap_mm) for one in supplies]
    turned = [[(w, d), (d, w)] for w, d in outlines]
    return any(_do_fit_so(plan, outline, firsts) for outline in product(*turned))


def first_fitting_y(plan: BoardPlan, needed_mm: int) -> int | None:
    """The least depth behind the lower edge from which there is that much height; None where nowhere.

    Counted from the front edge, or from the rear one under a frame that is lower there.
    """
    under = plan.frame.under
    if under is None:
        return None
    low, high = sorted((Fraction(str(under.front)), Fraction(str(under.rear))))
    if needed_mm <= low:
        return 0
    if needed_mm > high:
        return None
    return ceil((needed_mm - low) * plan.frame.depth / (high - low))


def _do_fit_so(plan: BoardPlan, outlines: Sequence[Outline], firsts: Sequence[int | None]) -> bool:
    width, depth = plan.frame.width, plan.frame.depth
    if any(first is None for first in firsts):
        return False
    known = [first or 0 for first in firsts]
    gap = plan.rules.gap_mm * (len(outlines) - 1)
    own_depths = [first + d <= depth for first, (_, d) in zip(known, outlines, strict=True)]
    if all(own_depths) and sum(w for w, _ in outlines) + gap <= width:
        return True
    if any(w > width for w, _ in outlines):
        return False
    return any(
        _end_of_row([(known[n], outlines[n][1]) for n in order], plan.rules.gap_mm) <= depth
        for order in permutations(range(len(outlines)))
    )


def _end_of_row(row: Sequence[tuple[int, int]], gap_mm: int) -> int:
    """How deep supplies reach that stand one behind the other, each no further forward than it may."""
    end = 0
    for number, (first, depth) in enumerate(row):
        end = max(first, end + (gap_mm if number else 0)) + depth
    return end
