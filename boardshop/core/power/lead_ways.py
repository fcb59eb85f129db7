"""How long a DC lead must be: from the supply's box to the plug in the pedal's power jack.

Where an outlet sits on its supply is not recorded, so the way begins in the middle of the box's side that is
nearest to the jack: an estimate.  Leads run along the frame's edges (Manhattan distance), through the frame
once where the supply lies under it, with the shop's slack; lengths in mm.
"""

from dataclasses import dataclass

from boardshop.core.cables.cut_length import cut_length
from boardshop.core.index import PlanIndex, fold, index_plan, split_end
from boardshop.core.layout.geometry import Box, jack_point, plug_end, supply_box
from boardshop.core.plan import BoardPlan, Feed, Jack, Pedal, Point, Supply


@dataclass(frozen=True, slots=True)
class Lack:
    """A value that nobody recorded, how to get it, and the page of the board (or `gear`) where it goes."""

    what: str
    way_out: str
    page: str


@dataclass(frozen=True, slots=True)
class TailNeed:
    """From where a chain's trunk ends, at its nearest jack, to one of its jacks; None where unknown."""

    jack: str
    mm: int | None


@dataclass(frozen=True, slots=True)
class LeadNeed:
    """``mm`` is None where ``lacks`` says what is missing; ``tails`` one per jack of a chain, else empty."""

    jack: str
    """Where the trunk ends: the jack, of a chain the nearest one."""
    path_mm: int | None
    """The way alone, without slack."""
    mm: int | None
    passes_frame: bool
    lacks: tuple[Lack, ...] = ()
    from_face: tuple[str, ...] = ()
    """Jacks whose plug is not recorded: their way ends at the jack's face."""
    tails: tuple[TailNeed, ...] = ()


def lead_need(plan: BoardPlan, feed: Feed) -> LeadNeed:
    """What length of lead this feed needs; of joined outlets the farther supply counts."""
    index = index_plan(plan)
    supplies = _supplies_of(index, feed)
    spots = {jack: _jack_spot(index, feed, jack) for jack in feed.jacks}
    under = any(supply.place is not None and supply.place.under for supply in supplies)
    lacks = [lack for supply in supplies for lack in _supply_lacks(supply)]
    lacks += [lack for jack in feed.jacks for lack in _jack_lacks(index, jack)]
    from_face = tuple(jack for jack in feed.jacks if spots[jack] and not _has_reach(index, feed))
    known = {jack: spot for jack, spot in spots.items() if spot is not None}
    boxes = [box for box in map(supply_box, supplies) if box is not None]
    if lacks or len(known) < len(spots) or len(boxes) < len(supplies):
        tails = tuple(TailNeed(jack, None) for jack in feed.jacks) if len(feed.jacks) > 1 else ()
        return LeadNeed(feed.jacks[0], None, None, under, tuple(dict.fromkeys(lacks)), from_face, tails)
    ways = {jack: max(_way_from(box, spot) for box in boxes) for jack, spot in known.items()}
    nearest = min(feed.jacks, key=lambda jack: ways[jack])
    path = ways[nearest] + (plan.rules.pass_mm if under else 0)
    return LeadNeed(
        jack=nearest,
        path_mm=path,
        mm=cut_length(path, 0, plan.rules),
        passes_frame=under,
        from_face=from_face,
        tails=_tails(plan, feed, known, known[nearest]),
    )


def _tails(plan: BoardPlan, feed: Feed, spots: dict[str, Point], start: Point) -> tuple[TailNeed, ...]:
    if len(feed.jacks) == 1:
        return ()
    ways = ((jack, _between(start, spots[jack])) for jack in feed.jacks)
    return tuple(TailNeed(jack, cut_length(way, 0, plan.rules)) for jack, way in ways)


def _way_from(box: Box, spot: Point) -> int:
    """From the middle of the side that is nearest to the spot, rounded up to whole mm."""
    middle_x, middle_y = (box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2
    sides = ((box.x0, middle_y), (box.x1, middle_y), (middle_x, box.y0), (middle_x, box.y1))
    least = min(abs(x - spot.x) + abs(y - spot.y) for x, y in sides)
    return -int(-least // 1)


def _between(one: Point, other: Point) -> int:
    return abs(one.x - other.x) + abs(one.y - other.y)


def _supplies_of(index: PlanIndex, feed: Feed) -> tuple[Supply, ...]:
    found = {index.outlets[fold(outlet)][0].ref: index.outlets[fold(outlet)][0] for outlet in feed.outlets}
    return tuple(found.values())


def _jack_of(index: PlanIndex, end: str) -> tuple[Pedal, Jack | None]:
    jack = index.jacks.get(fold(end))
    return index.pedals[fold(split_end(end)[0])], jack if isinstance(jack, Jack) else None


def _jack_spot(index: PlanIndex, feed: Feed, end: str) -> Point | None:
    """The outer end of the plug, or the jack's face where nobody recorded which plug goes there."""
    pedal, jack = _jack_of(index, end)
    if jack is None:
        return None
    plug = index.plugs.get(fold(feed.lead.plug)) if feed.lead and feed.lead.plug else None
    if plug is None or plug.reach is None:
        return jack_point(pedal, jack)
    return plug_end(pedal, jack, plug)


def _has_reach(index: PlanIndex, feed: Feed) -> bool:
    plug = index.plugs.get(fold(feed.lead.plug)) if feed.lead and feed.lead.plug else None
    return plug is not None and plug.reach is not None


def _supply_lacks(supply: Supply) -> list[Lack]:
    lacks = []
    if supply.place is None:
        lacks.append(Lack(f"the place of {supply.ref} on the frame", "Place it.", "layout"))
    if supply.width is None or supply.depth is None:
        lacks.append(Lack(f"the size of {supply.ref}", "Measure its width and depth.", "gear"))
    return lacks


def _jack_lacks(index: PlanIndex, end: str) -> list[Lack]:
    pedal, jack = _jack_of(index, end)
    lacks = []
    if pedal.place is None:
        lacks.append(Lack(f"the place of {pedal.ref} on the frame", "Place it.", "layout"))
    if jack is None or jack.side is None or jack.offset is None:
        way_out = "Record the jack's side and measure its offset along that side."
        lacks.append(Lack(f"where {end} sits on its pedal", way_out, "gear"))
    return lacks
