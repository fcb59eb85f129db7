"""`draw_grounds`: how the grounds of a board hang together, one SVG: units, joins, lettered loops, earth.

No size of the board is in it; lettering is 12 px at the natural size.
The sign of the protective earth is that of IEC 60417-5019: the earth sign of IEC 60617 in a circle.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from django.utils.translation import gettext as _

from boardshop.boards.drawing.ground_sheet import BOX, BOX_HEIGHT, GAP, GroundSheet
from boardshop.boards.drawing.lettering import ASCENT, LEADING, fit, measure
from boardshop.boards.drawing.pens import (
    BODY,
    DOT,
    GHOST,
    KNOCKOUT,
    NAME,
    NOTE,
    NUMBER,
    PAPER,
    REF,
    SIGN,
    SIGN_LETTER,
    Pen,
)
from boardshop.boards.drawing.shapes import (
    Area,
    Shape,
    around,
    circle,
    group,
    hint,
    number,
    polyline,
    rectangle,
    to_svg,
)
from boardshop.boards.drawing.words import write
from boardshop.core.grounds import GroundGraph, Join, RunningLoop
from boardshop.core.index import PlanIndex, fold

UNIT = 96 / 25.4
"""px for one mm of paper, in which pens are given."""
LETTER, SIGN_SIZE, MOST_LETTERS = 12.0, 14.0, 3
JOINED = Pen("d-run", 0.25)
LOOPED = Pen("d-run", 0.5)
BAR = Pen("d-run", 0.7)
RING = Pen("d-balloon", 0.35, fill=PAPER)
DOT_RADIUS, SYMBOL_RADIUS = 3.2, 15.0
LEAST_WIDTH = 400.0


@dataclass(frozen=True, slots=True)
class _Marks:
    """What joins are drawn with: the letters of their loops by folded ref, and which are tried open."""

    letters: Mapping[str, Sequence[str]]
    opened: Collection[str]

    def pen(self, join: Join) -> Pen:
        if fold(join.ref) in self.opened:
            return GHOST
        return LOOPED if self.letters.get(fold(join.ref)) else JOINED

    def say(self, join: Join) -> str:
        said = _("%(ref)s joins %(one)s and %(other)s") % {
            "ref": join.ref,
            "one": join.one,
            "other": join.other,
        }
        letters = self.letters.get(fold(join.ref), ())
        if fold(join.ref) in self.opened:
            return f"{said}, {_('tried open')}"
        return f"{said}, {_('on loop')} {', '.join(letters)}" if letters else said


def draw_grounds(
    graph: GroundGraph,
    loops: Sequence[RunningLoop],
    index: PlanIndex,
    units: Sequence[str],
    *,
    numbers: Mapping[str, int],
    opened: Collection[str] = (),
    name: str = "grounds-drawing",
) -> str:
    """The graph as one SVG element, safe to put into a page as it is.

    ``units`` are the nodes of the row in their order, joined ones only; ``opened`` are folded refs of joins
    that are tried open, and ``loops`` those of what is left.
    """
    sheet = GroundSheet(graph, units)
    letters: dict[str, list[str]] = {}
    for one in loops:
        for join in one.joins:
            if one.letter not in letters.setdefault(fold(join.ref), []):
                letters[fold(join.ref)].append(one.letter)
    marks = _Marks(letters, opened)
    shapes = [_draw_bar(sheet, node) for node in sheet.bars]
    shapes += [_draw_drop(sheet, join, marks) for join in (*sheet.down, *sheet.from_bars)]
    shapes += [_draw_straight(sheet, join, marks) for join in sheet.straight]
    shapes += [_draw_bracket(sheet, join, marks) for join in sheet.over]
    shapes += [_draw_unit(sheet, index, unit, numbers) for unit in units]
    words = _describe(graph, loops, marks)
    return to_svg(_wrap(sheet, words, shapes, name))


def _draw_unit(sheet: GroundSheet, index: PlanIndex, unit: str, numbers: Mapping[str, int]) -> Shape:
    """An outline with the balloon's number or the ref, and the name below it."""
    left, top = sheet.left_of(unit), sheet.top
    pedal = index.pedals.get(fold(unit))
    shown = str(numbers.get(unit, unit))
    shapes = [rectangle(Area(left, top, BOX, BOX_HEIGHT), BODY.look(UNIT))]
    size = min(LETTER + 2, (LETTER + 2) * (BOX - 8) / max(measure(shown, LETTER + 2, NUMBER.face), 1))
    head = shown if shown == unit else f"{shown} · {unit}"
    head = head if measure(head, size, NUMBER.face) <= BOX - 8 else shown
    shapes.append(write(NUMBER, size, head, left + BOX / 2, top + 18))
    called = (pedal.name if pedal else "") or _kind_of(index, unit)
    lettering = fit(called, NAME.face, LETTER, LETTER - 1.5, BOX - 8, BOX_HEIGHT - 24)
    baseline = top + 24 + ASCENT * lettering.size
    for line in lettering.lines:
        shapes.append(write(NAME if pedal else NOTE, lettering.size, line, left + BOX / 2, baseline))
        baseline += LEADING * lettering.size
    return group([hint(f"{unit} {called}".strip()), *shapes], class_="d-unit", data_ref=unit)


def _kind_of(index: PlanIndex, unit: str) -> str:
    part = index.signal_parts.get(fold(unit))
    names = {
        "Source": _("instrument"),
        "Amp": _("amp"),
        "Computer": _("computer"),
        "Pedal": getattr(part, "kind", ""),
    }
    return names.get(type(part).__name__, "")


def _draw_straight(sheet: GroundSheet, join: Join, marks: _Marks) -> Shape:
    left, right = sheet.straight_span(join)
    line = polyline([(left, sheet.middle), (right, sheet.middle)], marks.pen(join).look(UNIT))
    x = (left + right) / 2
    return _mark(join, marks, [line, *_name_join(join, x, sheet.middle - 6, GAP - 6)], x, sheet.middle + 12)


def _draw_bracket(sheet: GroundSheet, join: Join, marks: _Marks) -> Shape:
    at = sheet.brackets[join.ref]
    way = [(at.one_x, sheet.top), (at.one_x, at.y), (at.other_x, at.y), (at.other_x, sheet.top)]
    x = (at.one_x + at.other_x) / 2
    letters = marks.letters.get(fold(join.ref), ())
    aside = _sign_width(letters) / 2 + 1 if letters else 0
    ground = rectangle(around(x - aside, at.y - 10, 34, LETTER), KNOCKOUT.look(0))
    named = [ground, *_name_join(join, x - aside, at.y - 6, 60)]
    wide = min(measure(join.ref, LETTER, REF.face), 60) / 2
    return _mark(join, marks, [polyline(way, marks.pen(join).look(UNIT)), *named], x + wide + 4, at.y - 10)


def _draw_drop(sheet: GroundSheet, join: Join, marks: _Marks) -> Shape:
    """From a unit, or a bar, down to the bar that it hangs on."""
    x, bar = sheet.below(join), sheet.bars[join.other]
    top = sheet.bottom if join.one in sheet.column else sheet.bars[join.one].y
    shapes = [polyline([(x, top), (x, bar.y)], marks.pen(join).look(UNIT))]
    if fold(join.ref) not in marks.opened:
        shapes.append(circle(x, bar.y, DOT_RADIUS, DOT.look(UNIT)))
    is_earth = join.other == sheet.earth
    return _mark(join, marks, shapes, x, bar.y - 16 if is_earth else top + 15)


def _draw_bar(sheet: GroundSheet, node: str) -> Shape:
    bar = sheet.bars[node]
    line = polyline([(bar.left, bar.y), (bar.right, bar.y)], BAR.look(UNIT))
    if node == sheet.earth:
        x = bar.right
        return group([hint(_("protective earth")), line, *draw_protective_earth(x, bar.y)], class_="d-earth")
    size = min(LETTER, LETTER * 110 / max(measure(node, LETTER, REF.face), 1))
    words = write(REF, size, node, bar.left, bar.y + LETTER + 3, "start")
    ground = rectangle(Area(bar.left, bar.y + 4, measure(node, size, REF.face), LETTER), KNOCKOUT.look(0))
    return group([hint(_("supply return %s") % node), line, ground, words], class_="d-return", data_ref=node)


def draw_protective_earth(x: float, y: float) -> list[Shape]:
    """The sign, hanging from (x, y), with its words: a stem and three ever shorter bars within a ring."""
    ring_y, look = y + 10 + SYMBOL_RADIUS, LOOPED.look(UNIT)
    shapes = [
        polyline([(x, y), (x, ring_y - SYMBOL_RADIUS)], look),
        circle(x, ring_y, SYMBOL_RADIUS, RING.look(UNIT)),
    ]
    shapes.append(polyline([(x, ring_y - SYMBOL_RADIUS), (x, ring_y)], look))
    for step, half in enumerate((9.0, 6.0, 3.0)):
        shapes.append(polyline([(x - half, ring_y + 4 * step), (x + half, ring_y + 4 * step)], look))
    said = _("protective earth")
    return [*shapes, write(NOTE, LETTER, said, x + SYMBOL_RADIUS + 7, ring_y + 0.35 * LETTER, "start")]


def _name_join(join: Join, x: float, baseline: float, room: float) -> list[Shape]:
    lettering = fit(join.ref, REF.face, LETTER, LETTER - 2, room, 1.2 * LETTER)
    return [write(REF, lettering.size, line, x, baseline) for line in lettering.lines]


def _mark(join: Join, marks: _Marks, shapes: list[Shape], x: float, y: float) -> Shape:
    """The join with its hint, and where it lies on loops their letters with their middle at (x, y)."""
    letters = marks.letters.get(fold(join.ref), ())
    if letters:
        words, wide = _say_letters(letters), _sign_width(letters)
        plate = rectangle(around(x, y, wide, SIGN_SIZE), SIGN.look(UNIT))
        shapes = [*shapes, plate, write(SIGN_LETTER, LETTER - 1, words, x, y + 0.35 * (LETTER - 1))]
    return group([hint(marks.say(join)), *shapes], class_="d-join", data_of=join.ref)


def _say_letters(letters: Sequence[str]) -> str:
    """`A B C`, at most so many, then how many more."""
    more = len(letters) - MOST_LETTERS
    return " ".join(letters[:MOST_LETTERS]) + (f" +{more}" if more > 0 else "")


def _sign_width(letters: Sequence[str]) -> float:
    return max(SIGN_SIZE, measure(_say_letters(letters), LETTER - 1, SIGN_LETTER.face) + 6)


def _describe(graph: GroundGraph, loops: Sequence[RunningLoop], marks: _Marks) -> str:
    """Join by join and loop by loop in words, for those who do not see it."""
    sentences = [f"{marks.say(join)}." for join in graph.joins]
    for one in loops:
        way = ", ".join((*one.loop.nodes, one.loop.nodes[0]))
        sentences.append(_("Loop %(letter)s: %(way)s.") % {"letter": one.letter, "way": way})
    return " ".join(sentences) or _("Nothing is joined.")


def _wrap(sheet: GroundSheet, words: str, shapes: list[Shape], name: str) -> Shape:
    width, height = (number(value) for value in (max(sheet.width, LEAST_WIDTH), sheet.height))
    attributes = (
        ("xmlns", "http://www.w3.org/2000/svg"),
        ("class", "lanes-drawing"),
        ("viewBox", f"0 0 {width} {height}"),
        ("width", width),
        ("height", height),
        ("role", "img"),
        ("aria-labelledby", f"{name}-title"),
        ("aria-describedby", f"{name}-words"),
    )
    title = Shape("title", (("id", f"{name}-title"),), text=_("How the grounds are joined"))
    description = Shape("desc", (("id", f"{name}-words"),), text=words)
    return Shape("svg", attributes, (title, description, *shapes))
