"""From a way over the frame to the length of cable to cut for it."""

from collections.abc import Iterable
from itertools import pairwise
from math import ceil, pi

from boardshop.core.cables.routing import Corner
from boardshop.core.plan import Rules

_SAVED_BY_BEND = 2 - pi / 2
"""A quarter circle of radius r instead of a square corner is this much shorter, in r.  Basis: calculation."""


def count_rounded_corners(points: Iterable[Corner], bend_mm: float) -> int:
    """Corners of a way (ends included) whose both legs are long enough for the bend."""
    legs = [abs(bx - ax) + abs(by - ay) for (ax, ay), (bx, by) in pairwise(points)]
    return sum(1 for one, other in pairwise(legs) if one >= bend_mm and other >= bend_mm)


def length_along(path_mm: int, rounded_corners: int, bend_mm: float) -> float:
    """The run's length in mm with its corners rounded to the cable's bend; whole when none is."""
    saved = rounded_corners * bend_mm
    return path_mm - saved * _SAVED_BY_BEND if saved else path_mm


def cut_length(length_mm: float, inside_mm: int, rules: Rules) -> int:
    """Length to cut in mm: along the run, slack, and what both plugs take in, rounded up.

    ``round_up_mm`` 0 rounds up to whole mm.
    """
    step = rules.round_up_mm or 1
    if isinstance(length_mm, int):  # whole numbers are exact: a cut that comes out even is not rounded up
        hundredths = length_mm * 100 + max(rules.slack_min_mm * 100, rules.slack_percent * length_mm)
        return -(-(hundredths + inside_mm * 100) // (100 * step)) * step
    slack = max(rules.slack_min_mm, rules.slack_percent * length_mm / 100)
    return ceil((length_mm + slack + inside_mm) / step) * step


def capacitance(length_mm: int, pf_per_m: int) -> int:
    """pF of so much cable, rounded half up."""
    return (length_mm * pf_per_m + 500) // 1000
