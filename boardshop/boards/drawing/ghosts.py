"""Where parts were that moved or are gone: dashed outlines, named, with arrows to the new places."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import hypot

from django.utils.translation import gettext as _

from boardshop.boards.drawing.badges import SIGN_STEP, draw_signs
from boardshop.boards.drawing.pens import ARROW, GHOST, MOVE, REF
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
)
from boardshop.boards.drawing.sheet import Sheet
from boardshop.boards.drawing.signs import GONE, MOVED, NEW, explain
from boardshop.boards.drawing.words import Obstacle, best_spot, fit_letter, text_area, write_in
from boardshop.core.index import fold
from boardshop.core.layout.geometry import Box, body_box, supply_box
from boardshop.core.plan import BoardPlan

SPOT_ROWS, SPOT_COLUMNS = 5, 5
"""Spots tried for a label within its outline."""


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

    @property
    def words(self) -> str:
        """`P2 before`; what is gone has its sign instead."""
        return self.part.ref if self.letter == GONE else _("%(ref)s before") % {"ref": self.part.ref}

    @property
    def signs(self) -> str:
        return GONE if self.letter == GONE else ""


def list_parts(plan: BoardPlan) -> list[Part]:
    pedals = [Part(pedal.ref, pedal.name or pedal.ref, body_box(pedal)) for pedal in plan.pedals]
    return pedals + [Part(one.ref, one.model or one.ref, supply_box(one)) for one in plan.supplies]


def find_ghosts(before: BoardPlan, after: BoardPlan, sheet: Sheet) -> list[Ghost]:
    """Of every part that stood where it does not stand now."""
    now = {fold(part.ref): part for part in list_parts(after)}
    ghosts = []
    for part in list_parts(before):
        later = now.get(fold(part.ref))
        if part.box is None or (later and later.box == part.box):
            continue
        there = sheet.area(later.box) if later and later.box else None
        ghosts.append(Ghost(part, MOVED if later else GONE, sheet.area(part.box), there))
    return ghosts


def draw_ghost(ghost: Ghost, unit: float) -> Shape:
    """The dashed outline and the arrow to the new place."""
    shapes = [
        hint(f"{ghost.part.name} {ghost.part.ref}: {explain(ghost.letter)}"),
        rectangle(ghost.was, GHOST.look(unit), data_was=ghost.part.ref),
    ]
    if ghost.now:
        shapes += _draw_arrow(ghost.was, ghost.now, unit)
    return group(shapes, class_="d-part")


def draw_ghost_label(ghost: Ghost, unit: float, extent: Area, taken: list[Obstacle]) -> Shape:
    """Its ref on or beside the outline, clear of what is taken where there is room; it is taken then."""
    if ghost.now and ghost.was.shared(ghost.now):
        taken.append((_corner_way(ghost.was, ghost.now).grown(unit), 3.0))
    own = text_area(ghost.words, REF, unit, 0, 0)
    signs = SIGN_STEP * len(ghost.signs) * unit
    spots = _spots(ghost.was, own.width + unit + signs, own.height * 1.25, extent)
    spot = best_spot(spots, taken)
    taken.append((spot.grown(0.3 * unit), 3.0))
    room = Area(spot.x + signs, spot.y, spot.width - signs, spot.height)
    lettering = fit_letter(ghost.words, REF, unit, room.width + unit, room.height + unit)
    shapes = draw_signs(ghost.signs, spot.x, spot.middle[1], unit)
    marked = {"data_of": ghost.part.ref, "data_signs": ghost.signs} if ghost.signs else {}
    return group([*shapes, *write_in(room, REF, lettering, ghost.words)], class_="d-part", **marked)


def _spots(area: Area, width: float, height: float, extent: Area) -> Iterator[Area]:
    """Within the outline from its corners inwards, then against it from outside; none leaves the drawing."""
    left, right = area.x + width / 2 + height / 4, area.right - width / 2 - height / 4
    upper, lower = area.y + height * 0.75, area.bottom - height * 0.75
    inside: list[tuple[float, tuple[float, ...]]] = [(lower, (left, right)), (upper, (left, right))]
    rows = _between(lower, upper, SPOT_ROWS)
    inside += [(y, _between(left, right, SPOT_COLUMNS)) for y in rows]
    beyond = (area.bottom + height * 0.75, area.y - height * 0.75)
    inside += [(y, _between(left, right, SPOT_COLUMNS)) for y in beyond]
    inside += [(y, (area.right + width * 0.55, area.x - width * 0.55)) for y in rows]
    for y, columns in inside:
        for x in columns:
            yield _kept_within(around(x, y, width, height), extent)


def _between(one: float, other: float, count: int) -> tuple[float, ...]:
    return tuple(one + (other - one) * at / (count - 1) for at in range(count))


def _kept_within(area: Area, extent: Area) -> Area:
    x = max(extent.x, min(area.x, extent.right - area.width))
    return Area(x, max(extent.y, min(area.y, extent.bottom - area.height)), area.width, area.height)


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


def list_undrawn_parts(
    before: BoardPlan, after: BoardPlan, signs: Mapping[str, str]
) -> list[tuple[str, str, str]]:
    """Signs, words and ref of pedals and supplies without a place, and of all else that came or went."""
    now = {fold(part.ref) for part in list_parts(after)}
    found = [
        (signs[key], _call(part), part.ref)
        for part in list_parts(after)
        if (key := fold(part.ref)) in signs and part.box is None
    ]
    found += [
        (GONE, _call(part), part.ref)
        for part in list_parts(before)
        if fold(part.ref) not in now and part.box is None
    ]
    old, new = _ends(before), _ends(after)
    found += [(NEW, ref, ref) for key, ref in new.items() if key not in old]
    return [*found, *((GONE, ref, ref) for key, ref in old.items() if key not in new)]


def _ends(plan: BoardPlan) -> dict[str, str]:
    """Instruments, amps and computers by folded ref."""
    refs = [one.ref for one in plan.sources] + [one.ref for one in plan.amps]
    return {fold(ref): ref for ref in (*refs, *(one.ref for one in plan.computers))}


def _call(part: Part) -> str:
    return part.ref if part.name == part.ref else f"{part.ref} {part.name}"
