"""What is found about things on the drawing: an outline around each thing, and a tag with sign and rule.

A fault's outline is whole and its sign solid, a caution's is dashed and its sign open; no colour is needed
to tell them apart.  The signs are those of templates/pieces/mark.html.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from boardshop.boards.drawing.lettering import ASCENT, measure
from boardshop.boards.drawing.pens import FOUND, FOUND_OPEN, REF, TAG
from boardshop.boards.drawing.shapes import Area, Attributes, Shape, group, hint, number, rectangle
from boardshop.boards.drawing.sheet import Sheet
from boardshop.boards.drawing.words import best_spot, write
from boardshop.core.findings import Finding
from boardshop.core.index import fold, split_end
from boardshop.core.layout.geometry import Box
from boardshop.core.layout.standing import list_bodies, list_reserved
from boardshop.core.layout.supply_checks import list_under
from boardshop.core.plan import BoardPlan
from boardshop.core.vocabulary import SEVERITIES

MARKED = ("danger", "damage", "fault", "caution")
"""What is merely unknown or advised is said in words alone."""
TAG_HEIGHT = 3.6
"""mm on paper."""
_SIGNS = {
    "danger": "M11 2 20.5 19.5H1.5ZM9.9 8v5.2h2.2V8ZM11 15.4a1 1 0 1 0 .01 0Z",
    "damage": "M7 1.5h8L20.5 7v8L15 20.5H7L1.5 15V7ZM8.4 6.8 6.8 8.4 9.4 11 6.8 13.6l1.6 1.6L11 12.6l2.6 2.6"
    " 1.6-1.6L12.6 11l2.6-2.6-1.6-1.6L11 9.4Z",
    "fault": "M3 3H19V19H3ZM6.5 9.7v2.6h9V9.7Z",
    "caution": "M11 .9 21.1 11 11 21.1.9 11ZM11 3.5 3.5 11l7.5 7.5 7.5-7.5ZM10 6.4h2v5.4h-2Z"
    "M11 13.6a1.25 1.25 0 1 0 .01 0Z",
}
"""On a square of 22, what is cut out of each by the even-odd rule."""
_SIGN_SIZE = 22


@dataclass(frozen=True, slots=True)
class Mark:
    """What is found about one thing: its worst severity, its rules worst first, and the outline it has."""

    ref: str
    severity: str
    rules: tuple[str, ...]
    box: Box


def list_marks(plan: BoardPlan, findings: Iterable[Finding]) -> tuple[Mark, ...]:
    """One for each placed pedal, supply or keep-out that a fault or caution names, in the plan's order.

    What is kept on purpose marks nothing.
    """
    by_name: dict[str, dict[str, str]] = {}
    for finding in findings:
        if finding.accepted is None and finding.severity in MARKED:
            for subject in finding.subjects:
                by_name.setdefault(fold(split_end(subject)[0]), {}).setdefault(finding.rule, finding.severity)
    return tuple(
        Mark(ref, min(rules.values(), key=SEVERITIES.index), tuple(rules), box)
        for ref, box in _list_boxes(plan).items()
        if (rules := by_name.get(fold(ref)))
    )


def _list_boxes(plan: BoardPlan) -> Mapping[str, Box]:
    return {
        **{body.ref: body.box for body in list_bodies(plan)},
        **{under.supply.ref: under.box for under in list_under(plan)},
        **{kept.name: kept.box for kept in list_reserved(plan)},
    }


def place_tags(marks: Sequence[Mark], sheet: Sheet) -> list[Area]:
    """Each over its thing's front edge, at the left end if it can be, clear of the others."""
    tags: list[Area] = []
    for mark in marks:
        tags.append(best_spot(_tag_spots(mark, sheet), [(tag, 1.0) for tag in tags]))
    return tags


def _tag_spots(mark: Mark, sheet: Sheet) -> Iterator[Area]:
    """Where no lettering of the thing's own stands, then behind its rear edge."""
    area, unit = sheet.area(mark.box), sheet.unit
    high = TAG_HEIGHT * unit
    wide = high + measure(_words(mark), REF.height * unit, REF.face) + 0.8 * unit
    left, right = area.x + 0.6 * unit, area.right - 0.6 * unit - wide
    for y in (area.bottom - 0.4 * high, area.bottom + 0.65 * high, area.y - 0.6 * high, area.y - 1.7 * high):
        for x in (left, right, (left + right) / 2):
            yield Area(x, y, wide, high)


def draw_marks(marks: Sequence[Mark], sheet: Sheet) -> Shape:
    tags = place_tags(marks, sheet)
    return group(
        [_draw_mark(mark, tag, sheet) for mark, tag in zip(marks, tags, strict=True)], class_="d-marks"
    )


def _draw_mark(mark: Mark, tag: Area, sheet: Sheet) -> Shape:
    unit = sheet.unit
    pen = FOUND_OPEN if mark.severity == "caution" else FOUND
    high = tag.height
    shapes = [
        hint(f"{mark.ref}: {', '.join(mark.rules)}"),
        rectangle(sheet.area(mark.box).grown(0.5 * unit), pen.look(unit)),
        rectangle(tag, TAG.look(unit)),
        _draw_sign(mark.severity, tag.x + 0.2 * high, tag.y + 0.17 * high, 0.66 * high),
        write(
            REF,
            REF.height * unit,
            _words(mark),
            tag.x + high,
            tag.y + high / 2 + ASCENT / 2 * 0.78 * REF.height * unit,
            "start",
        ),
    ]
    return group(shapes, class_=f"d-finding is-{mark.severity}", data_found=mark.ref)


def _draw_sign(severity: str, x: float, y: float, size: float) -> Shape:
    place = f"translate({number(x)} {number(y)}) scale({size / _SIGN_SIZE:.4f})"
    look: Attributes = (("class", "d-found-sign"), ("fill", FOUND.stroke), ("fill-rule", "evenodd"))
    return Shape("path", (*look, ("transform", place), ("d", _SIGNS[severity])))


def _words(mark: Mark) -> str:
    """The first rule, and how many more there are."""
    more = f" +{len(mark.rules) - 1}" if len(mark.rules) > 1 else ""
    return f"{mark.rules[0]}{more}"
