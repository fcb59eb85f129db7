"""`draw_board`: one board, one SVG."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from boardshop.boards.drawing.bends import find_bends
from boardshop.boards.drawing.cable_marks import NO_CABLING, Cabling, draw_over_runs
from boardshop.boards.drawing.corners import draw_corners
from boardshop.boards.drawing.details import draw_inside, draw_running, draw_slots, draw_strokes, list_details
from boardshop.boards.drawing.found import Mark, draw_marks, place_tags
from boardshop.boards.drawing.ground import (
    draw_dimensions,
    draw_frame,
    draw_keepout,
    draw_leads,
    draw_member,
    draw_notes,
    draw_overlap,
    draw_supply,
)
from boardshop.boards.drawing.measured import Over
from boardshop.boards.drawing.overlaps import Overlap, find_overlaps
from boardshop.boards.drawing.pedals import (
    PedalMarks,
    Url,
    draw_balloon,
    draw_body,
    draw_face,
    handle_of,
    is_same,
    mark_pedals,
    plugs_of,
)
from boardshop.boards.drawing.pens import NAME, NOTE
from boardshop.boards.drawing.runs import (
    DrawnRun,
    Labels,
    RunPath,
    draw_run,
    draw_run_flag,
    place_flags,
    trace_runs,
)
from boardshop.boards.drawing.shapes import (
    Area,
    Attributes,
    Shape,
    around,
    drawn_once,
    group,
    hint,
    number,
    to_svg,
)
from boardshop.boards.drawing.sheet import LEFT, LIST_HEAD, LIST_STEP, LIST_WIDTH, Sheet, lay_out
from boardshop.boards.drawing.words import Obstacle, fit_letter, write
from boardshop.core.index import index_plan
from boardshop.core.lengths import show_length
from boardshop.core.numbering import number_pedals
from boardshop.core.plan import BoardPlan, Pedal, PlugType


@dataclass(frozen=True, slots=True)
class DrawnState:
    """A board's shapes, where its lettering ended up, and the drawing in words."""

    shapes: list[Shape]
    marks: tuple[PedalMarks, ...]
    labels: tuple[Area, ...]
    words: str


def draw_board(
    plan: BoardPlan,
    *,
    runs: Sequence[RunPath] = (),
    numbers: Mapping[str, int] | None = None,
    selected: str | None = None,
    url: Url | None = None,
    scale: int | None = None,
    length_unit: str = "mm",
    name: str = "board-drawing",
    details: bool = False,
    marks: Sequence[Mark] = (),
    over: Over | None = None,
    wide: bool = False,
) -> str:
    """The board from above as one SVG element, safe to put into a page or a paper as it is.

    ``runs`` are those of core.cables.runs.measure_runs; one without a way is named in the notes.
    ``numbers`` by ref for the balloons, those of `number_pedals` when left out; without one, the ref.
    ``selected`` is the ref of a pedal, link or supply to bring out, or several parted by spaces.
    ``url`` gives the address of a ref's row, or None; with it, pedals, pennants and supplies are links.
    ``scale`` n draws 1:n on paper, with width and height in mm; without it the drawing fills what holds it.
    ``length_unit`` in which dimensions are written: mm, cm or in.
    ``name`` keeps the ids of several drawings on one page apart.
    ``details`` adds slots, strokes of treadles, ways of jacks, corners, heights and depths of the rails.
    ``marks`` are those of `list_marks`, for what is found to stand on the drawing.
    ``over`` draws above everything; ``wide`` makes the runs links, too, wide enough for a finger.
    """
    numbers = number_pedals(plan) if numbers is None else numbers
    notes = list_details(plan, length_unit) if details else []
    sheet = lay_out_board(plan, runs, scale, length_unit, details)
    more = Cabling(wide, traced=bool(runs))
    state = draw_state(plan, sheet, runs, numbers, selected, url, scale, notes=notes, found=marks, more=more)
    shapes = [*state.shapes, *([over(sheet)] if over else [])]
    title = _("Drawing of %(board)s") % {"board": plan.name}
    size = sheet.width, sheet.height
    svg = wrap(title, state.words, size, shapes, scale, name, has_links=url is not None)
    return to_svg(replace(svg, attributes=(*svg.attributes, *_say_origin(sheet))))


def _say_origin(sheet: Sheet) -> Attributes:
    """Where the frame's front left corner is, for a script that measures on the drawing."""
    left, front = sheet.point(0, 0)
    return (("data-mm-per-unit", 1), ("data-origin-x", left), ("data-origin-y", front))


def lay_out_board(
    plan: BoardPlan,
    runs: Sequence[RunPath],
    scale: int | None = None,
    length_unit: str = "mm",
    details: bool = False,
) -> Sheet:
    """The sheet that draw_board draws on, for what is laid over its drawing."""
    points = [point for run in runs for point in run.points]
    rows = len(list_details(plan, length_unit)) if details else 0
    return lay_out(plan, points, scale, length_unit, note_rows=rows)


def draw_state(
    plan: BoardPlan,
    sheet: Sheet,
    runs: Sequence[RunPath],
    numbers: Mapping[str, int],
    selected: str | None = None,
    url: Url | None = None,
    scale: int | None = None,
    labels: Labels | None = None,
    beneath: Sequence[Shape] = (),
    notes: Sequence[str] = (),
    found: Sequence[Mark] = (),
    more: Cabling = NO_CABLING,
) -> DrawnState:
    """Everything of one board on a sheet that is laid out already; arguments as for draw_board.

    ``labels`` is what pennants say instead of their run's ref; ``beneath`` lies under runs and lettering;
    ``notes`` are those of list_details, which come with the details; ``found`` is marked above everything.
    ``more`` says what is drawn of the runs besides their ways.
    """
    marks = mark_pedals(plan, sheet, numbers)
    overlaps = find_overlaps(plan, {one.pedal.ref: _called(one) for one in marks})
    drawn, missing = trace_runs(sheet, runs, labels, find_bends(plan, sheet))
    has_details = bool(notes)
    over_runs = draw_over_runs(more, plan, sheet, drawn, selected, url)
    signs = place_tags(found, sheet), over_runs
    shown, lettered = _draw_marks(plan, sheet, marks, drawn, selected, url, *signs)
    shapes = [
        *_draw_ground(plan, sheet, marks, selected, has_details),
        *(draw_overlap(overlap, sheet) for overlap in overlaps),
        *beneath,
        *shown,
        draw_leads(plan, sheet),
        *_draw_measures(sheet, has_details),
        draw_notes(sheet, scale, missing, more=notes),
        *_draw_unplaced(plan, sheet, numbers, url),
        *([draw_marks(found, sheet)] if found else []),
    ]
    return DrawnState(shapes, marks, lettered, _describe(sheet, marks, overlaps))


def _draw_ground(
    plan: BoardPlan,
    sheet: Sheet,
    marks: Sequence[PedalMarks],
    selected: str | None,
    has_details: bool,
) -> Iterator[Shape]:
    """What lies beneath the runs."""
    index = index_plan(plan)
    yield from _draw_bare(sheet, has_details)
    for one in marks:
        plugs = plugs_of(index, one.pedal)
        yield _draw_body(one, plugs, sheet, is_same(one.pedal.ref, selected), has_details)


@drawn_once(64)
def _draw_bare(sheet: Sheet, has_details: bool) -> tuple[Shape, ...]:
    """The frame with nothing on it."""
    frame = sheet.frame
    slots = draw_slots(sheet) if has_details else ()
    members = (draw_member(n, part, sheet) for n, part in enumerate(frame.members, start=1))
    keepouts = (draw_keepout(n, kept, sheet) for n, kept in enumerate(frame.keepouts, start=1))
    return (*slots, draw_frame(sheet), *members, *keepouts)


@drawn_once(64)
def _draw_measures(sheet: Sheet, has_details: bool) -> tuple[Shape, ...]:
    """The frame's dimensions, with the details also those of its rails and the names of its corners."""
    more = (draw_running(sheet), draw_corners(sheet)) if has_details else ()
    return draw_dimensions(sheet), *more


@drawn_once(1024)
def _draw_body(
    one: PedalMarks,
    plugs: tuple[PlugType | None, ...],
    sheet: Sheet,
    is_selected: bool,
    has_details: bool,
) -> Shape:
    if not has_details:
        return draw_body(one, plugs, sheet, is_selected)
    beneath, inside = draw_strokes(one.pedal, sheet), draw_inside(one.pedal, sheet)
    return draw_body(one, plugs, sheet, is_selected, beneath, inside)


def _draw_marks(
    plan: BoardPlan,
    sheet: Sheet,
    marks: Sequence[PedalMarks],
    drawn: Sequence[DrawnRun],
    selected: str | None,
    url: Url | None,
    tags: Sequence[Area] = (),
    over_runs: Sequence[Shape] = (),
) -> tuple[list[Shape], tuple[Area, ...]]:
    """Runs with what lies over them, outlines of supplies, and above them all that is read: names, balloons,
    refs, pennants.

    With the areas of the last two.  What is found stands at `tags`, which they keep clear of.
    """
    unit = sheet.unit
    chosen_last = sorted(drawn, key=lambda run: is_same(run.link.ref, selected))
    shapes = [*(draw_run(run, unit, selected) for run in chosen_last), *over_runs]
    taken: list[Obstacle] = [(one.balloon.grown(0.4 * unit), 3.0) for one in marks]
    taken += [(one.name_area.grown(0.4 * unit), 1.0) for one in marks]
    taken += [(tag, 2.0) for tag in tags]
    crossed = [(leg, 0.5) for run in drawn for leg in run.leg_areas(unit)]
    labels = []
    for supply in plan.supplies:
        outline = draw_supply(supply, sheet, (*taken, *crossed), selected, url)
        if outline:
            shapes.append(outline[0])
            labels.append(outline[1])
            taken.append((outline[1], 2.0))
    shapes += [draw_face(one, sheet, selected, url) for one in marks]
    taken += [(one.body, 0.1) for one in marks]
    flags = place_flags(drawn, unit, taken, sheet.flag_room)
    pairs = zip(drawn, flags, strict=True)
    shapes += [draw_run_flag(run, flag, unit, selected, url) for run, flag in pairs]
    return shapes, (*labels, *(flag.area for flag in flags))


def wrap(
    title_words: str,
    description: str,
    extent: tuple[float, float],
    shapes: list[Shape],
    scale: int | None,
    name: str,
    has_links: bool,
) -> Shape:
    """The SVG element itself, of that width and height, with a title and a description in words.

    A picture may hold nothing that takes the focus, so a drawing with links is a group.
    """
    width, height = extent
    size = f"{number(width)} {number(height)}"
    attributes = [
        ("xmlns", "http://www.w3.org/2000/svg"),
        ("class", "board-drawing"),
        ("viewBox", f"0 0 {size}"),
        ("role", "group" if has_links else "img"),
        ("aria-labelledby", f"{name}-title"),
        ("aria-describedby", f"{name}-words"),
    ]
    if scale is not None:
        attributes += [("width", f"{width / scale:.2f}mm"), ("height", f"{height / scale:.2f}mm")]
    title = Shape("title", (("id", f"{name}-title"),), text=title_words)
    words = Shape("desc", (("id", f"{name}-words"),), text=description)
    return Shape("svg", tuple(attributes), (title, words, *shapes))


def _describe(sheet: Sheet, marks: Sequence[PedalMarks], overlaps: Sequence[Overlap]) -> str:
    placed = ngettext("%(count)d pedal", "%(count)d pedals", len(marks)) % {"count": len(marks)}
    said = _(
        "%(placed)s on a frame %(width)s wide and %(depth)s deep, seen from above, the player below."
    ) % {
        "placed": placed,
        "width": show_length(sheet.frame.width, sheet.length_unit),
        "depth": show_length(sheet.frame.depth, sheet.length_unit),
    }
    names = ", ".join(_called(one) for one in marks)
    said = f"{said} {names}." if names else said
    clashes = (_("%(one)s and %(other)s overlap, which is hatched.") % overlap.names for overlap in overlaps)
    return " ".join((said, *clashes))


def _called(marks: PedalMarks) -> str:
    """By its balloon and its name: `1 Tell True`."""
    return f"{marks.number} {marks.pedal.name or marks.pedal.ref}"


def _draw_unplaced(plan: BoardPlan, sheet: Sheet, numbers: Mapping[str, int], url: Url | None) -> list[Shape]:
    """Pedals without a place stand in a list under the drawing, row by row."""
    pedals = [pedal for pedal in plan.pedals if pedal.place is None]
    if not pedals:
        return []
    unit, left, top = sheet.unit, LEFT * sheet.unit, sheet.list_top + 2 * sheet.unit
    shapes = [write(NOTE, NOTE.height * unit, _("Not placed yet"), left, top, "start")]
    for at, pedal in enumerate(pedals):
        row, column = divmod(at, sheet.list_columns)
        x, y = left + column * LIST_WIDTH * unit, top + LIST_HEAD * unit + row * LIST_STEP * unit
        shapes.append(_draw_unplaced_one(pedal, str(numbers.get(pedal.ref, pedal.ref)), x, y, unit, url))
    return [group(shapes, class_="d-unplaced")]


def _draw_unplaced_one(pedal: Pedal, words: str, x: float, y: float, unit: float, url: Url | None) -> Shape:
    balloon = around(x + 2.5 * unit, y - 0.9 * unit, 5 * unit, 5 * unit)
    title = pedal.name or pedal.ref
    lettering = fit_letter(title, NAME, unit, (LIST_WIDTH - 9) * unit, 3 * unit)
    shapes = [hint(f"{title} {words}"), *draw_balloon(balloon, words, unit)]
    shapes += [write(NAME, lettering.size, line, x + 6.5 * unit, y, "start") for line in lettering.lines]
    target = url(pedal.ref) if url else None
    if target is None:
        return group(shapes, class_="d-pedal")
    handle = handle_of(pedal.ref)
    return Shape("a", (("class", "d-pedal"), ("href", target), *handle), tuple(shapes))
