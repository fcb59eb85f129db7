"""`draw_comparison`: two states of one board on one sheet, the later one with marks of what changed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from django.utils.translation import gettext as _

from boardshop.boards.drawing.badges import SIGN_SIZE, SIGN_STEP, draw_signs
from boardshop.boards.drawing.board import DrawnState, draw_state, wrap
from boardshop.boards.drawing.changed_cables import draw_gone_flags, draw_gone_runs, label_cables
from boardshop.boards.drawing.ghosts import (
    Ghost,
    draw_ghost,
    draw_ghost_label,
    find_ghosts,
    list_parts,
    list_undrawn_parts,
)
from boardshop.boards.drawing.key import Entry, draw_key
from boardshop.boards.drawing.pens import GHOST, NEW
from boardshop.boards.drawing.runs import Label, trace_runs
from boardshop.boards.drawing.shapes import Area, Shape, around, group, hint, rectangle, to_svg
from boardshop.boards.drawing.sheet import Sheet, lay_out
from boardshop.boards.drawing.signs import LETTERS, explain, find_signs
from boardshop.boards.drawing.signs import NEW as NEW_LETTER
from boardshop.boards.drawing.words import Obstacle, best_spot
from boardshop.core.cables.runs import MeasuredRun, measure_runs
from boardshop.core.diff import compare_plans
from boardshop.core.index import fold
from boardshop.core.layout.geometry import Box
from boardshop.core.numbering import number_pedals
from boardshop.core.plan import BoardPlan
from boardshop.gear.templatetags.lengths import lengths_in


@dataclass(frozen=True, slots=True)
class Changes:
    """What is to be marked: signs of parts and labels of cables by folded ref, ghosts, runs that are gone."""

    signs: Mapping[str, str]
    labels: Mapping[str, Label]
    ghosts: Sequence[Ghost]
    gone: Sequence[MeasuredRun]

    @property
    def letters(self) -> list[str]:
        """Every letter that is on the sheet, in the key's order."""
        found = {letter for signs in self.signs.values() for letter in signs}
        found |= {letter for label in self.labels.values() for letter in label.letters}
        return [letter for letter in LETTERS if letter in found]


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
    with an arrow to the new; a cable's pennant says what it was and is to be cut to, one that is gone keeps
    its run, dashed; letters say what else is otherwise, and a key says what they mean.
    What changed without being on the drawing is listed below it, with the same letters.
    ``scale``, ``length_unit`` and ``name`` as for draw_board.
    """
    runs, gone = measure_runs(after), _runs_only_in(before, after)
    sheet = _lay_out_both(before, after, (*runs, *gone), scale, length_unit)
    differences = compare_plans(before, after)
    labels = label_cables(before, after, differences, length_unit)
    signs = find_signs(before, after, differences)
    changes = Changes(signs, labels, find_ghosts(before, after, sheet), gone)
    former = _draw_former(before, sheet, changes)
    numbers = number_pedals(after)
    state = draw_state(after, sheet, runs, numbers, scale=scale, labels=labels, beneath=former)
    shapes = [*state.shapes, *_mark(after, sheet, state, changes)]
    key, height = draw_key(list(_key_entries(before, after, sheet, changes)), sheet)
    sentences = (lengths_in(one.sentence, length_unit) for one in differences)
    title = _("Drawing of %(board)s with what changed") % {"board": after.name}
    said = " ".join((state.words, *sentences))
    extent = sheet.width, sheet.height + height
    return to_svg(wrap(title, said, extent, [*shapes, key], scale, name, has_links=False))


def _runs_only_in(before: BoardPlan, after: BoardPlan) -> tuple[MeasuredRun, ...]:
    now = {fold(link.ref) for link in after.links}
    return tuple(run for run in measure_runs(before) if fold(run.link.ref) not in now)


def _lay_out_both(
    before: BoardPlan, after: BoardPlan, runs: Sequence[MeasuredRun], scale: int | None, length_unit: str
) -> Sheet:
    """The later state's sheet, with room for what the former one had elsewhere."""
    sheet = lay_out(after, [point for run in runs for point in run.points], scale, length_unit)
    one, other = sheet.reach, lay_out(before).reach
    reach = Box(min(one.x0, other.x0), min(one.y0, other.y0), max(one.x1, other.x1), max(one.y1, other.y1))
    return replace(sheet, reach=reach)


def _draw_former(before: BoardPlan, sheet: Sheet, changes: Changes) -> list[Shape]:
    """What was elsewhere or is there no more: frame, parts, runs of cables."""
    unit = sheet.unit
    shapes: list[Shape] = []
    if _has_other_frame(before, sheet):
        area = sheet.area(Box(0, 0, before.frame.width, before.frame.depth))
        outline = rectangle(area, GHOST.look(unit))
        shapes.append(group([hint(_("the former frame")), outline], class_="d-ground"))
    shapes += [draw_ghost(ghost, unit) for ghost in changes.ghosts]
    runs, _missing = trace_runs(sheet, changes.gone)
    return [*shapes, *draw_gone_runs(runs, unit)]


def _has_other_frame(before: BoardPlan, sheet: Sheet) -> bool:
    return (before.frame.width, before.frame.depth) != (sheet.frame.width, sheet.frame.depth)


def _mark(after: BoardPlan, sheet: Sheet, state: DrawnState, changes: Changes) -> list[Shape]:
    """Signs first; a label of a cable or part that is gone or moved has more freedom where it stands."""
    unit, extent = sheet.unit, Area(0, 0, sheet.width, sheet.list_top)
    taken: list[Obstacle] = [(one.balloon, 3.0) for one in state.marks]
    taken += [(one.name_area, 3.0) for one in state.marks]
    taken += [(one.body, 0.2) for one in state.marks]
    taken += [(area, 3.0) for area in state.labels]
    parts = {fold(part.ref): (part.ref, sheet.area(part.box)) for part in list_parts(after) if part.box}
    shapes = [
        _draw_part_signs(signs, *parts[ref], unit, taken)
        for ref, signs in changes.signs.items()
        if ref in parts
    ]
    former, _missing = trace_runs(sheet, changes.gone, changes.labels)
    shapes += draw_gone_flags(former, unit, sheet.flag_room, taken)
    return [*shapes, *(draw_ghost_label(ghost, unit, extent, taken) for ghost in changes.ghosts)]


def _draw_part_signs(letters: str, ref: str, body: Area, unit: float, taken: list[Obstacle]) -> Shape:
    """White letters on ink at a corner of the part; what is new gets a second outline."""
    size = SIGN_SIZE * unit
    width = SIGN_STEP * len(letters) * unit
    rows = (body.bottom - size / 2, body.y + size / 2)
    columns = (body.x + width / 2, body.right - width / 2)
    spot = best_spot([around(x, y, width, size) for y in rows for x in columns], taken)
    taken.append((spot, 3.0))
    shapes = [hint(", ".join(explain(letter) for letter in letters))]
    if NEW_LETTER in letters:
        shapes.append(rectangle(body.grown(0.9 * unit), NEW.look(unit)))
    shapes += draw_signs(letters, spot.x, spot.middle[1], unit)
    return group(shapes, class_="d-part", data_of=ref, data_signs=letters)


def _key_entries(before: BoardPlan, after: BoardPlan, sheet: Sheet, changes: Changes) -> Iterator[Entry]:
    """What the letters on this sheet mean, and what they mark beside the drawing."""
    undrawn = [Entry(*one) for one in list_undrawn_parts(before, after, changes.signs)]
    undrawn += _list_cables(before, after, changes)
    letters = changes.letters
    for letter in LETTERS:
        if letter in letters or any(letter in one.signs for one in undrawn) or letter in _of(changes.ghosts):
            yield Entry(letter, explain(letter))
    if _has_other_frame(before, sheet):
        width, depth = sheet.measure(before.frame.width), sheet.measure(before.frame.depth)
        size = {"width": width, "depth": depth}
        yield Entry("", _("dashed: the former frame, %(width)s × %(depth)s") % size)
    elif not letters and not undrawn and not changes.ghosts:
        yield Entry("", _("Nothing changed that a drawing shows"))
    if undrawn:
        yield Entry("", _("Changed without being on the drawing:"), begins_row=True)
        yield from undrawn


def _of(ghosts: Sequence[Ghost]) -> list[str]:
    return [ghost.letter for ghost in ghosts]


def _list_cables(before: BoardPlan, after: BoardPlan, changes: Changes) -> list[Entry]:
    """Those with a label and no run on the drawing."""
    refs = {fold(link.ref): link.ref for link in (*before.links, *after.links)}
    drawn = {fold(run.link.ref) for run in (*measure_runs(after), *changes.gone) if run.points}
    return [
        Entry(label.letters, label.words, refs[key])
        for key, label in changes.labels.items()
        if key not in drawn
    ]
