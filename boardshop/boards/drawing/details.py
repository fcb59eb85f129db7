"""What the layout's own view from above shows beside the board: slots, strokes of treadles, ways of jacks.

The other pages' drawings leave these out, where they would stand between runs and their pennants.
"""

from django.utils.translation import gettext as _

from boardshop.boards.drawing.pens import (
    DIMENSION,
    DOT,
    MEASURE,
    NOTE,
    SLOT,
    STROKE,
    SWITCH,
)
from boardshop.boards.drawing.shapes import Area, Shape, circle, group, hint, polygon, polyline, rectangle
from boardshop.boards.drawing.sheet import Sheet, entry_point, exit_point
from boardshop.boards.drawing.words import write
from boardshop.core.layout.geometry import Box, beside_box, body_box, jack_point, turned_side
from boardshop.core.layout.rules import HEEL_CLEAR_MM, TOE_CLEAR_MM
from boardshop.core.lengths import show_length
from boardshop.core.plan import BoardPlan, Frame, Jack, Pedal, Point

JACK_DEEP, JACK_HALF = 7.0, 3.5
"""A jack's arrow inside its body: length and half its width in mm of board."""
TREAD_MM = 10
"""From a treadle's edge to its tread."""
INWARD = ("in", "return", "midi-in", "power")
BOTH_WAYS = ("control", "usb")
STEP_APART = 2.4
"""Figures of running dimensions nearer than this are left out, mm on paper."""

UNLETTERED_MM = 25
"""A keep-out smaller than this has no room for its words and is named below the drawing."""

_OUT = {"left": (-1, 0), "right": (1, 0), "front": (0, 1), "rear": (0, -1)}
"""On the drawing, where y runs down."""


def draw_slots(sheet: Sheet) -> list[Shape]:
    """The gaps between rails, through which cables may pass; tinted between the rails' own lines."""
    frame = sheet.frame
    shapes: list[Shape] = []
    for low, high in list_slots(frame):
        area = sheet.area(Box(0, low, frame.width, high))
        shapes.append(group([hint(_("slot")), rectangle(area, SLOT.look(0))]))
    return shapes


def list_slots(frame: Frame) -> list[tuple[int, int]]:
    """From where to where in depth no rail carries, front to rear; none where no rails are recorded."""
    if not frame.rails or frame.surface != "slotted":
        return []
    found, reached = [], 0
    for rail in sorted(frame.rails, key=lambda one: (one.from_y, one.to_y)):
        if rail.from_y > reached:
            found.append((reached, rail.from_y))
        reached = max(reached, rail.to_y)
    return [*found, (reached, frame.depth)] if reached < frame.depth else found


def draw_strokes(pedal: Pedal, sheet: Sheet) -> list[Shape]:
    """What a treadle's stroke needs free at heel and toe: dashes and two dots, as of what moves (ISO 128)."""
    box = body_box(pedal)
    if box is None or not pedal.treadle or pedal.place is None:
        return []
    shapes = []
    for side, clear, words in (("front", HEEL_CLEAR_MM, _("heel")), ("rear", TOE_CLEAR_MM, _("toe"))):
        strip = sheet.area(beside_box(box, turned_side(side, pedal.place.turn), clear))
        shapes.append(group([hint(words), rectangle(strip, STROKE.look(sheet.unit))]))
    return shapes


def draw_inside(pedal: Pedal, sheet: Sheet) -> list[Shape]:
    """The ways of its jacks, and a treadle's tread with ribs at the toe."""
    ways = [
        _draw_way(pedal, jack, point, sheet)
        for jack in pedal.jacks
        if (point := jack_point(pedal, jack)) and jack.side is not None
    ]
    box = body_box(pedal)
    if box is None or not pedal.treadle or pedal.place is None:
        return ways
    tread, toe = sheet.area(box).grown(-TREAD_MM), turned_side("rear", pedal.place.turn)
    look = DIMENSION.look(sheet.unit)
    ribs = [polyline(_across(tread, toe, part), look) for part in (0.03, 0.06, 0.09)]
    return [rectangle(tread, look), *ribs, *ways]


def _across(area: Area, side: str, part: float) -> list[tuple[float, float]]:
    if side in ("front", "rear"):
        y = area.y + part * area.height if side == "rear" else area.bottom - part * area.height
        return [(area.x, y), (area.right, y)]
    x = area.x + part * area.width if side == "left" else area.right - part * area.width
    return [(x, area.y), (x, area.bottom)]


def _draw_way(pedal: Pedal, jack: Jack, at: Point, sheet: Sheet) -> Shape:
    assert pedal.place is not None
    assert jack.side is not None
    x, y = sheet.point(at.x, at.y)
    out_x, out_y = _OUT[turned_side(jack.side, pedal.place.turn)]
    deep, half = JACK_DEEP, JACK_HALF
    edge, inner = (x - out_x * 1.5, y - out_y * 1.5), (x - out_x * deep, y - out_y * deep)
    said = hint(f"{pedal.ref}.{jack.name}: {jack.role}")
    if jack.role == "power":
        ring = circle(inner[0] + out_x * 2, inner[1] + out_y * 2, 2.4, SWITCH.look(sheet.unit))
        dot = circle(inner[0] + out_x * 2, inner[1] + out_y * 2, 0.8, DOT.look(sheet.unit))
        return group([said, ring, dot], class_="d-way")
    tip, base = (inner, edge) if jack.role in INWARD else (edge, inner)
    wings = [
        (base[0] + out_y * half, base[1] + out_x * half),
        (base[0] - out_y * half, base[1] - out_x * half),
    ]
    look = SWITCH.look(sheet.unit) if jack.role in BOTH_WAYS else DOT.look(sheet.unit)
    return group([said, polygon([tip, *wings], look)], class_="d-way")


def draw_running(sheet: Sheet) -> Shape:
    """Edges of rails and tiers from the front edge on, along the right side (running dimensions, ISO 129)."""
    frame, unit = sheet.frame, sheet.unit
    levels = {edge for rail in frame.rails for edge in (rail.from_y, rail.to_y)}
    levels |= {tier.from_y for tier in frame.tiers}
    shown = [level for level in sorted(levels) if 0 < level < frame.depth]
    if not shown or _lead_on_right(frame):
        return group([])
    x, shapes, before = sheet.reach_area.right + 5.6 * unit, [], -STEP_APART * unit
    size = NOTE.least * unit
    for level in shown:
        y = sheet.point(0, level)[1]
        shapes.append(polyline([(sheet.frame_area.right + 0.5 * unit, y), (x, y)], DIMENSION.look(unit)))
        if level - before >= STEP_APART * unit:
            words = sheet.measure(level)
            shapes.append(write(MEASURE, size, words, x + 0.6 * unit, y + 0.34 * size, "start"))
            before = level
    origin = sheet.point(0, 0)[1]
    shapes += [
        polyline([(x, origin), (x, sheet.point(0, shown[-1])[1])], DIMENSION.look(unit)),
        circle(x, origin, 0.6 * unit, SWITCH.look(unit)),
    ]
    return group(shapes, class_="d-ground")


def _lead_on_right(frame: Frame) -> bool:
    ends = (entry_point(frame), exit_point(frame))
    return any(end.x == frame.width and 0 < end.y < frame.depth for end in ends)


def list_details(plan: BoardPlan, length_unit: str) -> list[str]:
    """Lines below the view: heights above and below the top, and what thin lines mean."""
    notes = [_("Heights from the top: %(heights)s") % {"heights": _say_heights(plan.frame, length_unit)}]
    small = [one for one in plan.frame.keepouts if one.why and min(one.width, one.depth) < UNLETTERED_MM]
    if small:
        each = (
            f"{one.why} {show_length(one.width, length_unit)} × {show_length(one.depth, length_unit)}"
            for one in small
        )
        notes.append(_("Kept free: %(areas)s") % {"areas": ", ".join(each)})
    if any(pedal.treadle and pedal.place for pedal in plan.pedals):
        ends = {"heel": HEEL_CLEAR_MM, "toe": TOE_CLEAR_MM}
        clear = {end: show_length(mm, length_unit) for end, mm in ends.items()}
        notes.append(
            _("Two dots: kept free for the stroke, %(heel)s at the heel, %(toe)s at the toe") % clear
        )
    return notes


def _say_heights(frame: Frame, length_unit: str) -> str:
    lid = _("lid not recorded")
    if frame.lid is not None:
        lid = _("lid %(height)s") % {"height": show_length(frame.lid, length_unit)}
    if frame.under is None:
        return f"{lid}; {_('free height under the frame not recorded')}"
    ends = {"front": frame.under.front, "rear": frame.under.rear}
    words = {end: show_length(int(free), length_unit) for end, free in ends.items()}
    return f"{lid}; {_('free under the frame %(front)s at the front, %(rear)s at the rear') % words}"
