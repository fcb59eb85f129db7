"""`draw_lanes`: the signal of a board as lanes, one SVG: what branches, loops, comes back and ends where.

No size of the board is in it; the width grows with the columns, lettering is 12 px at the natural size.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from boardshop.boards.drawing.lane_lines import (
    END_HALF,
    UNIT,
    begin_column,
    draw_dots,
    draw_jacks,
    draw_lines,
    draw_open,
    draw_refs,
    end_half,
    finish_column,
    trace_lines,
)
from boardshop.boards.drawing.lane_sheet import BELOW, CELL, GAP, LETTER, MARGIN, RADIUS, LaneSheet
from boardshop.boards.drawing.lettering import ASCENT, DESCENT, LEADING, fit, measure
from boardshop.boards.drawing.pedals import Url
from boardshop.boards.drawing.pens import BALLOON, BODY, NAME, NOTE, NUMBER, PAPER, REF, Pen
from boardshop.boards.drawing.shapes import (
    Area,
    Shape,
    around,
    circle,
    group,
    hint,
    number,
    rectangle,
    to_svg,
)
from boardshop.boards.drawing.words import write
from boardshop.core.index import PlanIndex, fold, index_plan, split_end
from boardshop.core.order.lane_grid import lay_out_lanes
from boardshop.core.order.lanes import Lane, find_lanes
from boardshop.core.plan import Amp, BoardPlan, Pedal, Source

WRONG = Pen("d-balloon is-wrong", 0.5, fill=PAPER, dashes=(1.5, 0.8))
BYPASSED = Pen("d-balloon is-bypassed", 0.35, fill=PAPER, dashes=(0.35, 0.7))
NAME_SIZE, NAME_LEAST, NUMBER_SIZE = 13.5, 12.0, 14.0
NOT_WIRED_ROOM = 34.0


@dataclass(frozen=True, slots=True)
class StopMarks:
    """What all stops are drawn with."""

    numbers: Mapping[str, int]
    wrong: Collection[str]
    bypassed: Collection[str]
    url: Url | None


def draw_lanes(
    plan: BoardPlan,
    numbers: Mapping[str, int],
    *,
    wrong: Collection[str] = (),
    bypassed: Collection[str] = (),
    url: Url | None = None,
    name: str = "lanes-drawing",
) -> str:
    """The lanes as one SVG element, safe to put into a page or a paper as it is.

    ``numbers`` by ref for the balloons; a pedal without one shows its ref there.
    ``wrong`` are refs of pedals that stand elsewhere than suggested, dashed; ``bypassed`` of those that are
    off, dotted; of both, dashed.
    ``url`` gives the address of a ref's row, or None; with it, pedals and links' refs are links.
    ``name`` keeps the ids of several drawings on one page apart.
    """
    found, index = find_lanes(plan), index_plan(plan)
    sheet = LaneSheet(found, lay_out_lanes(found))
    marks = StopMarks(numbers, wrong, bypassed, url)
    lines = trace_lines(sheet)
    shapes = [_draw_outline(sheet, ref) for ref in sheet.row_of if ref in sheet.boxed]
    shapes += draw_lines(sheet, lines)
    shapes += [shape for lane in sheet.lanes for shape in _draw_ends(sheet, index, lane)]
    shapes += draw_jacks(sheet, lines)
    shapes += draw_refs(sheet, lines, {link.ref: link for link in plan.links}, url)
    shapes += draw_dots(sheet)
    shapes += [_draw_stop(index.pedals[fold(ref)], *sheet.point(ref), marks) for ref in sheet.row_of]
    extent = max(sheet.width, 4 * (CELL + GAP) + 2 * MARGIN), sheet.bottom + MARGIN
    apart, extent = _draw_not_wired([index.pedals[fold(ref)] for ref in found.not_wired], extent, marks)
    title = _("Lanes of the signal on %(board)s") % {"board": plan.name}
    words = _describe(sheet.lanes, found.not_wired, numbers, index)
    return to_svg(_wrap(title, words, extent, [*shapes, *apart], name, has_links=url is not None))


def _draw_outline(sheet: LaneSheet, ref: str) -> Shape:
    """A pedal with sends or returns in use, down to the last lane that hangs below it."""
    x, y = sheet.point(ref)
    bottom = y + BELOW - 2
    for lane in sheet.lanes:
        if sheet.grid.hangs.get(lane.number) == ref:
            lowest = sheet.low(lane) if lane.number in sheet.turning else sheet.level(lane)
            bottom = max(bottom, lowest + 12)
    top = y - RADIUS - 8
    return rectangle(Area(x - CELL / 2, top, CELL, bottom - top), BODY.look(UNIT), data_of=ref)


def _draw_stop(pedal: Pedal, x: float, y: float, marks: StopMarks) -> Shape:
    """Balloon, name and ref; a link to the pedal where there is one."""
    shown = str(marks.numbers.get(pedal.ref, pedal.ref))
    pen = BYPASSED if pedal.ref in marks.bypassed else BALLOON
    pen = WRONG if pedal.ref in marks.wrong else pen
    hit = around(x, y + BELOW / 2 - RADIUS / 2 - 2, CELL - 2, BELOW + RADIUS - 2)
    box = (("x", hit.x), ("y", hit.y), ("width", hit.width), ("height", hit.height))
    shapes = [Shape("rect", (("class", "d-hit"), ("fill", "none"), ("pointer-events", "all"), *box))]
    shapes.append(circle(x, y, RADIUS, pen.look(UNIT)))
    size = min(NUMBER_SIZE, NUMBER_SIZE * 1.6 * RADIUS / max(measure(shown, NUMBER_SIZE, NUMBER.face), 1))
    shapes.append(write(NUMBER, size, shown, x, y + 0.36 * size))
    high = NAME_SIZE * (ASCENT + DESCENT + LEADING) + 0.1
    lettering = fit(pedal.name, NAME.face, NAME_SIZE, NAME_LEAST, CELL - 6, high)
    baseline = y + RADIUS + 5 + ASCENT * lettering.size
    for line in lettering.lines:
        shapes.append(write(NAME, lettering.size, line, x, baseline))
        baseline += LEADING * lettering.size
    if shown != pedal.ref:
        shapes.append(write(REF, LETTER, pedal.ref, x, baseline))
    said = hint(_say_stop(pedal, shown, marks))
    target = marks.url(pedal.ref) if marks.url else None
    if target is None:
        return group([said, *shapes], class_="d-pedal", data_ref=pedal.ref)
    return Shape("a", (("class", "d-pedal"), ("href", target), ("data-ref", pedal.ref)), (said, *shapes))


def _say_stop(pedal: Pedal, shown: str, marks: StopMarks) -> str:
    said = f"{shown} {pedal.name or pedal.ref}, {pedal.kind}"
    states = [_("stands elsewhere than suggested")] if pedal.ref in marks.wrong else []
    states += [_("bypassed")] if pedal.ref in marks.bypassed else []
    return ", ".join((said, *states))


def _draw_ends(sheet: LaneSheet, index: PlanIndex, lane: Lane) -> list[Shape]:
    """Instruments and amps as labelled outlines, open ends as small circles."""
    y = sheet.level(lane)
    shapes: list[Shape] = []
    if lane.start:
        shapes.append(_draw_end(index, lane.start, sheet.middle(begin_column(sheet, lane)), y))
    elif not lane.leaves and _has(index, lane.stops[0], "in"):
        x = sheet.point(lane.stops[0])[0] - sheet.reach_of(lane.stops[0])
        shapes += draw_open(x, y, _("open"), is_beginning=True)
    if lane.end:
        shapes.append(_draw_end(index, lane.end, sheet.middle(finish_column(sheet, lane)), y))
    elif not lane.returns and _has(index, lane.stops[-1], "out"):
        x = sheet.point(lane.stops[-1])[0] + sheet.reach_of(lane.stops[-1])
        shapes += draw_open(x, y, _("open"), is_beginning=False)
    return shapes


def _has(index: PlanIndex, ref: str, role: str) -> bool:
    """A tuner is no open end, and neither is a pedal without a jack to go on by."""
    pedal = index.pedals[fold(ref)]
    return any(jack.role == role for jack in pedal.jacks) and not (role == "out" and pedal.kind == "tuner")


def _draw_end(index: PlanIndex, end: str, x: float, y: float) -> Shape:
    words = end.replace(".", " ", 1)
    half = end_half(words)
    lettering = fit(words, NUMBER.face, LETTER + 1, LETTER, 2 * half - 6, 1.1 * (LETTER + 1))
    part = index.signal_parts.get(fold(split_end(end)[0]))
    said = (
        _("instrument") if isinstance(part, Source) else _("amp") if isinstance(part, Amp) else _("computer")
    )
    shapes = [hint(f"{end}, {said}"), rectangle(around(x, y, 2 * half, 2 * END_HALF), BODY.look(UNIT))]
    shapes += [write(NUMBER, lettering.size, line, x, y + 0.36 * LETTER) for line in lettering.lines]
    shapes.append(write(NOTE, LETTER, said, x, y + END_HALF + LETTER + 2))
    return group(shapes, class_="d-end")


def _draw_not_wired(
    pedals: Sequence[Pedal], extent: tuple[float, float], marks: StopMarks
) -> tuple[list[Shape], tuple[float, float]]:
    """A row, or several, of the pedals that no signal reaches."""
    width, top = extent
    if not pedals:
        return [], extent
    in_row = int((width - 2 * MARGIN) // (CELL + GAP))
    shapes = [write(NOTE, LETTER + 1, _("Not wired into the signal"), MARGIN, top + LETTER, "start")]
    for at, pedal in enumerate(pedals):
        row, column = divmod(at, in_row)
        x, y = MARGIN + CELL / 2 + column * (CELL + GAP), top + NOT_WIRED_ROOM + RADIUS + row * (BELOW + 30)
        shapes.append(_draw_stop(pedal, x, y, marks))
    below = (len(pedals) - 1) // in_row * (BELOW + 30) + RADIUS + BELOW
    return [group(shapes, class_="d-unplaced")], (width, top + NOT_WIRED_ROOM + below)


def _describe(
    lanes: Sequence[Lane], not_wired: Sequence[str], numbers: Mapping[str, int], index: PlanIndex
) -> str:
    """Lane by lane in words, for those who do not see it."""
    sentences = []
    for lane in lanes:
        begins = ".".join(lane.leaves) if lane.leaves else lane.start or _("open")
        ends = ".".join(lane.returns) if lane.returns else lane.end or _("open")
        stops = [
            f"{numbers.get(ref, '')} {index.pedals[fold(ref)].name or ref}".strip() for ref in lane.stops
        ]
        way = ", ".join((begins, *stops, ends))
        sentences.append(_("Lane %(number)d: %(way)s.") % {"number": lane.number, "way": way})
    if not_wired:
        sentences.append(_("Not wired into the signal: %(refs)s.") % {"refs": ", ".join(not_wired)})
    return " ".join(sentences)


def _wrap(
    title: str, words: str, extent: tuple[float, float], shapes: list[Shape], name: str, has_links: bool
) -> Shape:
    """A picture may hold nothing that takes the focus, so a drawing with links is a group."""
    width, height = (number(value) for value in extent)
    attributes = (
        ("xmlns", "http://www.w3.org/2000/svg"),
        ("class", "lanes-drawing"),
        ("viewBox", f"0 0 {width} {height}"),
        ("width", width),
        ("height", height),
        ("role", "group" if has_links else "img"),
        ("aria-labelledby", f"{name}-title"),
        ("aria-describedby", f"{name}-words"),
    )
    heading = Shape("title", (("id", f"{name}-title"),), text=title)
    description = Shape("desc", (("id", f"{name}-words"),), text=words)
    return Shape("svg", attributes, (heading, description, *shapes))
