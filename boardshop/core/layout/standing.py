"""What stands on the frame: bodies with their boxes, keep-outs, and the plugs in used jacks."""

from dataclasses import dataclass

from boardshop.core.index import PlanIndex, fold, index_plan, split_end
from boardshop.core.layout.geometry import Box, body_box, plug_box, supply_box
from boardshop.core.naming import called
from boardshop.core.plan import BoardPlan, Frame, Jack, Pedal, PlugType


@dataclass(frozen=True, slots=True)
class Body:
    """A placed pedal, or a supply on top of the frame; ``label`` is what messages call it."""

    ref: str
    label: str
    box: Box
    height: int | None
    pedal: Pedal | None = None


@dataclass(frozen=True, slots=True)
class Reserved:
    """A keep-out, or a part under the top; ``name`` is `keepout 1` and so on in the plan's order."""

    name: str
    label: str
    box: Box


@dataclass(frozen=True, slots=True)
class UsedJack:
    """A pedal's jack that a link or a feed uses, and the plug that stands in it.

    ``jack`` is None where the pedal lists no such jack (a power jack of which only the need is recorded).
    """

    end: str
    label: str
    pedal: Pedal
    jack: Jack | None
    plug_ref: str | None
    plug: PlugType | None

    @property
    def box(self) -> Box | None:
        if self.jack is None or self.plug is None:
            return None
        return plug_box(self.pedal, self.jack, self.plug)


def list_bodies(plan: BoardPlan) -> tuple[Body, ...]:
    """Everything with a known outline on top of the frame, pedals first."""
    index = index_plan(plan)
    pedals = [
        Body(pedal.ref, called(index, pedal.ref), box, pedal.height, pedal)
        for pedal in plan.pedals
        if (box := body_box(pedal)) is not None
    ]
    supplies = [
        Body(supply.ref, f"the supply {supply.ref}", box, supply.height)
        for supply in plan.supplies
        if supply.place is not None and not supply.place.under and (box := supply_box(supply)) is not None
    ]
    return (*pedals, *supplies)


def list_reserved(plan: BoardPlan) -> tuple[Reserved, ...]:
    return tuple(
        Reserved(
            f"keepout {number}",
            f"keep-out {number} ({keepout.why})" if keepout.why else f"keep-out {number}",
            Box(keepout.x, keepout.y, keepout.x + keepout.width, keepout.y + keepout.depth),
        )
        for number, keepout in enumerate(plan.frame.keepouts, start=1)
    )


def list_members(plan: BoardPlan) -> tuple[Reserved, ...]:
    """The frame's own parts under its top, named `member 1` and so on in the plan's order."""
    return tuple(
        Reserved(
            f"member {number}",
            f"member {number} ({member.why})" if member.why else f"member {number}",
            Box(member.x, member.y, member.x + member.width, member.y + member.depth),
        )
        for number, member in enumerate(plan.frame.members, start=1)
    )


def list_used_jacks(plan: BoardPlan) -> tuple[UsedJack, ...]:
    """Every use of a pedal's jack: links by their two plugs, then feeds by their lead's plug.

    A chain carries the same plug at each of its jacks.  A jack that two links leave is listed twice.
    """
    index = index_plan(plan)
    used: list[UsedJack] = []
    for link in plan.links:
        for end, plug in ((link.source, link.plug_from), (link.target, link.plug_to)):
            used += _use(index, end, plug)
    for feed in plan.feeds:
        for end in feed.jacks:
            used += _use(index, end, feed.lead.plug if feed.lead is not None else None)
    return tuple(used)


def tier_height(body: Body, frame: Frame) -> int:
    """How high the body stands over the frame: the highest tier that it lies on."""
    met = [tier.height for tier in frame.tiers if tier.from_y < body.box.y1 and body.box.y0 < tier.to_y]
    return max(met, default=0)


def frame_box(plan: BoardPlan) -> Box:
    return Box(0, 0, plan.frame.width, plan.frame.depth)


def _use(index: PlanIndex, end: str, plug_ref: str | None) -> list[UsedJack]:
    pedal = index.pedals.get(fold(split_end(end)[0]))
    if pedal is None:
        return []
    jack = index.jacks.get(fold(end))
    plug = index.plugs.get(fold(plug_ref)) if plug_ref else None
    own_jack = jack if isinstance(jack, Jack) else None
    return [UsedJack(end, called(index, end), pedal, own_jack, plug_ref, plug)]
