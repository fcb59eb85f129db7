"""How wide a row is: its bodies from left to right, pushed as near as the plugs between them let.

Between two bodies stand the plugs that face each other: in line they need both reaches, offset the longer
one.  Whether they are in line follows from the plugs' widths where those are known, as two plugs that collide
do; else from the distance of the jacks' centres.  Common practice; the gaps are the board's own rules.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise, product

from boardshop.core.index import fold, index_plan
from boardshop.core.layout.geometry import body_box, jack_point, turned_side
from boardshop.core.layout.plug_checks import pass_at_height
from boardshop.core.layout.rows import list_rows
from boardshop.core.layout.standing import UsedJack, list_used_jacks
from boardshop.core.plan import BoardPlan, Jack, Rules

OFFSET_MM = 25
"""Common practice: plugs of unknown width pass each other when their jacks' centres are this far apart."""


@dataclass(frozen=True, slots=True)
class SidePlug:
    """A plug at the left or right of a body: how far it stands out, and where along the depth."""

    reach: int
    at: int
    width: int | None = None
    jack: Jack | None = None


@dataclass(frozen=True, slots=True)
class RowBody:
    width: int
    left: tuple[SidePlug, ...] = ()
    right: tuple[SidePlug, ...] = ()


@dataclass(frozen=True, slots=True)
class RowWidth:
    """The least width of a row beside the frame's; None where ends named in ``lacks`` are not known."""

    name: str
    refs: tuple[str, ...]
    needed_mm: int | None
    room_mm: int
    lacks: tuple[str, ...] = ()

    @property
    def spare_mm(self) -> int | None:
        """Negative where it does not fit."""
        return None if self.needed_mm is None else self.room_mm - self.needed_mm


def measure_rows(plan: BoardPlan) -> tuple[RowWidth, ...]:
    """Every row of placed pedals, front to rear; keep-outs and supplies on top do not count."""
    index = index_plan(plan)
    used: dict[str, list[UsedJack]] = {}
    for use in list_used_jacks(plan):
        used.setdefault(fold(use.pedal.ref), []).append(use)
    measured = []
    for row in list_rows(plan):
        lacks: list[str] = []
        bodies = []
        for ref in row.refs:
            body = body_box(index.pedals[fold(ref)])
            assert body is not None
            sides, unknown = _side_plugs(used.get(fold(ref), []))
            bodies.append(RowBody(body.width, tuple(sides["left"]), tuple(sides["right"])))
            lacks += unknown
        needed = None if lacks else row_width(bodies, plan.rules)
        measured.append(RowWidth(row.name, row.refs, needed, plan.frame.width, tuple(lacks)))
    return tuple(measured)


def row_width(bodies: Sequence[RowBody], rules: Rules) -> int:
    """The least width for these bodies, physically from left to right, with their plugs at both ends."""
    if not bodies:
        return 0
    ends = _edge(bodies[0].left, rules) + _edge(bodies[-1].right, rules)
    return ends + sum(body.width for body in bodies) + sum(_gap(*pair, rules) for pair in pairwise(bodies))


def _edge(plugs: Sequence[SidePlug], rules: Rules) -> int:
    """A body without a plug may stand at the frame's very edge."""
    return max((plug.reach + rules.plug_gap_mm for plug in plugs), default=0)


def _gap(one: RowBody, other: RowBody, rules: Rules) -> int:
    alone = [plug.reach + rules.plug_gap_mm for plug in (*one.right, *other.left)]
    facing = [
        a.reach + b.reach + rules.plug_gap_mm
        for a, b in product(one.right, other.left)
        if _are_in_line(a, b, rules)
    ]
    return max(rules.gap_mm, *alone, *facing, 0)


def _are_in_line(one: SidePlug, other: SidePlug, rules: Rules) -> bool:
    if one.jack is not None and other.jack is not None and pass_at_height(one.jack, other.jack):
        return False
    if one.width is None or other.width is None:
        return abs(one.at - other.at) < OFFSET_MM
    halves = (one.width + 1) // 2 + (other.width + 1) // 2
    return abs(one.at - other.at) < halves + rules.plug_gap_mm


def _side_plugs(used: Sequence[UsedJack]) -> tuple[dict[str, list[SidePlug]], list[str]]:
    """The plugs at the left and right of one pedal as it is turned, and the ends that are not known."""
    sides: dict[str, list[SidePlug]] = {side: [] for side in ("left", "right", "front", "rear")}
    unknown: dict[str, None] = {}
    for use in used:
        jack, place = use.jack, use.pedal.place
        if jack is None or jack.side is None or place is None:
            unknown[use.end] = None
            continue
        side = turned_side(jack.side, place.turn)
        if side not in ("left", "right"):
            continue
        point = jack_point(use.pedal, jack)
        if point is None or use.plug is None or use.plug.reach is None:
            unknown[use.end] = None
        else:
            sides[side].append(SidePlug(use.plug.reach, point.y, use.plug.width, jack))
    return sides, list(unknown)
