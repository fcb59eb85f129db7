"""`draw_side`: the board from the player's right, to scale, with what stays free under lid and frame."""

from collections.abc import Iterator, Mapping, Sequence

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from boardshop.boards.drawing.board import wrap
from boardshop.boards.drawing.dimensions import backed
from boardshop.boards.drawing.pedals import Url, is_same
from boardshop.boards.drawing.pens import (
    BODY,
    CASE,
    DECK,
    FLOOR,
    HATCH,
    HIDDEN,
    LID,
    NAME,
    OPEN,
    REF,
    STROKE,
    SUPPLY,
    TIER,
)
from boardshop.boards.drawing.shapes import Attributes, Shape, group, hint, polygon, polyline, to_svg
from boardshop.boards.drawing.side_notes import (
    draw_balloons,
    draw_heights,
    draw_least,
    draw_list,
    draw_side_notes,
    list_side_notes,
    say_height,
)
from boardshop.boards.drawing.side_sheet import GUESSED_HEIGHT, SideSheet, Standing, lay_out_side
from boardshop.core.index import fold
from boardshop.core.layout.supply_checks import UnderSupply
from boardshop.core.lengths import show_length
from boardshop.core.numbering import number_pedals
from boardshop.core.plan import BoardPlan

FLOOR_TICKS = 3.0
"""Distance of the floor's hatching, mm on paper."""


def draw_side(
    plan: BoardPlan,
    *,
    numbers: Mapping[str, int] | None = None,
    selected: str | None = None,
    url: Url | None = None,
    scale: int | None = None,
    length_unit: str = "mm",
    name: str = "side-drawing",
) -> str:
    """The board from the player's right as one SVG element; arguments as for draw_board.

    What is not recorded is drawn open with a question mark, and said.
    """
    numbers = number_pedals(plan) if numbers is None else numbers
    called = {fold(ref): str(number) for ref, number in numbers.items()}
    notes = list_side_notes(plan, called, length_unit)
    sheet = lay_out_side(plan, scale, length_unit, len(notes))
    shapes = [
        *_draw_frame(sheet),
        *(_draw_under(placed, sheet, selected) for placed in sheet.under),
        *(_draw_body(one, sheet, called, selected) for one in _known_first(sheet)),
        *_draw_hidden(sheet),
        *(shape for one in sheet.standing for shape in _draw_toe(one, sheet)),
        *_draw_lid(sheet),
        draw_heights(sheet),
        draw_least(plan, sheet),
        *draw_balloons(sheet, called, selected, url),
        draw_side_notes(sheet, scale, notes),
        *draw_list(plan, sheet, called, url),
    ]
    title = _("Side view of %(board)s") % {"board": plan.name}
    size = sheet.width, sheet.height
    return to_svg(wrap(title, _describe(plan, sheet, called), size, shapes, scale, name, url is not None))


def _draw_frame(sheet: SideSheet) -> list[Shape]:
    """Floor, the frame's two ends, the top: broad on the rails, thin over the slots; risers of tiers."""
    frame, unit = sheet.frame, sheet.unit
    shapes = list(_draw_floor(sheet))
    for tier in frame.tiers:
        if tier.height:
            riser = sheet.box(tier.from_y, tier.to_y, 0, tier.height)
            shapes.append(polygon(riser, TIER.look(unit)))
    ends = [(0, 0), (frame.depth, 0)]
    shapes.append(polyline([sheet.point(*end) for end in ends], CASE.look(unit)))
    rails = [(rail.from_y, rail.to_y) for rail in frame.rails] or [(0, frame.depth)]
    for low, high in rails:
        shapes.append(polyline([sheet.point(low, 0), sheet.point(high, 0)], DECK.look(unit)))
    return [group(shapes, class_="d-ground")]


def _draw_floor(sheet: SideSheet) -> Iterator[Shape]:
    frame, unit = sheet.frame, sheet.unit
    if frame.under is None:
        return
    front, rear = sheet.point(0, -frame.under.front), sheet.point(frame.depth, -frame.under.rear)
    for top, foot in ((sheet.point(0, 0), front), (sheet.point(frame.depth, 0), rear)):
        yield polyline([top, foot], CASE.look(unit))
    left, right, level = front[0] - 6 * unit, rear[0] + 6 * unit, front[1]
    yield polyline([(left, level), (right, level)], FLOOR.look(unit))
    step = FLOOR_TICKS * unit
    for tick in range(int((right - left) / step)):
        x = left + (tick + 1) * step
        yield polyline([(x, level), (x - 1.6 * unit, level + 1.6 * unit)], HATCH.look(unit))


def _draw_under(placed: UnderSupply, sheet: SideSheet, selected: str | None) -> Shape:
    """It hangs from the frame's top; open below where its height is not recorded."""
    unit, box, supply = sheet.unit, placed.box, placed.supply
    states = ("is-selected",) if is_same(supply.ref, selected) else ()
    deep = -(supply.height or GUESSED_HEIGHT)
    corners = sheet.box(box.y0, box.y1, 0, deep)
    x, y = sheet.point((box.y0 + box.y1) / 2, deep / 2)
    if supply.height is None:
        words, size, outline = f"{supply.ref} ?", "?", _draw_open(corners, unit, *states)
    else:
        words, outline = supply.ref, polygon(corners, SUPPLY.look(unit, *states))
        size = _("%(height)s high") % {"height": show_length(supply.height, sheet.length_unit)}
    title = hint(f"{supply.ref} {supply.model or ''}: {size}")
    return group([title, outline, *backed(REF, words, x, y, unit)], class_="d-part", data_part=supply.ref)


def _known_first(sheet: SideSheet) -> list[Standing]:
    """What is not recorded is drawn last, so that nothing nearer hides the question."""
    return sorted(sheet.standing, key=lambda one: not one.is_known)


def _draw_body(one: Standing, sheet: SideSheet, called: Mapping[str, str], selected: str | None) -> Shape:
    """Its outline, which hides what lies farther to the left; open at the top where no height is recorded."""
    unit, box = sheet.unit, one.body.box
    states = ("is-selected",) if is_same(one.body.ref, selected) else ()
    corners = sheet.box(box.y0, box.y1, one.low, one.high)
    words = f"{called.get(fold(one.body.ref), one.body.ref)} {_title(one)}: {say_height(one, sheet)}"
    if one.is_known:
        shapes = [polygon(corners, BODY.look(unit, *states))]
    else:
        x, y = sheet.point((box.y0 + box.y1) / 2, (one.low + one.high) / 2)
        shapes = [_draw_open(corners, unit, *states), *backed(NAME, "?", x, y, unit)]
    return group([hint(words), *shapes], class_="d-part", data_part=one.body.ref)


def _draw_hidden(sheet: SideSheet) -> Iterator[Shape]:
    """Edges that a nearer body hides, dashed, each shape once; touching outlines hide nothing."""
    seen: set[tuple[int, ...]] = set()
    for one in reversed(sheet.standing):
        box = one.body.box
        outline = box.y0, box.y1, one.low, one.high
        nearer = (_covers(other, outline) for other in seen)
        if outline not in seen and any(nearer) and one.is_known:
            corners = sheet.box(*outline)
            yield polyline([*corners, corners[0]], HIDDEN.look(sheet.unit))
        seen.add(outline)


def _covers(one: tuple[int, ...], other: tuple[int, ...]) -> bool:
    return one[0] < other[1] and other[0] < one[1] and one[2] < other[3] and other[2] < one[3]


def _draw_toe(one: Standing, sheet: SideSheet) -> list[Shape]:
    """A treadle's tread with its toe up, from the heel: where it moves to, thin with two dots (ISO 128)."""
    pedal = one.body.pedal
    if pedal is None or pedal.place is None or one.toe is None:
        return []
    box, heel = one.body.box, one.low + (one.high - one.low) * 0.6
    if pedal.place.turn in (90, 270):
        return []
    ends = (box.y0, box.y1) if pedal.place.turn == 0 else (box.y1, box.y0)
    tread = [sheet.point(ends[0], heel), sheet.point(ends[1], one.low + one.toe)]
    foot = sheet.point(ends[1], one.high)
    title = hint(_("toe up, as it is parked"))
    return [group([title, polyline([*tread, foot], STROKE.look(sheet.unit))], class_="d-ground")]


def _draw_open(corners: Sequence[tuple[float, float]], unit: float, *states: str) -> Shape:
    """The two sides, dashed, and the edge that is known; nothing closes them."""
    near, far, far_end, near_end = corners
    return polyline([near_end, near, far, far_end], OPEN.look(unit, *states))


def _draw_lid(sheet: SideSheet) -> list[Shape]:
    """Where the foam of the closed lid begins."""
    frame, unit = sheet.frame, sheet.unit
    if frame.lid is None:
        return []
    out = 3 * unit
    look: Attributes = LID.look(unit)
    line = polyline([sheet.point(-out, frame.lid), sheet.point(frame.depth + out, frame.lid)], look)
    sides = [
        polyline([sheet.point(y, 0), sheet.point(y, frame.lid)], HATCH.look(unit)) for y in (0, frame.depth)
    ]
    return [group([hint(_("closed lid")), line, *sides], class_="d-ground")]


def _describe(plan: BoardPlan, sheet: SideSheet, called: Mapping[str, str]) -> str:
    placed = ngettext("%(count)d thing", "%(count)d things", len(sheet.standing))
    said = _("%(placed)s on a frame %(depth)s deep, seen from the player’s right, the front at the left.") % {
        "placed": placed % {"count": len(sheet.standing)},
        "depth": show_length(plan.frame.depth, sheet.length_unit),
    }
    each = "; ".join(
        f"{called.get(fold(one.body.ref), one.body.ref)} {_title(one)}: {say_height(one, sheet)}"
        for row in sheet.rows
        for one in row
    )
    return f"{said} {each}." if each else said


def _title(one: Standing) -> str:
    pedal = one.body.pedal
    return (pedal.name if pedal else "") or one.body.ref
