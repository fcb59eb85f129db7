"""The things that a search places or works around, each in its allowed turns, read from the plan."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from boardshop.core.index import fold, index_plan, split_end
from boardshop.core.layout.geometry import (
    Box,
    body_box,
    jack_point,
    plug_box,
    plug_end,
    supply_box,
    switch_points,
    turned_size,
)
from boardshop.core.layout.standing import UsedJack, list_reserved, list_used_jacks
from boardshop.core.placing.answers import Wishes
from boardshop.core.placing.arrays import BODY, KEEPOUT, PLUG, ROOM, STRIP
from boardshop.core.placing.depths import LARGEST_MM, list_depths
from boardshop.core.plan import BoardPlan, Pedal, Place, PlugType, Point, Turn


@dataclass(frozen=True, slots=True)
class Part:
    sort: int
    box: Box
    height: int | None = None


@dataclass(frozen=True, slots=True)
class Shape:
    """A thing in one turn, seen from its place: parts, switches, and the ends that nets start from."""

    turn: Turn
    parts: tuple[Part, ...]
    switches: tuple[Point, ...]
    ends: tuple[Point, ...]
    low_x: int
    high_x: int
    depths: tuple[bool, ...]
    """For each y from 0 on, whether the place may have it."""

    @property
    def ys(self) -> list[int]:
        return [y for y, is_allowed in enumerate(self.depths) if is_allowed]

    @property
    def is_possible(self) -> bool:
        return self.low_x <= self.high_x and any(self.depths)


@dataclass(frozen=True, slots=True)
class Thing:
    """``ref`` is empty for what is no pedal; ``at`` is where it stays, None where it may move."""

    ref: str
    shapes: tuple[Shape, ...]
    at: Place | None = None
    use: int = 0


def list_things(plan: BoardPlan, wishes: Wishes) -> list[Thing]:
    """Those that may move first: pedals, reserved rooms; then fixed pedals, supplies, keep-outs."""
    used: dict[str, list[UsedJack]] = {}
    for use in list_used_jacks(plan):
        used.setdefault(fold(use.pedal.ref), []).append(use)
    pedals = [_pedal(plan, wishes, pedal, used.get(fold(pedal.ref), ())) for pedal in plan.pedals]
    movable = [thing for thing in pedals if thing.at is None]
    fixed = [thing for thing in pedals if thing.at is not None]
    return [*movable, *_rooms(plan, wishes), *fixed, *_obstacles(plan)]


def is_fixed(pedal: Pedal, wishes: Wishes) -> bool:
    stays = pedal.pinned or fold(pedal.ref) in {fold(ref) for ref in wishes.staying}
    return stays and pedal.place is not None


def list_ends(plan: BoardPlan) -> dict[str, list[tuple[str, str | None]]]:
    """By pedal: each end of its links, with the plug that goes in; the order of `Shape.ends`."""
    ends: dict[str, list[tuple[str, str | None]]] = {}
    for link in plan.links:
        for end, plug in ((link.source, link.plug_from), (link.target, link.plug_to)):
            ends.setdefault(fold(split_end(end)[0]), []).append((end, plug))
    return ends


def _pedal(plan: BoardPlan, wishes: Wishes, pedal: Pedal, used: Sequence[UsedJack]) -> Thing:
    at = pedal.place if is_fixed(pedal, wishes) else None
    turns = (at.turn,) if at else tuple(dict.fromkeys(pedal.turns)) or (0,)
    ends = list_ends(plan).get(fold(pedal.ref), [])
    shapes = tuple(_shape(plan, pedal, used, ends, turn, at) for turn in turns)
    return Thing(pedal.ref, shapes, at, pedal.use if pedal.switches else 0)


def _shape(
    plan: BoardPlan,
    pedal: Pedal,
    used: Sequence[UsedJack],
    ends: Sequence[tuple[str, str | None]],
    turn: Turn,
    at: Place | None,
) -> Shape:
    spot = Place(0, 0, turn)
    body = body_box(pedal, spot)
    assert body is not None  # a place is given
    parts = [Part(BODY, body)]
    for use in used:
        box = plug_box(pedal, use.jack, use.plug, spot) if use.jack and use.plug else None
        if box is not None:
            parts.append(Part(PLUG, box, use.jack.height if use.jack else None))
    depths = list_depths(plan, pedal, body, _room(plan, parts))
    if pedal.treadle:
        reach = at.y if at else max((y for y, allowed in enumerate(depths) if allowed), default=0)
        parts.append(Part(STRIP, Box(0, -max(0, reach), body.x1, 0)))
    room = _room(plan, parts)
    points = tuple(end_point(plan, pedal, end, plug, turn) for end, plug in ends)
    return Shape(
        turn,
        tuple(parts),
        switch_points(pedal, spot),
        points,
        -room.x0,
        min(plan.frame.width, LARGEST_MM) - room.x1,
        depths,
    )


def _room(plan: BoardPlan, parts: Sequence[Part]) -> Box:
    """What must lie on the frame: bodies, and plugs with their gap to its edge."""
    gap = {BODY: 0, ROOM: 0, PLUG: plan.rules.plug_gap_mm}
    boxes = [(part.box, gap[part.sort]) for part in parts if part.sort in gap]
    return Box(
        min(box.x0 - by for box, by in boxes),
        min(box.y0 - by for box, by in boxes),
        max(box.x1 + by for box, by in boxes),
        max(box.y1 + by for box, by in boxes),
    )


def end_point(plan: BoardPlan, pedal: Pedal, end: str, plug_ref: str | None, turn: Turn) -> Point:
    """The plug's outer end, seen from the place.

    It is the jack where the plug is not measured, and the body's middle where the jack is not.
    """
    index, spot = index_plan(plan), Place(0, 0, turn)
    jack = next((jack for jack in pedal.jacks if fold(jack.name) == fold(split_end(end)[1])), None)
    plug = index.plugs.get(fold(plug_ref)) if plug_ref else None
    if jack is not None:
        point = plug_end(pedal, jack, plug or PlugType("", reach=0, width=0), spot) or jack_point(
            pedal, jack, spot
        )
        if point is not None:
            return point
    width, depth = turned_size(pedal.width, pedal.depth, turn)
    return Point(width // 2, depth // 2)


def _rooms(plan: BoardPlan, wishes: Wishes) -> Iterator[Thing]:
    """Reserved rooms lie anywhere on the frame, both ways round."""
    for width, depth in wishes.reserved:
        ways: tuple[Turn, ...] = (0,) if width == depth else (0, 90)
        shapes = []
        for turn in ways:
            wide, deep = turned_size(width, depth, turn)
            depth = min(plan.frame.depth, LARGEST_MM)
            depths = tuple(y + deep <= depth for y in range(depth + 1))
            box = Box(0, 0, wide, deep)
            shapes.append(
                Shape(turn, (Part(ROOM, box),), (), (), 0, min(plan.frame.width, LARGEST_MM) - wide, depths)
            )
        yield Thing("", tuple(shapes))


def _obstacles(plan: BoardPlan) -> Iterator[Thing]:
    boxes = [(KEEPOUT, kept.box) for kept in list_reserved(plan)]
    boxes += [
        (BODY, box)
        for supply in plan.supplies
        if supply.place is not None and not supply.place.under and (box := supply_box(supply)) is not None
    ]
    for sort, box in boxes:
        own = Box(0, 0, box.width, box.depth)
        shape = Shape(0, (Part(sort, own),), (), (), box.x0, box.x0, ())
        yield Thing("", (shape,), Place(box.x0, box.y0, 0))
