"""The placing that anybody would try first: pedals in signal order, row behind row, there and back.

What the bench holds the search against; it obeys the same hard rules, and often finds no room.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from boardshop.core.index import fold
from boardshop.core.layout.foot_checks import list_pairs, switch_distance
from boardshop.core.layout.geometry import (
    Box,
    body_box,
    is_nearer,
    overlaps,
    plug_box,
    room_inside,
    switch_points,
    turned_size,
)
from boardshop.core.layout.plug_checks import pass_at_height
from boardshop.core.layout.rules import TOGETHER_DEPTH_MM, TREADLE_EDGE_MM
from boardshop.core.layout.standing import frame_box, list_reserved, list_used_jacks
from boardshop.core.plan import BoardPlan, Jack, Pedal, Place, PlugType, Point

ROW_DEPTHS = (120, 140, 150)
STEP_MM = 5
SHIFT_MM = 30
"""How far a pedal may stand behind the front of its row."""


@dataclass(frozen=True, slots=True)
class Footprint:
    """What one pedal takes where it stands: its body, its plugs by jack, the heel's room, its switches."""

    pedal: Pedal
    body: Box
    plugs: tuple[tuple[Jack, Box], ...]
    heel: Box | None
    switches: tuple[Point, ...]


def place_in_rows(plan: BoardPlan) -> BoardPlan | None:
    """The plan with every pedal placed; None where no depth of row has room for all."""
    for depth in ROW_DEPTHS:
        placed = _Rows(plan, depth).place()
        if placed is not None:
            pedals = tuple(replace(pedal, place=placed[pedal.ref]) for pedal in plan.pedals)
            return replace(plan, pedals=pedals)
    return None


class _Rows:
    def __init__(self, plan: BoardPlan, depth: int) -> None:
        self.plan, self.depth, self.outline = plan, depth, frame_box(plan)
        self.reserved = [kept.box for kept in list_reserved(plan)]
        self.uses: dict[str, list[tuple[Jack, PlugType]]] = {}
        for use in list_used_jacks(plan):
            if use.jack is not None and use.plug is not None:
                self.uses.setdefault(use.pedal.ref, []).append((use.jack, use.plug))
        self.partners: dict[str, set[str]] = {}
        for one, other in list_pairs(plan):
            self.partners.setdefault(fold(one.ref), set()).add(fold(other.ref))
            self.partners.setdefault(fold(other.ref), set()).add(fold(one.ref))
        self.standing: dict[str, Footprint] = {}

    def place(self) -> dict[str, Place] | None:
        """Pinned pedals, then treadles, then the line in its order, each at the first free spot."""
        places: dict[str, Place] = {}
        order = sorted(self.plan.pedals, key=lambda pedal: (not pedal.pinned, not pedal.treadle))
        for pedal in order:
            if pedal.pinned and pedal.place is not None:
                spots: Iterator[Place] = iter([pedal.place])
            else:
                spots = self._list_spots(pedal)
            found = next((spot for spot in spots if self._is_free(pedal, spot)), None)
            if found is None:
                return None
            places[pedal.ref] = found
            self.standing[fold(pedal.ref)] = self._stand(pedal, found)
        return places

    def _list_spots(self, pedal: Pedal) -> Iterator[Place]:
        """From the side where the signal arrives, every row the other way round than the one before."""
        turn = (pedal.turns or (0,))[0]
        width, depth = turned_size(pedal.width, pedal.depth, turn)
        last = self.plan.frame.width - width
        across = range(last % STEP_MM, last + 1, STEP_MM)
        deep = (TREADLE_EDGE_MM if pedal.treadle else SHIFT_MM) + 1
        fronts = range(0, 1 if pedal.treadle else self.plan.frame.depth, self.depth)
        gap, bodies = self.plan.rules.gap_mm, [old.body for old in self.standing.values()]
        for number, front in enumerate(fronts):
            for x in across if number % 2 else reversed(across):
                near = [b for b in bodies if b.x0 - gap < x + width and x < b.x1 + gap]
                for y in range(front, min(front + deep, self.plan.frame.depth - depth + 1), STEP_MM):
                    if not any(b.y0 - gap < y + depth and y < b.y1 + gap for b in near):
                        yield Place(x, y, turn)

    def _stand(self, pedal: Pedal, spot: Place) -> Footprint:
        body = body_box(pedal, spot)
        assert body is not None
        plugs = [(jack, plug_box(pedal, jack, plug, spot)) for jack, plug in self.uses.get(pedal.ref, ())]
        heel = Box(body.x0, 0, body.x1, body.y0) if pedal.treadle and body.y0 > 0 else None
        known = tuple((jack, box) for jack, box in plugs if box is not None)
        return Footprint(pedal, body, known, heel, switch_points(pedal, spot))

    def _is_free(self, pedal: Pedal, spot: Place) -> bool:
        new = self._stand(pedal, spot)
        return self._fits_frame(new) and all(self._fits_beside(new, old) for old in self.standing.values())

    def _fits_frame(self, new: Footprint) -> bool:
        gap, tiers = self.plan.rules.plug_gap_mm, self.plan.frame.tiers
        on_tier = not tiers or any(t.from_y <= new.body.y0 and new.body.y1 <= t.to_y for t in tiers)
        in_front = not new.pedal.treadle or new.body.y0 <= TREADLE_EDGE_MM
        return (
            on_tier
            and in_front
            and all(room_inside(plug, self.outline) >= gap for _, plug in new.plugs)
            and not any(overlaps(new.body, kept) for kept in self.reserved)
            and not any(is_nearer(plug, kept, gap) for _, plug in new.plugs for kept in self.reserved)
            and not any(new.heel and overlaps(new.heel, kept) for kept in self.reserved)
        )

    def _fits_beside(self, new: Footprint, old: Footprint) -> bool:
        rules = self.plan.rules
        least = max(rules.switch_gap_mm, rules.switch_min_mm)
        return not (
            _is_blocked(new, old, rules.plug_gap_mm)
            or any(switch_distance(a, b) < least for a in new.switches for b in old.switches)
            or (fold(old.pedal.ref) in self.partners.get(fold(new.pedal.ref), ()) and self._apart(new, old))
        )

    def _apart(self, new: Footprint, old: Footprint) -> bool:
        """Whether a pair that is stepped on together stands too far apart, or too near."""
        low, high = self.plan.rules.together_mm
        steps = [Point(abs(a.x - b.x), abs(a.y - b.y)) for a in new.switches for b in old.switches]
        near = min(steps, key=lambda step: max(step.x, step.y), default=None)
        return near is not None and not (low <= near.x <= high and near.y <= TOGETHER_DEPTH_MM)


def _is_blocked(one: Footprint, other: Footprint, gap: int) -> bool:
    """Whether a plug of either meets the other's body, plugs or heel's room, or a body stands in it."""
    sides: Sequence[tuple[Footprint, Footprint]] = ((one, other), (other, one))
    return (
        any(is_nearer(plug, b.body, gap) for a, b in sides for _, plug in a.plugs)
        or any(
            is_nearer(box, box_2, gap) and not pass_at_height(jack, jack_2)
            for jack, box in one.plugs
            for jack_2, box_2 in other.plugs
        )
        or any(
            a.heel is not None and any(overlaps(a.heel, box) for box in (b.body, *(p for _, p in b.plugs)))
            for a, b in sides
        )
    )
