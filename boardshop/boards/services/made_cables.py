"""Made cables on links: put on, taken off."""

from __future__ import annotations

from typing import Any

from boardshop.boards.cable_errors import (
    CableDoesNotFit,
    CableElsewhere,
    CableNotFit,
    CableTooShort,
    MadeOfCable,
)
from boardshop.boards.history.recording import recorded
from boardshop.boards.models import Board, Link
from boardshop.boards.plan.read import load_plan
from boardshop.boards.services.editing import board_edit, check_board, check_shop, set_columns
from boardshop.core.cables.spares import fit_spare
from boardshop.core.index import fold
from boardshop.gear.made_cables import spare_value
from boardshop.gear.models import MadeCable

GIVEN = {
    "cable": "cable type",
    "plug_from": "plugs",
    "plug_to": "plugs",
    "made": "made length",
    "length": "length",
}
"""Columns of a link that its made cable gives it, in words."""


@board_edit
def put_cable(board: Board, link: Link, cable: MadeCable, *, anyway: bool = False) -> None:
    """Make the link of this cable, the way round that suits it; one that was on the link is spare then.

    Raises CableNotFit, CableElsewhere, CableDoesNotFit, and CableTooShort unless it goes on `anyway`.
    """
    check_board(board, link)
    check_shop(board, cable)
    cable = (
        MadeCable.objects.select_related("cable", "plug_a", "plug_b")
        .select_for_update(of=("self",))
        .get(pk=cable.pk)
    )
    if cable.is_scrapped or cable.verdict == "failed":
        raise CableNotFit(cable=cable)
    other = link_of(cable)
    if other is not None and other.pk != link.pk:
        raise CableElsewhere(cable=cable, there=other.described_use())
    plan = load_plan(board)
    planned = next(one for one in plan.links if fold(one.ref) == fold(link.ref))
    fit = fit_spare(plan, planned, spare_value(cable))
    if fit.against:
        raise CableDoesNotFit(cable=cable, ref=link.ref, why="; ".join(fit.against))
    if fit.reach.state == "too short" and not anyway:
        raise CableTooShort(cable=cable, ref=link.ref, said=fit.reach.said)
    set_columns(link, _columns_from(cable, link, is_turned=fit.is_turned))
    MadeCable.objects.filter(pk=cable.pk).update(place="spare", where="")


def take_cable_off(board: Board, seen: int, link: Link, cable: MadeCable, *, said: str = "") -> None:
    """Leave the link to be made anew; `said` stands first in the history.

    The cable is spare then, or at the bench when it failed.
    """
    check_board(board, link)
    with recorded(board, seen) as recording:
        recording.said += [said] if said else []
        set_columns(link, {"made_cable": None, "made": None})
        MadeCable.objects.filter(pk=cable.pk).update(place="bench" if said else "spare", where="")


def link_of(cable: MadeCable) -> Link | None:
    """Where the cable is: the one link that has it, with its board."""
    return Link.objects.select_related("board").filter(made_cable=cable).first()


def check_given(link: Link, columns: dict[str, Any]) -> None:
    """Raises MadeOfCable for another value of what the link's made cable gives it."""
    if link.made_cable_id is None:
        return
    for name, what in GIVEN.items():
        now = (
            getattr(link, f"{name}_id") if name in ("cable", "plug_from", "plug_to") else getattr(link, name)
        )
        new = columns.get(name, now)
        if (new.pk if hasattr(new, "pk") else new) != now:
            # A row of the cables page carries the made length along without a field for it.
            field = "" if name == "made" else name
            raise MadeOfCable(field=field, ref=link.ref, cable=link.made_cable, what=what)


def _columns_from(cable: MadeCable, link: Link, *, is_turned: bool) -> dict[str, Any]:
    start, end = (cable.plug_b, cable.plug_a) if is_turned else (cable.plug_a, cable.plug_b)
    return {
        "made_cable": cable,
        "cable": cable.cable,
        "plug_from": start,
        "plug_to": end,
        "made": cable.length,
        "length": None if link.length is None else cable.length,
    }
