"""What is drawn about runs besides their ways: bridges, drops, what blocks one, and the one that is chosen.

Everything here is read from core; the shapes lie over the runs and beneath names, balloons and pennants.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from django.utils.translation import gettext as _

from boardshop.boards.drawing.pedals import Url, is_same
from boardshop.boards.drawing.pens import (
    AIR_LINE,
    BLOCKER,
    CHOSEN_PLUG,
    DIMENSION,
    DOT,
    HIT,
    KNOCKOUT,
    PASS,
    REF,
    RUN,
)
from boardshop.boards.drawing.runs import DrawnRun, look_of
from boardshop.boards.drawing.shapes import Shape, circle, group, hint, number, polyline, rectangle
from boardshop.boards.drawing.sheet import Sheet
from boardshop.boards.drawing.words import write
from boardshop.core.cables.crossings import list_crossings
from boardshop.core.cables.drops import Drop, list_drops
from boardshop.core.cables.obstacles import obstacles_of
from boardshop.core.cables.runs import measure_runs
from boardshop.core.index import fold, index_plan, split_end
from boardshop.core.layout.geometry import plug_box
from boardshop.core.plan import BoardPlan, Jack, Link

type Spot = tuple[float, float]

BRIDGE_MM = 1.7
"""Radius of the arc by which one run bridges another, mm on paper."""
PASS_MM = 5
"""Radius of the ring where a cable goes through the frame, mm on the board."""
_NEAR = 0.01


@dataclass(frozen=True, slots=True)
class Cabling:
    """``traced``: bridges, drops, what blocks a run and the chosen plugs; ``wide``: runs for a finger."""

    wide: bool = False
    traced: bool = False


NO_CABLING = Cabling()


def draw_over_runs(
    wanted: Cabling,
    plan: BoardPlan,
    sheet: Sheet,
    drawn: Sequence[DrawnRun],
    selected: str | None,
    url: Url | None,
) -> list[Shape]:
    shapes: list[Shape] = []
    if wanted.traced:
        shapes += [*draw_bridges(plan, sheet, drawn, selected), *draw_drops(plan, sheet)]
        shapes += [*draw_blocked(plan, sheet, url), *draw_chosen(plan, sheet, drawn, selected)]
    return [*shapes, *draw_hits(drawn, url)] if wanted.wide else shapes


def draw_bridges(
    plan: BoardPlan, sheet: Sheet, drawn: Sequence[DrawnRun], selected: str | None = None
) -> Iterator[Shape]:
    """At each crossing an arc by which the later link bridges the earlier one."""
    runs = {fold(run.link.ref): run for run in drawn}
    for crossing in list_crossings(plan):
        below, above = runs.get(fold(crossing.one)), runs.get(fold(crossing.other))
        if below is not None and above is not None:
            words = _("%(one)s and %(other)s cross") % {"one": crossing.one, "other": crossing.other}
            shapes = _bridge(below, above, sheet.point(*crossing.at), sheet.unit, selected)
            yield group([hint(words), *shapes], class_="d-bridge", data_at=f"{crossing.one} {crossing.other}")


def _bridge(below: DrawnRun, above: DrawnRun, at: Spot, unit: float, selected: str | None) -> list[Shape]:
    """The run below is drawn through anew, the one above in a half circle: over the point or just beyond."""
    radius = BRIDGE_MM * unit
    lower, upper = _ways_on(below, at), _ways_on(above, at)
    straight = [way for way in upper if way not in lower and (-way[0], -way[1]) in upper]
    onward = straight or [way for way in upper if way not in lower] or upper
    dx, dy = onward[0]
    shift = 0 if straight else radius
    x, y = at[0] + dx * shift, at[1] + dy * shift
    ends = [(x - dx * radius, y - dy * radius), (x + dx * radius, y + dy * radius)]
    arc = f"M{number(ends[0][0])} {number(ends[0][1])}A{number(radius)} {number(radius)} 0 0 1 "
    look = look_of(below, unit, selected)
    stubs = [polyline([at, (at[0] + wx * radius, at[1] + wy * radius)], look) for wx, wy in lower]
    look = look_of(above, unit, selected)
    return [
        circle(x, y, radius * 0.9, KNOCKOUT.look(unit)),
        *stubs,
        Shape("path", (*look, ("d", f"{arc}{number(ends[1][0])} {number(ends[1][1])}"))),
    ]


def _ways_on(run: DrawnRun, at: Spot) -> list[tuple[int, int]]:
    """The directions in which a run leads away from a point of it."""
    found = []
    for (x0, y0), (x1, y1) in pairwise(run.points):
        on_x = min(x0, x1) - _NEAR <= at[0] <= max(x0, x1) + _NEAR
        on_y = min(y0, y1) - _NEAR <= at[1] <= max(y0, y1) + _NEAR
        if on_x and on_y:
            for x, y in ((x0, y0), (x1, y1)):
                if abs(x - at[0]) + abs(y - at[1]) > _NEAR:
                    found.append((_sign(x - at[0]), _sign(y - at[1])))
    return list(dict.fromkeys(found))


def _sign(value: float) -> int:
    return 0 if abs(value) <= _NEAR else 1 if value > 0 else -1


def draw_drops(plan: BoardPlan, sheet: Sheet) -> Iterator[Shape]:
    """A ring where each run under the frame goes through its top, joined to its plug where that is aside."""
    for run in list_drops(plan):
        for drop in run.drops:
            if drop.at is not None:
                yield _draw_drop(run.link, drop, drop.at, sheet)


def _draw_drop(ref: str, drop: Drop, at: tuple[int, int], sheet: Sheet) -> Shape:
    words = _("%(run)s goes through the frame here, %(mm)s from its plug") % {
        "run": ref,
        "mm": sheet.measure(drop.away_mm or 0),
    }
    spot, end = sheet.point(*at), sheet.point(*drop.end)
    aside = [polyline([end, spot], DIMENSION.look(sheet.unit))] if spot != end else []
    ring = circle(*spot, PASS_MM, PASS.look(sheet.unit))
    return group([hint(words), *aside, ring], class_="d-drop", data_run=ref)


def draw_blocked(plan: BoardPlan, sheet: Sheet, url: Url | None = None) -> Iterator[Shape]:
    """Where a run has no way: the air line between its plugs, crossed out, and what stands in the way."""
    marked: dict[str, Shape] = {}
    lines = []
    for run in measure_runs(plan):
        if not run.air_line:
            continue
        layer = obstacles_of(plan, run.link.route)
        boxes = dict(zip(layer.names, layer.boxes, strict=True))
        for name in run.blocked_by:
            look = BLOCKER.look(sheet.unit)
            marked[name] = rectangle(sheet.area(boxes[name]), look, data_blocks=run.link.ref)
        ends = [sheet.point(*at) for at in run.air_line]
        lines.append(_draw_air_line(run.link.ref, ends, sheet.unit, url(run.link.ref) if url else None))
    yield from marked.values()
    yield from lines


def _draw_air_line(ref: str, ends: list[Spot], unit: float, target: str | None) -> Shape:
    (x0, y0), (x1, y1) = ends
    x, y, arm = (x0 + x1) / 2, (y0 + y1) / 2, 1.6 * unit
    cross = [
        polyline([(x - arm, y - arm), (x + arm, y + arm)], RUN.look(unit)),
        polyline([(x - arm, y + arm), (x + arm, y - arm)], RUN.look(unit)),
    ]
    line = polyline(ends, AIR_LINE.look(unit))
    dots = [circle(*end, 0.9 * unit, DOT.look(unit)) for end in ends]
    size = REF.height * unit
    shapes = [hint(_("%(run)s has no way") % {"run": ref}), line, *cross, *dots]
    shapes.append(write(REF, size, ref, x, y - arm - 0.3 * size))
    if target is None:
        return group(shapes, class_="d-blocked", data_run=ref)
    return Shape("a", (("class", "d-mark d-blocked"), ("href", target), ("data-run", ref)), tuple(shapes))


def draw_chosen(
    plan: BoardPlan, sheet: Sheet, drawn: Sequence[DrawnRun], selected: str | None
) -> Iterator[Shape]:
    """Both plugs of each chosen run in a heavy outline, and a dot at each end of it."""
    for link in plan.links:
        if is_same(link.ref, selected):
            for end, plug in ((link.source, link.plug_from), (link.target, link.plug_to)):
                yield from _draw_plug(plan, link, end, plug, sheet)
    for run in drawn:
        if is_same(run.link.ref, selected):
            ends = (run.points[0], run.points[-1])
            yield from (circle(*end, 0.9 * sheet.unit, DOT.look(sheet.unit)) for end in ends)


def _draw_plug(plan: BoardPlan, link: Link, end: str, plug_ref: str | None, sheet: Sheet) -> Iterator[Shape]:
    index = index_plan(plan)
    pedal, jack = index.pedals.get(fold(split_end(end)[0])), index.jacks.get(fold(end))
    plug = index.plugs.get(fold(plug_ref)) if plug_ref else None
    if pedal is None or plug is None or not isinstance(jack, Jack):
        return
    box = plug_box(pedal, jack, plug)
    if box is not None:
        yield rectangle(sheet.area(box), CHOSEN_PLUG.look(sheet.unit), data_plug=f"{link.ref} {end}")


def draw_hits(drawn: Sequence[DrawnRun], url: Url | None) -> Iterator[Shape]:
    """Wide lines that nobody sees, for a finger; the keyboard has the pennants, which lead to the same."""
    for run in drawn:
        target = url(run.link.ref) if url else None
        if target is not None:
            line = polyline(run.points, HIT.look(1))
            attributes = (
                ("class", "d-way-link"),
                ("href", target),
                ("tabindex", -1),
                ("aria-hidden", "true"),
            )
            yield Shape("a", attributes, (line,))
