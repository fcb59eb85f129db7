"""Which units' audio screens are joined with each other through links.

Basis: a screened lead joins the metalwork of both ends; DIN MIDI joins none, because pin 2 stays open at the
receiving end (MIDI 1.0).  On 3.5 mm MIDI, or where the connector is not recorded, the sleeve may join and is
counted as joining.
"""

from boardshop.core.disjoint import Islands
from boardshop.core.index import PlanIndex, fold, index_plan, split_end
from boardshop.core.plan import BoardPlan, Jack, Link

BY_ROLE = {"midi-in": "midi", "usb": "usb", "control": "control"}
"""What a jack of this role takes."""


def joins_screen(index: PlanIndex, link: Link) -> bool:
    """Whether this link joins the screens of its two units."""
    if link.screen != "joined":
        return False
    return not (what_it_carries(index, link) == "midi" and _arrives_by_din(index, link))


def number_joined_units(plan: BoardPlan) -> dict[str, int]:
    """For each unit (by folded ref) the number of its island: equal numbers share a screen path."""
    index = index_plan(plan)
    islands = Islands()
    for ref in index.signal_parts:
        islands.find(ref)
    for link in plan.links:
        if joins_screen(index, link):
            islands.join(fold(split_end(link.source)[0]), fold(split_end(link.target)[0]))
    numbers: dict[str, int] = {}
    return {ref: numbers.setdefault(islands.find(ref), len(numbers)) for ref in index.signal_parts}


def what_it_carries(index: PlanIndex, link: Link) -> str:
    """By its jack before its mark: a link into a MIDI or USB jack is that, whether marked so or not."""
    target = index.jacks.get(fold(link.target))
    return BY_ROLE.get(target.role, link.carries) if target else link.carries


def _arrives_by_din(index: PlanIndex, link: Link) -> bool:
    target = _connector_at(index, link.target, link.plug_to)
    return (target or _connector_at(index, link.source, link.plug_from)) == "DIN 5"


def _connector_at(index: PlanIndex, end: str, plug: str | None) -> str | None:
    jack = index.jacks.get(fold(end))
    if isinstance(jack, Jack) and jack.connector:
        return jack.connector
    kind = index.plugs.get(fold(plug)) if plug else None
    return kind.connector if kind else None
