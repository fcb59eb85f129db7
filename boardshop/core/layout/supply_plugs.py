"""Room around supplies under the frame: for their DC plugs on one side, for the mains plug on another.

DC plugs stay under the frame; a mains plug may stand out at its edge, where the hand finds it.  A side that
nobody recorded is asked for only where the plugs would not fit on each of them.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from boardshop.core.findings import Finding
from boardshop.core.layout.geometry import Box, beside_box, clearance, room_inside, turned_side
from boardshop.core.layout.missing import say_list
from boardshop.core.layout.rules import DC_PLUG_MM, MAINS_PLUG_MM, layout_finding
from boardshop.core.layout.standing import frame_box
from boardshop.core.layout.supply_checks import UnderSupply, list_under
from boardshop.core.plan import BoardPlan
from boardshop.core.vocabulary import SIDES


@dataclass(frozen=True, slots=True)
class Need:
    """Plugs on one side of a supply: how far they stand out, and whether they must stay under the frame."""

    what: str
    rule: str
    side: str | None
    reach: int
    outline: Box | None

    def strip(self, under: UnderSupply, side: str) -> Box:
        turn = under.supply.place.turn if under.supply.place else 0
        return beside_box(under.box, turned_side(side, turn), self.reach)


def check_supply_plugs(plan: BoardPlan) -> Iterator[Finding]:
    placed, outline = list_under(plan), frame_box(plan)
    asked: dict[str, list[str]] = {}
    for under in placed:
        others = [other for other in placed if other is not under]
        for need in _needs(under, outline):
            if need.side is not None:
                yield from _check(under, need, need.side, others)
            elif any(list(_check(under, need, side, others)) for side in SIDES):
                asked.setdefault(need.what, []).append(under.supply.ref)
    if asked:
        lacking = [f"the {what} of {say_list(refs)}" for what, refs in asked.items()]
        message = (
            f"Not every side has room for the plugs, and the side of {say_list(lacking)} is not recorded."
        )
        subjects = dict.fromkeys(ref for refs in asked.values() for ref in refs)
        yield layout_finding("L43", tuple(subjects), message)


def _needs(under: UnderSupply, outline: Box) -> Iterator[Need]:
    """A supply whose kind of inlet is not recorded is given the room of the longest."""
    supply = under.supply
    if supply.outlets:
        inside = outline if room_inside(under.box, outline) >= 0 else None
        yield Need("outlets", "L41", supply.outlet_side, DC_PLUG_MM, inside)
    if supply.mains is not None:
        reach = MAINS_PLUG_MM[supply.mains.inlet] if supply.mains.inlet else max(MAINS_PLUG_MM.values())
        yield Need("mains inlet", "L42", supply.inlet_side, reach, None)


def _check(under: UnderSupply, need: Need, side: str, others: Sequence[UnderSupply]) -> Iterator[Finding]:
    ref, strip = under.supply.ref, need.strip(under, side)
    beyond = -room_inside(strip, need.outline) if need.outline is not None else 0
    if beyond > 0:
        message = (
            f"Beside the {need.what} of {ref} there are {need.reach - beyond} mm to the frame's edge, "
            f"{beyond} mm short of the {need.reach} mm that plugs need there."
        )
        yield layout_finding(need.rule, (ref,), message)
    for other in others:
        short = min(-clearance(strip, other.box), need.reach)
        if short > 0:
            message = (
                f"The supply {other.supply.ref} stands before the {need.what} of {ref}, {short} mm too near "
                f"for the {need.reach} mm that plugs need there."
            )
            yield layout_finding(need.rule, (ref, other.supply.ref), message)
