"""Corners of runs as a cable takes them: rounded to its bend where both legs are long enough for it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from boardshop.boards.drawing.shapes import Attributes, Shape, number
from boardshop.boards.drawing.sheet import Sheet
from boardshop.core.cables.crossings import list_crossings
from boardshop.core.cables.runs import cable_type_of
from boardshop.core.index import fold, index_plan
from boardshop.core.plan import BoardPlan

type Spot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Bends:
    """By folded ref of a link its cable's bend, mm; corners at or near ``square`` keep their edge."""

    radius: Mapping[str, float] = field(default_factory=dict)
    square: frozenset[Spot] = frozenset()


NO_BENDS = Bends()


def find_bends(plan: BoardPlan, sheet: Sheet) -> Bends:
    """Where two runs cross at a corner or beside it, a bridge is drawn, and the corner stays as it is."""
    index = index_plan(plan)
    cables = ((link.ref, cable_type_of(index, link)) for link in plan.links)
    known = {fold(ref): cable.min_bend for ref, cable in cables if cable is not None and cable.min_bend}
    return Bends(known, frozenset(sheet.point(*crossing.at) for crossing in list_crossings(plan)))


def draw_way(points: Sequence[Spot], radius: float, square: frozenset[Spot], look: Attributes) -> Shape:
    """A leg between two rounded corners is shared by them: each takes no more than half of it."""
    legs = [abs(x1 - x0) + abs(y1 - y0) for (x0, y0), (x1, y1) in pairwise(points)]
    path = f"M{_at(points[0])}"
    for i, corner in enumerate(points[1:-1], start=1):
        before, after = legs[i - 1], legs[i]
        if not radius or min(before, after) < radius or _has_bridge(corner, radius, square):
            path += f"L{_at(corner)}"
            continue
        taken = min(radius, before if i == 1 else before / 2, after if i == len(legs) - 1 else after / 2)
        path += _arc(points[i - 1], corner, points[i + 1], taken)
    return Shape("path", (*look, ("d", f"{path}L{_at(points[-1])}")))


def _has_bridge(corner: Spot, radius: float, square: frozenset[Spot]) -> bool:
    """Whether a bridge stands where the arc would lie, or would be cut by it."""
    return any(abs(x - corner[0]) + abs(y - corner[1]) < 1.5 * radius for x, y in square)


def _arc(before: Spot, corner: Spot, after: Spot, radius: float) -> str:
    """From the leg that comes in to the one that leads on."""
    come, go = _direction(corner, before), _direction(corner, after)
    start = corner[0] + radius * come[0], corner[1] + radius * come[1]
    end = corner[0] + radius * go[0], corner[1] + radius * go[1]
    is_clockwise = come[0] * go[1] - come[1] * go[0] < 0
    return f"L{_at(start)}A{number(radius)} {number(radius)} 0 0 {int(is_clockwise)} {_at(end)}"


def _direction(of: Spot, to: Spot) -> tuple[int, int]:
    (x0, y0), (x1, y1) = of, to
    return (x1 > x0) - (x1 < x0), (y1 > y0) - (y1 < y0)


def _at(spot: Spot) -> str:
    return f"{number(spot[0])} {number(spot[1])}"
