"""What is written on a side view: balloons, heights, the least free ones, notes and the list below."""

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from math import floor

from django.utils.translation import gettext as _

from boardshop.boards.drawing.dimensions import arrow_head, arrow_line, backed, write_along
from boardshop.boards.drawing.ground import say_view
from boardshop.boards.drawing.pedals import Url, draw_balloon, is_same
from boardshop.boards.drawing.pens import DIMENSION, DOT, MEASURE, NAME, NOTE
from boardshop.boards.drawing.shapes import Shape, around, circle, group, hint, polyline
from boardshop.boards.drawing.sheet import LIST_HEAD, LIST_STEP, LIST_WIDTH, NOTE_STEP
from boardshop.boards.drawing.side_sheet import (
    BALLOON_STEP,
    LEFT,
    MOST_IN_LINE,
    TOP,
    SideSheet,
    Standing,
)
from boardshop.boards.drawing.words import fit_letter, write
from boardshop.core.index import fold
from boardshop.core.layout.heights import least_lid_room, lid_spare, toe_spare
from boardshop.core.layout.standing import list_bodies
from boardshop.core.layout.supply_checks import UnderSupply, free_height, list_under
from boardshop.core.lengths import length_figure
from boardshop.core.plan import BoardPlan


def say_height(one: Standing, sheet: SideSheet) -> str:
    """`58 high, 72 free`, after `+30: ` on a tier of 30; what is not recorded is a question mark."""
    if one.body.height is None:
        return _("height ?")
    figure = length_figure(one.body.height, sheet.length_unit)
    said = _("%(height)s high") % {"height": figure}
    if one.low:
        said = f"+{length_figure(one.low, sheet.length_unit)}: {said}"
    return said + _say_free(lid_spare(one.body, sheet.frame), sheet)


def say_toe(one: Standing, sheet: SideSheet) -> str:
    """The same of a treadle's toe, as it is parked."""
    said = _("%(height)s high") % {"height": length_figure(one.toe or 0, sheet.length_unit)}
    return said + _say_free(toe_spare(one.body, sheet.frame), sheet)


def _say_free(spare: int | None, sheet: SideSheet) -> str:
    if spare is None:
        return ""
    told = _("%(free)s too high") if spare < 0 else _("%(free)s free")
    return f", {told % {'free': length_figure(abs(spare), sheet.length_unit)}}"


def draw_balloons(
    sheet: SideSheet, called: Mapping[str, str], selected: str | None, url: Url | None
) -> Iterator[Shape]:
    """Row by row above the lid, the nearest first, each row with one leader to its tallest (ISO 6433)."""
    unit, step = sheet.unit, BALLOON_STEP * sheet.unit
    floor_y = (TOP + BALLOON_STEP * sheet.balloon_lines) * unit
    for row, left in zip(sheet.rows, _strip_lefts(sheet), strict=True):
        lines = -(-len(row) // MOST_IN_LINE)
        middle = left + min(len(row), MOST_IN_LINE) * step / 2
        tallest = max(row, key=lambda one: one.high)
        box = tallest.body.box
        tip = sheet.point((box.y0 + box.y1) / 2, tallest.high)
        yield polyline([(middle, floor_y), tip], DIMENSION.look(unit))
        yield circle(*tip, 0.5 * unit, DOT.look(unit))
        for at, one in enumerate(row):
            line, column = divmod(at, MOST_IN_LINE)
            x, y = left + (column + 0.5) * step, floor_y - (lines - line - 0.5) * step
            yield _draw_balloon(one, called, x, y, unit, selected, url)


def _draw_balloon(
    one: Standing,
    called: Mapping[str, str],
    x: float,
    y: float,
    unit: float,
    selected: str | None,
    url: Url | None,
) -> Shape:
    ref = one.body.ref
    words = called.get(fold(ref), ref)
    states = " is-selected" if is_same(ref, selected) else ""
    shapes = (hint(_title(one)), *draw_balloon(around(x, y, 5 * unit, 5 * unit), words, unit))
    target = url(ref) if url else None
    if target is None:
        return Shape("g", (("class", f"d-pedal{states}"),), shapes)
    return Shape("a", (("class", f"d-pedal{states}"), ("href", target)), shapes)


def _strip_lefts(sheet: SideSheet) -> list[float]:
    """Each row's balloons as near above it as the others let them."""
    step, gap = BALLOON_STEP * sheet.unit, 2 * sheet.unit
    widths = [min(len(row), MOST_IN_LINE) * step for row in sheet.rows]
    lefts: list[float] = []
    least = sheet.unit
    for row, width in zip(sheet.rows, widths, strict=True):
        middles = [(one.body.box.y0 + one.body.box.y1) / 2 for one in row]
        x, _y = sheet.point(sum(middles) / len(middles), max(one.high for one in row))
        lefts.append(max(x - width / 2, least))
        least = lefts[-1] + width + gap
    most = sheet.width - sheet.unit
    for at in reversed(range(len(lefts))):
        lefts[at] = min(lefts[at], most - widths[at])
        most = lefts[at] - gap
    return lefts


def draw_heights(sheet: SideSheet) -> Shape:
    """The depth along the top, the lid's height, and the free heights under the frame's two edges."""
    frame = sheet.frame
    top = max([frame.lid or 0, *(one.top for one in sheet.standing)])
    shapes = _dimension(sheet, (0, top), (frame.depth, top), sheet_figure(sheet, frame.depth), 4.5)
    if frame.lid is not None:
        words = _("lid %(height)s") % {"height": sheet_figure(sheet, frame.lid)}
        shapes += _dimension(sheet, (frame.depth, frame.lid), (frame.depth, 0), words, 7)
    if frame.under is not None:
        ends = ((0, frame.under.front, -8.0), (frame.depth, frame.under.rear, 7.0))
        for y, free, out in ends:
            if free > 0:
                shapes += _dimension(sheet, (y, 0), (y, -free), tenth_figure(sheet, Fraction(str(free))), out)
    return group(shapes, class_="d-ground")


def _dimension(
    sheet: SideSheet, one: tuple[float, float], other: tuple[float, float], words: str, off: float
) -> list[Shape]:
    """Of a distance along the frame's top or square to it, `off` mm of paper aside, above it or in depth."""
    unit = sheet.unit
    aside = off * unit
    along = (0, aside) if one[1] == other[1] else (aside, 0)
    ends = [sheet.point(y + along[0], z + along[1]) for y, z in (one, other)]
    beyond = 1 + unit / abs(aside)
    look = DIMENSION.look(unit)
    shapes = [
        polyline([sheet.point(y, z), sheet.point(y + along[0] * beyond, z + along[1] * beyond)], look)
        for y, z in (one, other)
    ]
    return [*shapes, *arrow_line(ends[0], ends[1], unit), write_along(ends[0], ends[1], words, unit)]


def draw_least(plan: BoardPlan, sheet: SideSheet) -> Shape:
    """Where it is tightest: under the lid, and between each supply under the frame and the floor."""
    shapes: list[Shape] = []
    least = least_lid_room(plan)
    if least is not None:
        box = least.body.box
        y = box.y0 + (0.97 if least.is_toe else 0.75) * box.depth
        said = _("least %(free)s") if least.spare >= 0 else _("%(free)s too high")
        words = said % {"free": sheet_figure(sheet, abs(least.spare))}
        shapes += _draw_gap(sheet, y, least.top, least.top + least.spare, words)
    gaps = [(found[1], found[0], one) for one in sheet.under if (found := tightest_under(plan, one))]
    if gaps:
        free, edge, placed = min(gaps, key=lambda one: one[0])
        deep = -(placed.supply.height or 0)
        shapes += _draw_gap(sheet, edge, deep, deep - float(free), say_spare(free, sheet))
    return group(shapes, class_="d-ground")


def tightest_under(plan: BoardPlan, placed: UnderSupply) -> tuple[int, Fraction] | None:
    """At which depth a supply comes nearest to the floor, and how much is free there; None where unknown."""
    under, height = plan.frame.under, placed.supply.height
    if under is None or height is None:
        return None
    edges = ((y, free_height(plan, under, y) - height) for y in (placed.box.y0, placed.box.y1))
    return min(edges, key=lambda one: one[1])


def say_spare(spare: Fraction, sheet: SideSheet) -> str:
    """`20.3 free`, `1.7 too high`: rounded so that nothing is said to fit that does not."""
    if spare >= 0:
        return _("%(free)s free") % {"free": tenth_figure(sheet, spare)}
    return _("%(free)s too high") % {"free": tenth_figure(sheet, -floor(spare * 10) * Fraction(1, 10))}


def _draw_gap(sheet: SideSheet, y: float, low: float, high: float, words: str) -> list[Shape]:
    unit = sheet.unit
    one, other = sheet.point(y, low), sheet.point(y, high)
    x, middle = (one[0] + other[0]) / 2, (one[1] + other[1]) / 2
    wide = (len(words) * 0.62 * MEASURE.height / 2 + 1.2) * unit
    return [*arrow_line(one, other, unit), *backed(MEASURE, words, x - wide, middle, unit)]


def list_side_notes(plan: BoardPlan, called: Mapping[str, str], length_unit: str) -> list[str]:
    """Lines below the view: how the frame stands, and what nobody recorded."""
    notes = []
    if any(placed.supply.height is None for placed in list_under(plan)):
        refs = ", ".join(p.supply.ref for p in list_under(plan) if p.supply.height is None)
        notes.append(_("Height not recorded, drawn open: %(refs)s") % {"refs": refs})
    open_ones = [called.get(fold(b.ref), b.ref) for b in list_bodies(plan) if b.height is None]
    if open_ones:
        notes.append(_("Height not recorded, drawn open: %(refs)s") % {"refs": ", ".join(open_ones)})
    if plan.frame.lid is None:
        notes.append(_("Height under the lid not recorded"))
    if plan.frame.under is None:
        notes.append(_("Height under the frame not recorded, drawn level"))
    return notes


def draw_side_notes(sheet: SideSheet, scale: int | None, notes: Sequence[str]) -> Shape:
    """From where one looks, in which unit; the slope; what is not recorded."""
    unit = sheet.unit
    left, top = LEFT * unit, sheet.notes_top
    size = NOTE.height * unit
    low = top + 5.6 * unit
    shapes = [
        arrow_head((7 * unit, low - 0.3 * size), (unit, low - 0.3 * size), unit),
        polyline([(7 * unit, low - 0.3 * size), (unit, low - 0.3 * size)], DIMENSION.look(unit)),
        write(NOTE, size, _("the player’s side"), 8 * unit, low, "start"),
        write(NOTE, size, _("rear"), sheet.width - unit, low, "end"),
    ]
    said = say_view(_("SIDE VIEW from the player’s right"), sheet.length_unit, scale)
    if sheet.frame.under is not None:
        said += ", " + _("top slopes by %(degrees)s°") % {"degrees": f"{sheet.slope_degrees:.1f}"}
    for row, words in enumerate((said, *notes)):
        lettering = fit_letter(words, NOTE, unit, sheet.width - left - unit, 2.8 * unit)
        y = top + (11 + NOTE_STEP * row) * unit
        shapes += [write(NOTE, lettering.size, line, left, y, "start") for line in lettering.lines]
    return group(shapes, class_="d-ground")


def draw_list(
    plan: BoardPlan, sheet: SideSheet, called: Mapping[str, str], url: Url | None
) -> Iterator[Shape]:
    """Every body on the frame with what stays free over it, row by row; then what hangs under the frame."""
    unit, top = sheet.unit, sheet.list_top
    entries = []
    for one in (one for row in sheet.rows for one in row):
        entries.append((one.body.ref, _title(one), say_height(one, sheet)))
        if one.toe is not None:
            toe = _("%(name)s, toe up") % {"name": _title(one)}
            entries.append((one.body.ref, toe, say_toe(one, sheet)))
    entries += [
        (one.supply.ref, one.supply.model or one.supply.ref, _say_under(plan, one, sheet))
        for one in sheet.under
    ]
    if entries:
        words = _("From the front, the nearest first: height, and what is free under lid and frame")
        yield write(NOTE, NOTE.height * unit, words, LEFT * unit, top, "start")
    for at, (ref, title, words) in enumerate(entries):
        line, column = divmod(at, sheet.list_columns)
        x, y = (LEFT + column * LIST_WIDTH) * unit, top + (LIST_HEAD + line * LIST_STEP) * unit
        yield _draw_entry(sheet, called.get(fold(ref), ref), title, words, (x, y), url(ref) if url else None)


def _say_under(plan: BoardPlan, placed: UnderSupply, sheet: SideSheet) -> str:
    if placed.supply.height is None:
        return _("height ?")
    said = _("%(height)s high") % {"height": sheet_figure(sheet, placed.supply.height)}
    found = tightest_under(plan, placed)
    return f"{said}, {say_spare(found[1], sheet)}" if found else said


def _draw_entry(
    sheet: SideSheet, number: str, title: str, words: str, at: tuple[float, float], target: str | None
) -> Shape:
    unit, (x, y) = sheet.unit, at
    balloon = around(x + 2.5 * unit, y - 0.9 * unit, 5 * unit, 5 * unit)
    name = fit_letter(title, NAME, unit * 0.85, (LIST_WIDTH - 9) * unit, 3 * unit)
    shapes = [hint(title), *draw_balloon(balloon, number, unit)]
    shapes += [write(NAME, name.size, line, x + 6 * unit, y - 1.4 * unit, "start") for line in name.lines]
    shapes.append(write(MEASURE, 2.1 * unit, words, x + 6 * unit, y + 1.4 * unit, "start"))
    if target is None:
        return group(shapes, class_="d-pedal")
    return Shape("a", (("class", "d-pedal"), ("href", target)), tuple(shapes))


def sheet_figure(sheet: SideSheet, mm: int) -> str:
    return length_figure(mm, sheet.length_unit)


def tenth_figure(sheet: SideSheet, mm: Fraction) -> str:
    """To a tenth of a mm, downward, so that nothing is said to fit that does not."""
    if sheet.length_unit == "mm":
        return f"{floor(mm * 10) / 10:.1f}".removesuffix(".0")
    return length_figure(floor(mm), sheet.length_unit)


def _title(one: Standing) -> str:
    pedal = one.body.pedal
    return (pedal.name if pedal else "") or one.body.ref
