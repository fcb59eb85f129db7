"""Where each made cable is, written down by every edit that puts one on a link or takes one off."""

from __future__ import annotations

from boardshop.boards.history.moment import Moment
from boardshop.boards.history.state import Columns, State
from boardshop.boards.models import Board, CableStay
from boardshop.core.cables.made import chain_place
from boardshop.core.index import fold
from boardshop.core.plan import BoardPlan


def note_stays(board: Board, before: Moment, after: Moment) -> None:
    """Ends the stays that this edit ended and begins those that it began; no query where it did neither."""
    old, new = _cables_on(before.state), _cables_on(after.state)
    gone = [cable for cable, key in old.items() if new.get(cable) != key]
    come = {cable: key for cable, key in new.items() if old.get(cable) != key}
    who, now = str(board.person or ""), board.changed_at
    if gone:
        CableStay.objects.filter(cable__in=gone, until=None).update(until=now, taken_by=who)
    if come:
        refs = {key: str(row["ref"]) for key, row in after.state["boards_item"].items()}
        begin_stays(board, after.plan, {cable: refs[key] for cable, key in come.items()})


def begin_stays(board: Board, plan: BoardPlan, refs: dict[int, str]) -> None:
    """By a cable's key, the ref of the link of this plan that it is on from now on; no query for none."""
    links = {fold(link.ref): link for link in plan.links}
    rows = [
        CableStay(
            cable_id=cable,
            board=board,
            board_name=board.name,
            ref=ref,
            chain_place=chain_place(plan, links[fold(ref)]),
            since=board.changed_at,
            put_by=str(board.person or ""),
        )
        for cable, ref in sorted(refs.items())
    ]
    if rows:
        CableStay.objects.bulk_create(rows)


def _cables_on(state: State) -> dict[int, str]:
    """From the cable's key to the link's."""
    rows: dict[str, Columns] = state.get("boards_link", {})
    return {row["made_cable_id"]: key for key, row in rows.items() if row.get("made_cable_id") is not None}
