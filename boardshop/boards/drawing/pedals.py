"""A pedal on the drawing: body to scale, jacks with their plugs, foot switches, name, numbered balloon."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from boardshop.boards.drawing.lettering import ASCENT, DESCENT, Lettering, measure
from boardshop.boards.drawing.pens import BALLOON, BODY, DOT, JACK, NAME, NUMBER, PLUG, SWITCH
from boardshop.boards.drawing.shapes import (
    Area,
    Attributes,
    Shape,
    around,
    circle,
    drawn_once,
    group,
    hint,
    polyline,
    rectangle,
)
from boardshop.boards.drawing.sheet import Sheet
from boardshop.boards.drawing.words import Obstacle, best_spot, fit_letter, write, write_in
from boardshop.core.index import PlanIndex, fold
from boardshop.core.layout.geometry import Box, body_box, jack_point, plug_box, switch_points
from boardshop.core.plan import BoardPlan, Jack, Pedal, PlugType

SWITCH_MM, SWITCH_DOT_MM = 6, 2
"""Radius of a foot switch's nut and of its button, common practice."""
_OUT_FROM_MIDDLE = (0, *(side * step for step in range(1, 10) for side in (1, -1)))
JACK_MM = 9
"""Width of a jack's mark on the edge of its body."""

type Url = Callable[[str], str | None]


@dataclass(frozen=True, slots=True)
class PedalMarks:
    """A placed pedal, and where its lettering ended up."""

    pedal: Pedal
    body: Area
    name: Lettering
    name_area: Area
    balloon: Area
    number: str


def mark_pedals(plan: BoardPlan, sheet: Sheet, numbers: Mapping[str, int]) -> tuple[PedalMarks, ...]:
    """Every placed pedal with its name and balloon set out, in the plan's order."""
    folded = {fold(ref): number for ref, number in numbers.items()}
    return tuple(
        _mark(pedal, sheet.area(box), sheet, str(folded.get(fold(pedal.ref), pedal.ref)))
        for pedal in plan.pedals
        if (box := body_box(pedal))
    )


def draw_body(
    marks: PedalMarks,
    plugs: Sequence[PlugType | None],
    sheet: Sheet,
    is_selected: bool,
    beneath: Sequence[Shape] = (),
    inside: Sequence[Shape] = (),
) -> Shape:
    """What lies beneath the runs: plugs, body, jacks; ``beneath`` and ``inside`` the body further shapes.

    ``plugs`` are those of `plugs_of`.
    """
    states = ("is-selected",) if is_selected else ()
    shapes = [
        rectangle(sheet.area(box), PLUG.look(sheet.unit), data_thing=f"{marks.pedal.ref}.{jack.name}")
        for jack, plug in zip(marks.pedal.jacks, plugs, strict=True)
        if plug and (box := plug_box(marks.pedal, jack, plug))
    ]
    shapes = [*beneath, *shapes]
    shapes.append(rectangle(marks.body, BODY.look(sheet.unit, *states), data_ref=marks.pedal.ref))
    shapes += inside
    shapes += [_draw_jack(marks, jack, sheet) for jack in marks.pedal.jacks if jack_point(marks.pedal, jack)]
    return group(shapes, class_="d-part", data_part=marks.pedal.ref)


def draw_face(marks: PedalMarks, sheet: Sheet, selected: str | None, url: Url | None) -> Shape:
    """What lies above the runs: foot switches, name, balloon; a link to the pedal where there is one."""
    ref = marks.pedal.ref
    return _draw_face(marks, sheet, is_same(ref, selected), url(ref) if url else None)


@drawn_once(1024)
def _draw_face(marks: PedalMarks, sheet: Sheet, is_selected: bool, target: str | None) -> Shape:
    states = " is-selected" if is_selected else ""
    hit = Shape("rect", (("class", "d-hit"), ("fill", "none"), ("pointer-events", "all"), *_box(marks.body)))
    shapes = [hit]
    for x, y in (sheet.point(p.x, p.y) for p in switch_points(marks.pedal)):
        shapes.append(circle(x, y, SWITCH_MM, SWITCH.look(sheet.unit)))
        shapes.append(circle(x, y, SWITCH_DOT_MM, DOT.look(sheet.unit)))
    shapes += write_in(marks.name_area, NAME, marks.name, _title(marks.pedal))
    shapes += draw_balloon(marks.balloon, marks.number, sheet.unit)
    label = f"{_title(marks.pedal)} {marks.number}, {marks.pedal.kind}"
    if target is None:
        return group([hint(label), *shapes], class_=f"d-pedal{states}")
    place = marks.pedal.place
    handle = handle_of(marks.pedal.ref, body_box(marks.pedal), place.turn if place else 0)
    return Shape("a", (("class", f"d-pedal{states}"), ("href", target), *handle), (hint(label), *shapes))


def handle_of(ref: str, box: Box | None = None, turn: int = 0) -> Attributes:
    """What a script needs to move a body: its ref, and in mm where it lies on the frame, as it is turned."""
    if box is None:
        return (("data-ref", ref),)
    return (
        ("data-ref", ref),
        ("data-x", box.x0),
        ("data-y", box.y0),
        ("data-w", box.width),
        ("data-d", box.depth),
        ("data-turn", turn),
    )


def draw_balloon(area: Area, words: str, unit: float) -> list[Shape]:
    """A numbered circle, the item reference of ISO 6433."""
    x, y = area.middle
    radius = area.width / 2
    size = _number_size(words, radius, unit)
    drop = (ASCENT - DESCENT / 2) / 2 * size * 0.94
    return [circle(x, y, radius, BALLOON.look(unit)), write(NUMBER, size, words, x, y + drop)]


def plugs_of(index: PlanIndex, pedal: Pedal) -> tuple[PlugType | None, ...]:
    """What is plugged into each of its jacks, in their order."""
    return tuple([plug_at(index, pedal, jack) for jack in pedal.jacks])


def plug_at(index: PlanIndex, pedal: Pedal, jack: Jack) -> PlugType | None:
    """The type of the plug that is in a jack; None where it is free or nobody recorded the type."""
    end = fold(f"{pedal.ref}.{jack.name}")
    for link in (*index.links_from.get(end, ()), *index.links_to.get(end, ())):
        ref = link.plug_from if fold(link.source) == end else link.plug_to
        if ref is not None:
            return index.plugs.get(fold(ref))
    feed = index.feed_of_jack.get(end)
    ref = feed.lead.plug if feed and feed.lead else None
    return index.plugs.get(fold(ref)) if ref else None


def is_same(ref: str, selected: str | None) -> bool:
    """Whether the ref is among those selected, which are parted by spaces."""
    return selected is not None and fold(ref) in fold(selected).split()


@drawn_once(1024)
def _mark(pedal: Pedal, body: Area, sheet: Sheet, number: str) -> PedalMarks:
    """Name above balloon, or beside it on a body too low for both."""
    unit = sheet.unit
    pad = min(1.1 * unit, body.width * 0.08, body.height * 0.08)
    switches = [around(*sheet.point(p.x, p.y), 2 * SWITCH_MM, 2 * SWITCH_MM) for p in switch_points(pedal)]
    is_low = body.height < 10 * unit and body.width > 1.4 * body.height
    radius = min(2.5 * unit, body.width * 0.42, body.height * (0.38 if is_low else 0.24))
    aside = 2 * radius + pad if is_low else 0
    room = Area(body.x + pad + aside, body.y + pad, body.width - 2 * pad - aside, body.height - 2 * pad)
    high = room.height if is_low else room.height - 2 * radius - pad
    name = fit_letter(_title(pedal), NAME, unit, room.width, max(high, 0))
    name_area = _name_spot(name, room, pad, switches)
    balloon = _balloon_spot(radius, body, pad, [(name_area, 4.0), *((area, 2.0) for area in switches)])
    return PedalMarks(pedal, body, name, name_area, balloon, number)


def _name_spot(name: Lettering, room: Area, pad: float, switches: list[Area]) -> Area:
    """At the rear edge, or as near to it as the foot switches let it."""
    lowest = room.bottom - name.height
    below = [s.bottom + pad / 2 for s in switches]
    above = [s.y - pad / 2 - name.height for s in switches]
    tops = sorted(max(room.y, min(top, lowest)) for top in (room.y, *below, *above))
    return best_spot(
        [Area(room.x, top, room.width, name.height) for top in tops], [(s, 1.0) for s in switches]
    )


def _balloon_spot(radius: float, body: Area, pad: float, obstacles: list[Obstacle]) -> Area:
    """Near the middle of the body, clear of its name and its foot switches; smaller where room is short."""
    wide = [(area.grown(pad / 3), weight) for area, weight in obstacles]
    return best_spot(_balloon_spots(radius, body, pad), wide)


def _balloon_spots(radius: float, body: Area, pad: float) -> Iterator[Area]:
    x, middle = body.middle
    for size in (radius, 0.9 * radius, 0.8 * radius, 0.7 * radius):
        free, across = body.height / 2 - size - pad, max(body.width / 2 - size - pad, 0)
        for side in (0, 1, -1):
            for part in _OUT_FROM_MIDDLE:
                yield around(x + side * across, middle + free * part / 10, 2 * size, 2 * size)


def _draw_jack(marks: PedalMarks, jack: Jack, sheet: Sheet) -> Shape:
    """A short thick line on the body's edge."""
    point = jack_point(marks.pedal, jack)
    assert point is not None
    x, y = sheet.point(point.x, point.y)
    on_side = abs(x - marks.body.x) < 0.01 or abs(x - marks.body.right) < 0.01
    half = JACK_MM / 2
    ends = [(x, y - half), (x, y + half)] if on_side else [(x - half, y), (x + half, y)]
    return polyline(ends, JACK.look(sheet.unit, f"is-{jack.role}"))


def _number_size(words: str, radius: float, unit: float) -> float:
    """As large as the words fit into the balloon's chord."""
    room = 1.55 * radius
    full = min(NUMBER.height * unit, 1.15 * radius)
    wide = measure(words, full, NUMBER.face)
    return full if wide <= room else full * room / wide


def _title(pedal: Pedal) -> str:
    return pedal.name or pedal.ref


def _box(area: Area) -> tuple[tuple[str, float], ...]:
    return (("x", area.x), ("y", area.y), ("width", area.width), ("height", area.height))
