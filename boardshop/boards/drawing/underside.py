"""`draw_underside`: the board turned over sideways, as it lies on the bench with its bottom up."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from boardshop.boards.drawing.board import wrap
from boardshop.boards.drawing.cable_marks import PASS_MM, draw_bridges, draw_drops
from boardshop.boards.drawing.corners import draw_corners
from boardshop.boards.drawing.ground import (
    draw_dimensions,
    draw_frame,
    draw_keepout,
    draw_member,
    draw_notes,
)
from boardshop.boards.drawing.measured import Over
from boardshop.boards.drawing.pedals import (
    PedalMarks,
    Url,
    draw_balloon,
    is_same,
    mark_pedals,
)
from boardshop.boards.drawing.pens import HIDDEN, MEASURE, NAME, PASS, REF, RUN, STROKE, SUPPLY
from boardshop.boards.drawing.power_signs import draw_alternating, draw_direct
from boardshop.boards.drawing.runs import DrawnRun, RunPath, draw_run, draw_run_flag, place_flags, trace_runs
from boardshop.boards.drawing.shapes import Area, Shape, circle, group, hint, rectangle, to_svg
from boardshop.boards.drawing.sheet import Sheet, lay_out
from boardshop.boards.drawing.words import Obstacle, best_spot, fit_letter, write, write_in
from boardshop.core.cables.drops import has_openings_on_record
from boardshop.core.layout.geometry import beside_box, supply_box, turned_side
from boardshop.core.layout.rules import DC_PLUG_MM, MAINS_PLUG_MM
from boardshop.core.layout.supply_checks import free_height
from boardshop.core.lengths import show_length
from boardshop.core.numbering import number_pedals
from boardshop.core.plan import BoardPlan, Supply


def draw_underside(
    plan: BoardPlan,
    *,
    runs: Sequence[RunPath] = (),
    numbers: Mapping[str, int] | None = None,
    selected: str | None = None,
    url: Url | None = None,
    scale: int | None = None,
    length_unit: str = "mm",
    name: str = "underside-drawing",
    over: Over | None = None,
) -> str:
    """The board from below as one SVG element; arguments as for draw_board.

    It is turned over about the line from front to rear: the front stays in front, right and left change.
    """
    numbers = number_pedals(plan) if numbers is None else numbers
    under = [run for run in runs if run.link.route == "under"]
    notes = _list_notes(plan, under, length_unit)
    sheet = lay_out_underside(plan, runs, scale, length_unit)
    marks = _mark_clear(plan, sheet, numbers)
    drawn, missing = trace_runs(sheet, under)
    shapes = [
        draw_frame(sheet),
        *(draw_keepout(n, kept, sheet) for n, kept in enumerate(plan.frame.keepouts, start=1)),
        *_draw_above(plan, marks, sheet),
        *(draw_member(n, part, sheet) for n, part in enumerate(plan.frame.members, start=1)),
        *_draw_supplies(plan, sheet, selected, url),
        *(group([hint(_called(one)), *draw_balloon(one.balloon, one.number, sheet.unit)]) for one in marks),
        *_draw_runs(plan, sheet, drawn, marks, selected, url),
        draw_corners(sheet),
        draw_dimensions(sheet),
        _draw_heading(sheet),
        draw_notes(sheet, scale, missing, _("View from below"), _("front edge, towards the player"), notes),
    ]
    shapes += [over(sheet)] if over else []
    size = sheet.width, sheet.height
    title = _("Underside of %(board)s") % {"board": plan.name}
    svg = wrap(title, _describe(plan, sheet), size, shapes, scale, name, has_links=url is not None)
    return to_svg(replace(svg, attributes=(*svg.attributes, ("data-mirrored", "yes"))))


def _draw_heading(sheet: Sheet) -> Shape:
    """Above the drawing, so that nobody drills by its mirror."""
    frame = sheet.frame_area
    size = NAME.height * 1.15 * sheet.unit
    lettering = fit_letter(say_mirrored(), NAME, 1.15 * sheet.unit, frame.width, 2 * size)
    x, y = frame.x, sheet.reach_area.y - 3 * sheet.unit
    return group([write(NAME, lettering.size, line, x, y, "start") for line in lettering.lines])


def _mark_clear(plan: BoardPlan, sheet: Sheet, numbers: Mapping[str, int]) -> tuple[PedalMarks, ...]:
    """The pedals with their balloons clear of the supplies as far as the bodies reach beyond them."""
    supplies = [sheet.area(box) for one in plan.supplies if (box := supply_box(one))]
    taken = [(area.grown(0.4 * sheet.unit), 1.0) for area in supplies]
    found = []
    for one in mark_pedals(plan, sheet, numbers):
        size, body = one.balloon.width, one.body
        free = max(body.width - size, 0), max(body.height - size, 0)
        middle_first = sorted(range(9), key=lambda part: (abs(part - 4), part))
        spots = (
            Area(body.x + free[0] * column / 8, body.y + free[1] * row / 8, size, size)
            for row in middle_first
            for column in middle_first
        )
        found.append(replace(one, balloon=best_spot(spots, taken)))
    return tuple(found)


def lay_out_underside(
    plan: BoardPlan, runs: Sequence[RunPath], scale: int | None = None, length_unit: str = "mm"
) -> Sheet:
    """The sheet that draw_underside draws on, for what is laid over its drawing."""
    under = [run for run in runs if run.link.route == "under"]
    points = [point for run in under for point in run.points]
    rows = len(_list_notes(plan, under, length_unit))
    return lay_out(plan, points, scale, length_unit, is_mirrored=True, note_rows=rows, lists=False)


def say_mirrored() -> str:
    return _("UNDERSIDE – mirrored: the player’s right is on the left here")


def _draw_above(plan: BoardPlan, marks: Sequence[PedalMarks], sheet: Sheet) -> Iterator[Shape]:
    """What stands on the other side, dashed: pedals, and supplies on top."""
    for one in marks:
        outline = rectangle(one.body, HIDDEN.look(sheet.unit), data_thing=one.pedal.ref)
        shapes = [hint(_called(one)), outline]
        yield group(shapes, class_="d-part is-beyond")
    for supply in plan.supplies:
        box = supply_box(supply)
        if box and supply.place and not supply.place.under:
            yield rectangle(sheet.area(box), HIDDEN.look(sheet.unit))


def _draw_supplies(plan: BoardPlan, sheet: Sheet, selected: str | None, url: Url | None) -> Iterator[Shape]:
    for supply in plan.supplies:
        box = supply_box(supply)
        if box is None or supply.place is None or not supply.place.under:
            continue
        area, unit = sheet.area(box), sheet.unit
        states = " is-selected" if is_same(supply.ref, selected) else ""
        words = f"{supply.ref} {supply.model or ''}".strip()
        lettering = fit_letter(words, REF, unit, area.width - 2 * unit, 0.45 * area.height)
        shapes = (
            hint(words),
            rectangle(area, SUPPLY.look(unit, *states.split()), data_ref=supply.ref),
            *write_in(area, REF, lettering, words),
            *_write_size(plan, supply, area, sheet),
        )
        yield from _draw_plug_sides(supply, sheet)
        yield _linked(supply.ref, f"d-mark{states}", shapes, url)


def _draw_plug_sides(supply: Supply, sheet: Sheet) -> Iterator[Shape]:
    """What its DC plugs and its mains plug need beside it, where their sides are recorded."""
    box, place, unit = supply_box(supply), supply.place, sheet.unit
    if box is None or place is None:
        return
    inlet = supply.mains.inlet if supply.mains else None
    mains_mm = MAINS_PLUG_MM[inlet] if inlet else max(MAINS_PLUG_MM.values())
    for side, reach, words in (
        (supply.outlet_side, DC_PLUG_MM, _("outlets")),
        (supply.inlet_side, mains_mm, _("mains inlet")),
    ):
        if side is None:
            continue
        area = sheet.area(beside_box(box, turned_side(side, place.turn), reach))
        sign = (
            draw_direct(*area.middle, unit) if reach == DC_PLUG_MM else [draw_alternating(*area.middle, unit)]
        )
        title = hint(f"{supply.ref} {words}")
        yield group([title, rectangle(area, STROKE.look(unit)), *sign], class_="d-part")


def _write_size(plan: BoardPlan, supply: Supply, area: Area, sheet: Sheet) -> Iterator[Shape]:
    """Its height along its rear edge; along its front edge the least free height over its whole depth."""
    size = MEASURE.least * sheet.unit * 0.8
    if area.height < 4.6 * size or area.width < 9 * size:
        return
    high = "?" if supply.height is None else sheet.measure(supply.height)
    yield write(MEASURE, size, _("%(height)s high") % {"height": high}, area.middle[0], area.y + 1.1 * size)
    box = supply_box(supply)
    if box is not None and plan.frame.under is not None:
        least = min(int(free_height(plan, plan.frame.under, y)) for y in (box.y0, box.y1))
        told = _("room %(height)s") % {"height": sheet.measure(least)}
        yield write(MEASURE, size, told, area.middle[0], area.bottom - 0.4 * size)


def _draw_runs(
    plan: BoardPlan,
    sheet: Sheet,
    drawn: Sequence[DrawnRun],
    marks: Sequence[PedalMarks],
    selected: str | None,
    url: Url | None,
) -> Iterator[Shape]:
    """Cables that run underneath, and a ring where each passes through the frame.

    Where the rails are not recorded nobody knows the openings, and the ring is drawn at the plug.
    """
    unit = sheet.unit
    for run in drawn:
        yield draw_run(run, unit, selected, RUN)
        if not has_openings_on_record(plan.frame):
            yield from (circle(*end, PASS_MM, PASS.look(unit)) for end in (run.points[0], run.points[-1]))
    yield from draw_drops(plan, sheet)
    yield from draw_bridges(plan, sheet, drawn)
    taken: list[Obstacle] = [(one.balloon.grown(0.4 * unit), 3.0) for one in marks]
    boxes = [box for supply in plan.supplies if (box := supply_box(supply))]
    taken += [(sheet.area(box), 0.5) for box in boxes]
    flags = place_flags(drawn, unit, taken, sheet.flag_room)
    for run, flag in zip(drawn, flags, strict=True):
        yield draw_run_flag(run, flag, unit, selected, url)


def _list_notes(plan: BoardPlan, under: Sequence[RunPath], length_unit: str) -> list[str]:
    notes = [_("Dashed: what stands on the top. The filled corner is the front right one in every view.")]
    if plan.frame.under is None:
        notes.append(_("Height under the frame not recorded"))
    else:
        front, rear = (
            show_length(int(one), length_unit) for one in (plan.frame.under.front, plan.frame.under.rear)
        )
        said = _("Height under the frame: %(front)s at the front edge, %(rear)s at the rear")
        notes.append(said % {"front": front, "rear": rear})
    hanging = [one for one in plan.supplies if one.place and one.place.under]
    unsaid = [one.ref for one in hanging if one.outlet_side is None or one.inlet_side is None]
    if unsaid:
        said = _("Side of the outlets or of the mains inlet not recorded: %(refs)s")
        notes.append(said % {"refs": ", ".join(unsaid)})
    if plan.frame.members:
        notes.append(_("Crossed: parts of the frame under its top%(named)s") % {"named": _name_members(plan)})
    if under:
        notes.append(_("Rings: where a cable passes through the frame"))
    return notes


def _name_members(plan: BoardPlan) -> str:
    named = dict.fromkeys(member.why for member in plan.frame.members if member.why)
    return f" ({', '.join(named)})" if named else ""


def _called(marks: PedalMarks) -> str:
    return f"{marks.number} {marks.pedal.name or marks.pedal.ref}"


def _linked(ref: str, kind: str, shapes: tuple[Shape, ...], url: Url | None) -> Shape:
    target = url(ref) if url else None
    if target is None:
        return Shape("g", (("class", kind),), shapes)
    return Shape("a", (("class", kind), ("href", target)), shapes)


def _describe(plan: BoardPlan, sheet: Sheet) -> str:
    placed = [one for one in plan.supplies if one.place and one.place.under and supply_box(one)]
    said = ngettext("%(count)d supply", "%(count)d supplies", len(placed)) % {"count": len(placed)}
    seen = _("%(supplies)s under a frame %(width)s wide and %(depth)s deep.") % {
        "supplies": said,
        "width": show_length(sheet.frame.width, sheet.length_unit),
        "depth": show_length(sheet.frame.depth, sheet.length_unit),
    }
    return f"{say_mirrored()}. {seen}"
