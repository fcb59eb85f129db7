"""What a board stands on: frame, rails, tiers, keep-outs, supplies; and around it dimensions and leads."""

from collections.abc import Sequence

from django.utils.translation import gettext as _

from boardshop.boards.drawing.dimensions import arrow_head, arrow_line
from boardshop.boards.drawing.overlaps import Overlap
from boardshop.boards.drawing.pedals import Url, handle_of, is_same
from boardshop.boards.drawing.pens import (
    DIMENSION,
    FRAME,
    HATCH,
    KEEPOUT,
    LEAD_ARROW,
    MEASURE,
    MEMBER,
    MEMBER_HIDDEN,
    NOTE,
    OVERLAP,
    RAIL,
    REF,
    RUN,
    SUPPLY,
    SUPPLY_UNDER,
    TIER,
)
from boardshop.boards.drawing.runs import Flag, Label, draw_flag, flag_size
from boardshop.boards.drawing.shapes import Area, Shape, around, group, hint, polyline, rectangle
from boardshop.boards.drawing.sheet import NOTE_STEP, Sheet, entry_point, exit_point
from boardshop.boards.drawing.words import (
    Obstacle,
    best_spot,
    fit_letter,
    obstacles_in,
    text_area,
    write,
    write_in,
    write_upwards,
)
from boardshop.core.layout.geometry import Box, supply_box
from boardshop.core.plan import BoardPlan, Keepout, Member, Point, Supply, Tier

HATCH_STEP = 2.2
"""Distance of hatching lines, mm on paper."""
MOST_HATCH = 400
"""Lines in one area: a board file may keep a kilometre free."""


def draw_frame(sheet: Sheet) -> Shape:
    """Rails and tiers first, so that the frame's outline closes them."""
    frame, unit = sheet.frame, sheet.unit
    shapes = []
    for rail in frame.rails:
        band = sheet.area(Box(0, rail.from_y, frame.width, rail.to_y))
        shapes.append(polyline([(band.x, band.y), (band.right, band.y)], RAIL.look(unit)))
        shapes.append(polyline([(band.x, band.bottom), (band.right, band.bottom)], RAIL.look(unit)))
    shapes += [shape for tier in frame.tiers if len(frame.tiers) > 1 for shape in _draw_tier(tier, sheet)]
    return group(
        [*shapes, rectangle(sheet.frame_area, FRAME.look(unit), data_thing="frame edge")], class_="d-ground"
    )


def _draw_tier(tier: Tier, sheet: Sheet) -> list[Shape]:
    """Its rear edge, where another follows, and its height above the lowest."""
    unit, frame = sheet.unit, sheet.frame
    band = sheet.area(Box(0, tier.from_y, frame.width, tier.to_y))
    words = f"+{sheet.measure(tier.height)}" if tier.height else "0"
    label = write(MEASURE, NOTE.least * unit, words, band.right - unit, band.y + 2.6 * unit, "end")
    if tier.to_y >= frame.depth:
        return [label]
    return [polyline([(band.x, band.y), (band.right, band.y)], TIER.look(unit)), label]


def draw_keepout(number: int, keepout: Keepout, sheet: Sheet) -> Shape:
    """Dashed, hatched at 45 degrees, with its size and what it is for; numbered as findings name it."""
    area = sheet.area(Box(keepout.x, keepout.y, keepout.x + keepout.width, keepout.y + keepout.depth))
    size = f"{sheet.measure(keepout.width)}×{sheet.measure(keepout.depth)}"
    words = f"{keepout.why or _('kept free')} {size}"
    lettering = fit_letter(words, NOTE, sheet.unit, area.width - 2 * sheet.unit, area.height - sheet.unit)
    hatching = [polyline(line, HATCH.look(sheet.unit)) for line in hatch(area, HATCH_STEP * sheet.unit)]
    edge = rectangle(area, KEEPOUT.look(sheet.unit), data_thing=f"keepout {number}")
    return group([hint(words), *hatching, edge, *write_in(area, NOTE, lettering, words)], class_="d-part")


def draw_member(number: int, member: Member, sheet: Sheet) -> Shape:
    """A part of the frame under its top: dashed from above, with both diagonals from below."""
    area, unit = (
        sheet.area(Box(member.x, member.y, member.x + member.width, member.y + member.depth)),
        sheet.unit,
    )
    size = f"{sheet.measure(member.width)}×{sheet.measure(member.depth)}"
    shapes = [hint(f"{member.why or _('part of the frame')} {size}")]
    if not sheet.is_mirrored:
        return group([*shapes, rectangle(area, MEMBER_HIDDEN.look(unit))], class_="d-part")
    shapes.append(rectangle(area, MEMBER.look(unit), data_thing=f"member {number}"))
    for ends in (
        [(area.x, area.y), (area.right, area.bottom)],
        [(area.x, area.bottom), (area.right, area.y)],
    ):
        shapes.append(polyline(ends, HATCH.look(unit)))
    return group(shapes, class_="d-part")


def hatch(area: Area, step: float) -> list[list[tuple[float, float]]]:
    """Lines at 45 degrees that fill an area, one by one: a pattern would not print alike everywhere.

    An area far larger than its drawing gets MOST_HATCH lines, further apart, and no more.
    """
    lines = []
    reach = area.width + area.height
    step = max(step, reach / MOST_HATCH)
    at = step / 2
    while at < reach:
        x0, y0 = (area.x + at, area.y) if at <= area.width else (area.right, area.y + at - area.width)
        x1, y1 = (area.x, area.y + at) if at <= area.height else (area.x + at - area.height, area.bottom)
        lines.append([(x0, y0), (x1, y1)])
        at += step
    return lines


def draw_overlap(overlap: Overlap, sheet: Sheet) -> Shape:
    """Outlined and hatched more narrowly than what is kept free; named where a pointer rests."""
    area = sheet.area(overlap.box)
    hatching = [polyline(line, OVERLAP.look(sheet.unit)) for line in hatch(area, HATCH_STEP * sheet.unit / 2)]
    edge = rectangle(area, OVERLAP.look(sheet.unit))
    return group([hint(_("%(one)s and %(other)s overlap") % overlap.names), *hatching, edge], class_="d-part")


def draw_supply(
    supply: Supply, sheet: Sheet, taken: Sequence[Obstacle], selected: str | None, url: Url | None
) -> tuple[Shape, Area] | None:
    """The supply's outline, dashed when underneath, and the area of its ref; None without place or size."""
    box = supply_box(supply)
    if box is None or supply.place is None:
        return None
    area, unit = sheet.area(box), sheet.unit
    words = f"{supply.ref} {_('under')}" if supply.place.under else supply.ref
    label = _label_spot(area, words, unit, taken)
    states = " is-selected" if is_same(supply.ref, selected) else ""
    pen = SUPPLY_UNDER if supply.place.under else SUPPLY
    size = REF.height * unit
    shapes = (
        hint(f"{words} {supply.model or ''}".strip()),
        rectangle(area, pen.look(unit, *states.split()), data_ref=supply.ref),
        *write_in(label, REF, fit_letter(words, REF, unit, label.width + size, label.height + size), words),
    )
    target = url(supply.ref) if url else None
    if target is None:
        return Shape("g", (("class", f"d-mark{states}"),), shapes), label
    handle = handle_of(supply.ref, box, supply.place.turn)
    return Shape("a", (("class", f"d-mark{states}"), ("href", target), *handle), shapes), label


def draw_dimensions(sheet: Sheet) -> Shape:
    """Width below and depth at the left, clear of all that sticks out."""
    unit, frame, reach = sheet.unit, sheet.frame_area, sheet.reach_area
    y, x = reach.bottom + 6 * unit, reach.x - 10.5 * unit
    size = MEASURE.height * unit
    look = DIMENSION.look(unit)
    shapes = [
        polyline([(edge, frame.bottom + unit), (edge, y + unit)], look) for edge in (frame.x, frame.right)
    ]
    shapes += [polyline([(frame.x - unit, edge), (x - unit, edge)], look) for edge in (frame.y, frame.bottom)]
    shapes += arrow_line((frame.x, y), (frame.right, y), unit)
    shapes += arrow_line((x, frame.y), (x, frame.bottom), unit)
    width, depth = sheet.measure(sheet.frame.width), sheet.measure(sheet.frame.depth)
    shapes.append(write(MEASURE, size, width, frame.middle[0], y - 0.9 * unit))
    shapes.append(write_upwards(MEASURE, size, depth, x - 0.9 * unit, frame.middle[1]))
    return group(shapes, class_="d-ground")


def draw_notes(
    sheet: Sheet,
    scale: int | None,
    missing: Sequence[str],
    view: str = "",
    here: str = "",
    more: Sequence[str] = (),
) -> Shape:
    """Where the player stands, from where one looks, in which unit; and the runs that could not be drawn.

    ``more`` are further lines, as many as the sheet has room for.
    """
    unit, frame, reach = sheet.unit, sheet.frame_area, sheet.reach_area
    size = NOTE.height * unit
    x, y = frame.middle[0], reach.bottom + 10.8 * unit
    here = here or _("player stands here")
    wide = text_area(here, NOTE, unit, x, y).width / 2
    shapes = [write(NOTE, size, here, x, y)]
    for side in (-1, 1):
        ends = [
            (x + side * (wide + 2 * unit), y - 0.3 * size),
            (x + side * (wide + 5 * unit), y - 0.3 * size),
        ]
        shapes.append(polyline(ends, DIMENSION.look(unit)))
    said = say_view(view or _("View from above"), sheet.length_unit, scale)
    if missing:
        said += ". " + _("Not drawn, for want of a place or a way: %(refs)s") % {"refs": ", ".join(missing)}
    room = sheet.width - frame.x - unit
    for row, words in enumerate((said, *more)):
        lettering = fit_letter(words, NOTE, unit, room, 2.8 * unit)
        for line in lettering.lines:
            low = y + (5.6 + NOTE_STEP * row) * unit
            shapes.append(write(NOTE, lettering.size, line, frame.x, low, "start"))
    return group(shapes, class_="d-ground")


def say_view(view: str, length_unit: str, scale: int | None) -> str:
    """`View from above, dimensions in mm, scale 1:5`."""
    unit_words = {"mm": "mm", "cm": "cm", "in": _("inches")}[length_unit]
    said = _("%(view)s, dimensions in %(unit)s") % {"view": view, "unit": unit_words}
    return said if scale is None else said + ", " + _("scale 1:%(scale)d") % {"scale": scale}


def draw_leads(plan: BoardPlan, sheet: Sheet) -> Shape:
    """Where the instrument lead arrives and the amp lead leaves, each with its pennant."""
    arriving = " ".join(source.ref for source in plan.sources) or _("in")
    leaving = " ".join(amp.ref for amp in plan.amps) or _("out")
    return group(
        [
            *_draw_lead(sheet, entry_point(plan.frame), arriving, comes_in=True),
            *_draw_lead(sheet, exit_point(plan.frame), leaving, comes_in=False),
        ],
        class_="d-ground",
    )


def _draw_lead(sheet: Sheet, at: Point, words: str, comes_in: bool) -> list[Shape]:
    """A short line out over the nearest edge; at a corner over the rear one."""
    unit = sheet.unit
    frame = sheet.frame
    away = {"rear": frame.depth - at.y, "left": at.x, "right": frame.width - at.x, "front": at.y}
    side = min(away, key=lambda name: away[name])
    out_x, out_y = {"rear": (0, -1), "left": (-1, 0), "right": (1, 0), "front": (0, 1)}[side]
    x, y = sheet.point(at.x, at.y)
    end = (x + out_x * 3.4 * unit, y + out_y * 3.4 * unit)
    width, height = flag_size(Label(words), unit)
    middle = (end[0] + out_x * width / 2, end[1] + out_y * height / 2)
    points_left = (side == "right") if comes_in else (side != "right")
    tip, tail = ((x, y), end) if comes_in else (end, (x, y))
    line = polyline([(x, y), end], RUN.look(unit))
    flag = draw_flag(Flag(around(*middle, width, height), points_left), Label(words), unit)
    return [line, arrow_head(tail, tip, unit, LEAD_ARROW), *flag]


def _label_spot(area: Area, words: str, unit: float, taken: Sequence[Obstacle]) -> Area:
    """Inside the outline, from its upper left corner on, or against it from outside."""
    own = text_area(words, REF, unit, 0, 0)
    half, free = own.width / 2 + unit, max(area.width - own.width - 2 * unit, 0)
    rise = own.height / 2 + 0.5 * unit
    columns = [area.x + half + free * part / 6 for part in range(7)]
    inside = [area.y + rise, area.bottom - rise, *(area.y + area.height * part / 5 for part in range(1, 5))]
    rows = [*inside, area.y - rise, area.bottom + rise]
    spots = (text_area(words, REF, unit, x, y) for y in rows for x in columns)
    return best_spot(spots, obstacles_in(area.grown(own.width + own.height), taken))
