"""`draw_comparison`: two states of one board on one sheet, the later one with marks of what changed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import hypot

from django.utils.translation import gettext as _

from boardshop.boards.drawing.board import draw_state, wrap
from boardshop.boards.drawing.lettering import measure
from boardshop.boards.drawing.pens import ARROW, GHOST, MOVE, NEW, NOTE, REF, SIGN, SIGN_LETTER
from boardshop.boards.drawing.shapes import (
    Area,
    Shape,
    around,
    bounds,
    group,
    hint,
    polygon,
    polyline,
    rectangle,
    to_svg,
)
from boardshop.boards.drawing.sheet import LEFT, Sheet, lay_out
from boardshop.boards.drawing.signs import GONE, LETTERS, MOVED, explain, find_signs
from boardshop.boards.drawing.signs import NEW as NEW_LETTER
from boardshop.boards.drawing.words import Obstacle, best_spot, fit_letter, text_area, write, write_in
from boardshop.core.cables.runs import MeasuredRun, measure_runs
from boardshop.core.diff import compare_plans
from boardshop.core.index import fold
from boardshop.core.layout.geometry import Box, body_box, supply_box
from boardshop.core.numbering import number_pedals
from boardshop.core.plan import BoardPlan
from boardshop.gear.templatetags.lengths import lengths_in

SIGN_SIZE, KEY_STEP, KEY_GAP = 3.2, 5.0, 8.0
"""Edge of a sign, distance of the key's rows and of its entries, mm on paper."""


@dataclass(frozen=True, slots=True)
class Part:
    """A pedal or supply with its outline; None where it has no place."""

    ref: str
    name: str
    box: Box | None


@dataclass(frozen=True, slots=True)
class Ghost:
    """Where a part was, and where it is now; None where it is gone or has no place."""

    part: Part
    letter: str
    was: Area
    now: Area | None


def draw_comparison(
    before: BoardPlan,
    after: BoardPlan,
    *,
    scale: int | None = None,
    length_unit: str = "mm",
    name: str = "comparison-drawing",
) -> str:
    """The later state as draw_board has it, marked: one SVG element, safe to put into a page as it is.

    New parts have a double outline; gone and moved ones leave a dashed outline at their old place, moved ones
    with an arrow to the new; letters say what else is otherwise, and a key says what they mean.
    ``scale``, ``length_unit`` and ``name`` as for draw_board.
    """
    runs = measure_runs(after)
    sheet = _lay_out_both(before, after, runs, scale, length_unit)
    state = draw_state(after, sheet, runs, number_pedals(after), scale=scale)
    differences = compare_plans(before, after)
    signs = find_signs(before, after, differences)
    ghosts = _find_ghosts(before, after, sheet)
    parts = {fold(part.ref): sheet.area(part.box) for part in _parts(after) if part.box}
    taken: list[Obstacle] = [(one.balloon, 3.0) for one in state.marks]
    taken += [(one.name_area, 3.0) for one in state.marks]
    shapes = [*state.shapes, *_draw_former_frame(before, sheet)]
    shapes += [_draw_ghost(ghost, sheet.unit, taken) for ghost in ghosts]
    for ref, own in signs.items():
        if ref in parts:
            shapes.append(_draw_signs(own, parts[ref], sheet.unit, taken))
    letters = [one for one in LETTERS if any(one in given for given in (*signs.values(), *_of(ghosts)))]
    key, height = _draw_key(letters, before, sheet)
    changes = (lengths_in(one.sentence, length_unit) for one in differences)
    said = " ".join((state.words, *changes))
    title = _("Drawing of %(board)s with what changed") % {"board": after.name}
    extent = sheet.width, sheet.height + height
    return to_svg(wrap(title, said, extent, [*shapes, key], scale, name, has_links=False))


def _of(ghosts: Sequence[Ghost]) -> list[str]:
    return [ghost.letter for ghost in ghosts]


def _lay_out_both(
    before: BoardPlan, after: BoardPlan, runs: Sequence[MeasuredRun], scale: int | None, length_unit: str
) -> Sheet:
    """The later state's sheet, with room for what the former one had elsewhere."""
    sheet = lay_out(after, [point for run in runs for point in run.points], scale, length_unit)
    one, other = sheet.reach, lay_out(before).reach
    reach = Box(min(one.x0, other.x0), min(one.y0, other.y0), max(one.x1, other.x1), max(one.y1, other.y1))
    return replace(sheet, reach=reach)


def _parts(plan: BoardPlan) -> list[Part]:
    pedals = [Part(pedal.ref, pedal.name or pedal.ref, body_box(pedal)) for pedal in plan.pedals]
    return pedals + [Part(one.ref, one.model or one.ref, supply_box(one)) for one in plan.supplies]


def _find_ghosts(before: BoardPlan, after: BoardPlan, sheet: Sheet) -> list[Ghost]:
    now = {fold(part.ref): part for part in _parts(after)}
    ghosts = []
    for part in _parts(before):
        later = now.get(fold(part.ref))
        if part.box is None or (later and later.box == part.box):
            continue
        there = sheet.area(later.box) if later and later.box else None
        ghosts.append(Ghost(part, MOVED if later else GONE, sheet.area(part.box), there))
    return ghosts


def _draw_former_frame(before: BoardPlan, sheet: Sheet) -> list[Shape]:
    if not _has_other_frame(before, sheet):
        return []
    area = sheet.area(Box(0, 0, before.frame.width, before.frame.depth))
    return [group([hint(_("the former frame")), rectangle(area, GHOST.look(sheet.unit))], class_="d-ground")]


def _has_other_frame(before: BoardPlan, sheet: Sheet) -> bool:
    return (before.frame.width, before.frame.depth) != (sheet.frame.width, sheet.frame.depth)


def _draw_ghost(ghost: Ghost, unit: float, taken: list[Obstacle]) -> Shape:
    """The dashed outline with its letter and ref, and the arrow to the new place."""
    shapes = [
        hint(f"{ghost.part.name} {ghost.part.ref}: {explain(ghost.letter)}"),
        rectangle(ghost.was, GHOST.look(unit), data_was=ghost.part.ref),
    ]
    if ghost.now:
        shapes += _draw_arrow(ghost.was, ghost.now, unit)
        if ghost.was.shared(ghost.now):
            taken.append((_corner_way(ghost.was, ghost.now).grown(unit), 3.0))
    words = f"{ghost.letter} {ghost.part.ref}"
    own = text_area(words, REF, unit, 0, 0)
    spots = _corners(ghost.was, own.width + unit, own.height)
    spot = best_spot(spots, [*taken, *([(ghost.now, 0.5)] if ghost.now else [])])
    taken.append((spot, 3.0))
    lettering = fit_letter(words, REF, unit, spot.width + unit, spot.height + unit)
    return group([*shapes, *write_in(spot, REF, lettering, words)], class_="d-part")


def _corners(area: Area, width: float, height: float) -> list[Area]:
    """Spots inside the four corners, then in the middle."""
    left, right = area.x + width / 2 + height / 4, area.right - width / 2 - height / 4
    upper, lower = area.y + height * 0.75, area.bottom - height * 0.75
    places = [(left, lower), (right, lower), (left, upper), (right, upper), area.middle]
    return [around(x, y, width, height) for x, y in places]


def _draw_arrow(was: Area, now: Area, unit: float) -> list[Shape]:
    """Between the outlines, or from front left corner to front left corner where they overlap."""
    if was.shared(now):
        tail, tip = (was.x, was.bottom), (now.x, now.bottom)
    else:
        tail, tip = _edge_point(was, now.middle), _edge_point(now, was.middle)
    along = hypot(tip[0] - tail[0], tip[1] - tail[1])
    if along < 0.01:
        return []
    ux, uy = (tip[0] - tail[0]) / along, (tip[1] - tail[1]) / along
    back, half = min(2.4 * unit, along), 0.9 * unit
    base = tip[0] - ux * back, tip[1] - uy * back
    wings = ((base[0] + uy * half, base[1] - ux * half), (base[0] - uy * half, base[1] + ux * half))
    return [polyline([tail, base], MOVE.look(unit)), polygon([tip, *wings], ARROW.look(unit))]


def _corner_way(was: Area, now: Area) -> Area:
    """The area of the short arrow between two front left corners."""
    return bounds([Area(one.x, one.bottom, 0, 0) for one in (was, now)])


def _edge_point(area: Area, towards: tuple[float, float]) -> tuple[float, float]:
    """Where the way from the middle to a point outside leaves the area."""
    x, y = area.middle
    dx, dy = towards[0] - x, towards[1] - y
    shares = [abs(half / by) for half, by in ((area.width / 2, dx), (area.height / 2, dy)) if by]
    share = min([1.0, *shares])
    return x + dx * share, y + dy * share


def _draw_signs(letters: str, body: Area, unit: float, taken: list[Obstacle]) -> Shape:
    """White letters on ink at a corner of the part; what is new gets a second outline."""
    size = SIGN_SIZE * unit
    width = size * len(letters) * 1.15
    rows = (body.bottom - size / 2, body.y + size / 2)
    columns = (body.x + width / 2, body.right - width / 2)
    spot = best_spot([around(x, y, width, size) for y in rows for x in columns], taken)
    taken.append((spot, 3.0))
    shapes = [hint(", ".join(explain(letter) for letter in letters))]
    if NEW_LETTER in letters:
        shapes.append(rectangle(body.grown(0.9 * unit), NEW.look(unit)))
    for at, letter in enumerate(letters):
        shapes += _draw_sign(letter, spot.x + size * (1.15 * at + 0.5), spot.middle[1], unit)
    return group(shapes, class_="d-part")


def _draw_sign(letter: str, x: float, y: float, unit: float) -> list[Shape]:
    size, height = SIGN_SIZE * unit, SIGN_LETTER.height * unit
    square = rectangle(around(x, y, size, size), SIGN.look(unit))
    return [square, write(SIGN_LETTER, height, letter, x, y + 0.35 * height)]


def _draw_key(letters: Sequence[str], before: BoardPlan, sheet: Sheet) -> tuple[Shape, float]:
    """What the letters on this sheet mean, row by row below all else; and the height it takes."""
    unit, left = sheet.unit, LEFT * sheet.unit
    entries = [(letter, explain(letter)) for letter in letters]
    if _has_other_frame(before, sheet):
        width, depth = sheet.measure(before.frame.width), sheet.measure(before.frame.depth)
        size = {"width": width, "depth": depth}
        entries.append(("", _("dashed: the former frame, %(width)s × %(depth)s") % size))
    entries = entries or [("", _("Nothing changed that a drawing shows"))]
    x, row = left, 0
    shapes: list[Shape] = []
    for letter, words in entries:
        sign = (SIGN_SIZE + 1) * unit if letter else 0
        wide = sign + measure(words, NOTE.height * unit, NOTE.face)
        if x > left and x + wide > sheet.width - unit:
            x, row = left, row + 1
        y = sheet.height + (row + 0.5) * KEY_STEP * unit
        shapes += _draw_sign(letter, x + SIGN_SIZE * unit / 2, y, unit) if letter else []
        size_fits = NOTE.height * unit * min(1.0, (sheet.width - x - unit) / wide)
        shapes.append(write(NOTE, size_fits, words, x + sign, y + 0.35 * size_fits, "start"))
        x += wide + KEY_GAP * unit
    return group(shapes, class_="d-key"), (row + 1.4) * KEY_STEP * unit
