"""The first spot on the frame that is free for a body, by the rules that are faults when they are broken.

Depth by depth, from the front for what the foot uses and from the rear for the rest, each time the leftmost
place.  In one depth every other thing forbids a stretch of x; what no stretch covers is free, exactly.
Depths are those where the body, one of its plugs or one of its switches comes to lie against something: the
first free depth is always one of them.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import product

from boardshop.core.index import fold
from boardshop.core.layout.carrying import fits_on_a_tier, is_carried
from boardshop.core.layout.foot_checks import list_switches
from boardshop.core.layout.geometry import Box, switch_points, turned_size
from boardshop.core.layout.plug_checks import list_standing_plugs, pass_at_height
from boardshop.core.layout.rules import RAIL_HOLD_MM, TREADLE_EDGE_MM
from boardshop.core.layout.standing import Body, list_bodies, list_members, list_reserved, list_used_jacks
from boardshop.core.layout.supply_checks import free_height, list_under
from boardshop.core.plan import BoardPlan, Jack, Pedal, Place, Point, SupplyPlace, Turn

BODY, PLUG, SWITCH, KEPT, STRIP = "body", "plug", "switch", "kept", "strip"
"""`strip` is what stays empty before a treadle."""
UPRIGHT: tuple[Turn, ...] = (0, 90)
"""A supply's box is the same after half a turn."""


@dataclass(frozen=True, slots=True)
class _Part:
    """Something that takes room: of what stands on the frame, or of what is to be placed beside it."""

    kind: str
    box: Box
    jack: Jack | None = None


@dataclass(frozen=True, slots=True)
class _Gaps:
    """The free mm that things need between them."""

    body: int
    plug: int
    switch: int

    def between(self, one: _Part, other: _Part) -> int | None:
        """None where the two are nothing to each other."""
        kinds = {one.kind, other.kind}
        if SWITCH in kinds:
            return self.switch if kinds == {SWITCH} else None
        if STRIP in kinds:
            return None if kinds == {STRIP} else 0
        if PLUG in kinds:
            passes = one.jack is not None and other.jack is not None and pass_at_height(one.jack, other.jack)
            return None if passes else self.plug
        return 0 if KEPT in kinds else self.body


@dataclass(frozen=True, slots=True)
class _Search:
    """What is to be placed, its body first, as it would lie at (0, 0), and what is there already."""

    plan: BoardPlan
    parts: tuple[_Part, ...]
    fixed: tuple[_Part, ...]
    gaps: _Gaps
    height: int | None
    is_front: bool = False
    is_treadle: bool = False
    on_rails: bool = False
    under: bool = False


def find_pedal_spot(plan: BoardPlan, ref: str) -> Place | None:
    """Where the pedal can lie, as it is turned now or else in another of its allowed turns.

    Switches keep their full distance where they can, else the least.  None where no spot is free.
    """
    pedal = next(each for each in plan.pedals if fold(each.ref) == fold(ref))
    others = replace(plan, pedals=tuple([replace(p, place=None) if p is pedal else p for p in plan.pedals]))
    fixed, rules = _list_fixed(others), plan.rules
    for apart in dict.fromkeys((max(rules.switch_gap_mm, rules.switch_min_mm), rules.switch_min_mm)):
        for turn in _list_turns(pedal):
            search = _Search(
                plan,
                _list_parts(plan, pedal, turn),
                fixed,
                _Gaps(rules.gap_mm, rules.plug_gap_mm, apart),
                pedal.height,
                is_front=bool(pedal.treadle or pedal.use),
                is_treadle=bool(pedal.treadle),
                on_rails=plan.frame.surface == "slotted" and bool(plan.frame.rails),
            )
            spot = _first_spot(search)
            if spot is not None:
                return Place(spot.x, spot.y, turn)
    return None


def find_supply_spot(plan: BoardPlan, ref: str) -> SupplyPlace | None:
    """Where the supply can sit: under the frame where its free height is recorded, else on top.

    None where no spot is free, or where nobody measured the supply.
    """
    supply = next(supply for supply in plan.supplies if fold(supply.ref) == fold(ref))
    others = replace(plan, supplies=tuple([each for each in plan.supplies if each is not supply]))
    there = [*(each.box for each in list_under(others)), *(each.box for each in list_members(plan))]
    below = tuple(_Part(KEPT, box) for box in there)
    gaps = _Gaps(plan.rules.gap_mm, plan.rules.plug_gap_mm, plan.rules.switch_min_mm)
    for under, turn in product((True, False), UPRIGHT):
        if supply.width is None or supply.depth is None or (under and plan.frame.under is None):
            continue
        parts = (_Part(BODY, Box(0, 0, *turned_size(supply.width, supply.depth, turn))),)
        fixed = below if under else _list_fixed(others)
        spot = _first_spot(_Search(plan, parts, fixed, gaps, supply.height, under=under))
        if spot is not None:
            return SupplyPlace(spot.x, spot.y, turn, under)
    return None


def _list_turns(pedal: Pedal) -> tuple[Turn, ...]:
    now = pedal.place.turn if pedal.place else 0
    return tuple(sorted(pedal.turns or (0,), key=lambda turn: (turn != now, turn)))


def _list_fixed(plan: BoardPlan) -> tuple[_Part, ...]:
    bodies = list_bodies(plan)
    plugs = list_standing_plugs(list_used_jacks(plan))
    switches = [point for _, points in list_switches(bodies) for point in points]
    return (
        *(_Part(BODY, body.box) for body in bodies),
        *(_Part(PLUG, plug.box, plug.jack) for plug in plugs),
        *(_Part(SWITCH, Box(point.x, point.y, point.x, point.y)) for point in switches),
        *(_Part(KEPT, kept.box) for kept in list_reserved(plan)),
        *_list_strips(bodies),
    )


def _list_strips(bodies: Sequence[Body]) -> Iterator[_Part]:
    """What is kept free before treadles that do not lie at the very edge."""
    for body in bodies:
        if body.pedal is not None and body.pedal.treadle and body.box.y0 > 0:
            yield _Part(STRIP, Box(body.box.x0, 0, body.box.x1, body.box.y0))


def _list_parts(plan: BoardPlan, pedal: Pedal, turn: Turn) -> tuple[_Part, ...]:
    placed = replace(pedal, place=Place(0, 0, turn))
    only = replace(plan, pedals=tuple([placed if each is pedal else each for each in plan.pedals]))
    plugs = list_standing_plugs([use for use in list_used_jacks(only) if use.pedal.ref == pedal.ref])
    switches = switch_points(placed)
    return (
        _Part(BODY, Box(0, 0, *turned_size(pedal.width, pedal.depth, turn))),
        *(_Part(PLUG, plug.box, plug.jack) for plug in plugs),
        *(_Part(SWITCH, Box(point.x, point.y, point.x, point.y)) for point in switches),
    )


def _first_spot(search: _Search) -> Point | None:
    for y in _list_depths(search):
        x = _first_x(search, y)
        if x is not None:
            return Point(x, y)
    return None


def _list_depths(search: _Search) -> list[int]:
    """Every depth that may be the first free one; those where two rails carry the body before the others."""
    frame, body = search.plan.frame, search.parts[0].box
    edges = [0, frame.depth - body.depth]
    edges += [edge for tier in frame.tiers for edge in (tier.from_y, tier.to_y - body.depth)]
    if search.on_rails:
        for rail in frame.rails:
            edges += [rail.from_y + RAIL_HOLD_MM - body.depth, rail.to_y - RAIL_HOLD_MM]
    if search.under and frame.under is not None:
        edges += range(frame.depth - body.depth + 1)
    for part in search.parts:
        if part.kind == PLUG:
            edges += [search.gaps.plug - part.box.y0, frame.depth - search.gaps.plug - part.box.y1]
        for fixed in search.fixed:
            gap = search.gaps.between(part, fixed)
            if gap is not None:
                edges += [fixed.box.y1 + gap - part.box.y0, fixed.box.y0 - gap - part.box.y1]
    fitting = {y for y in edges if _fits_in_depth(search, y)}
    way = 1 if search.is_front else -1
    return sorted(
        fitting, key=lambda y: (search.on_rails and not is_carried(frame, body.moved(0, y)), way * y)
    )


def _fits_in_depth(search: _Search, y: int) -> bool:
    frame, body = search.plan.frame, search.parts[0].box.moved(0, y)
    if body.y0 < 0 or body.y1 > frame.depth:
        return False
    if search.under:
        return _has_height_below(search, body)
    if search.is_treadle and y > TREADLE_EDGE_MM:
        return False
    if not fits_on_a_tier(frame, body, search.height):
        return False
    plugs = [part.box.moved(0, y) for part in search.parts if part.kind == PLUG]
    gap = search.gaps.plug
    return all(gap <= plug.y0 and plug.y1 <= frame.depth - gap for plug in plugs)


def _has_height_below(search: _Search, body: Box) -> bool:
    under = search.plan.frame.under
    if under is None or search.height is None:
        return True
    free = min(free_height(search.plan, under, edge) for edge in (body.y0, body.y1))
    return free >= search.height + search.plan.rules.under_gap_mm


def _first_x(search: _Search, y: int) -> int | None:
    """The leftmost x that nothing forbids in this depth."""
    width, body = search.plan.frame.width, search.parts[0].box
    plugs = [part.box for part in search.parts if part.kind == PLUG]
    first = max([0, *(search.gaps.plug - plug.x0 for plug in plugs)])
    last = min([width - body.x1, *(width - search.gaps.plug - plug.x1 for plug in plugs)])
    for low, high in sorted(_list_forbidden(search, y)):
        if low > first:
            break
        first = max(first, high + 1)
    return first if first <= last else None


def _list_forbidden(search: _Search, y: int) -> Iterator[tuple[int, int]]:
    """Stretches of x, both ends counted, in which something comes too near."""
    parts = [_Part(part.kind, part.box.moved(0, y), part.jack) for part in search.parts]
    if search.is_treadle and y > 0:
        parts.append(_Part(STRIP, Box(0, 0, parts[0].box.x1, y)))
    for part, fixed in product(parts, search.fixed):
        gap = search.gaps.between(part, fixed)
        if gap is None:
            continue
        if part.box.y0 - fixed.box.y1 >= gap or fixed.box.y0 - part.box.y1 >= gap:
            continue
        yield fixed.box.x0 - gap - part.box.x1 + 1, fixed.box.x1 + gap - part.box.x0 - 1
