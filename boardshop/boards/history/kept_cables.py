"""Made cables in rows that are put back: one that is elsewhere by now, or not fit any more, is left out.

A cable is a physical thing.  What it was on when a revision was released, or before an undone edit, cannot
call it back from another board or from the scrap; the link then stands as one that is still to be made.
"""

from __future__ import annotations

from collections.abc import Mapping

from boardshop.boards.history.state import Columns, State
from boardshop.boards.models import Link
from boardshop.gear.models import MadeCable

LINK, ITEM = "boards_link", "boards_item"

type Rows = Mapping[str, Mapping[str, Columns | None]]


def leave_out_cables(rows: Rows, now: State) -> list[str]:
    """Blank what cannot be on these links of `rows`, in place; returns a sentence for each.

    At most two queries, none where no link has a cable.
    """
    wanted = {key: columns for key, columns in rows.get(LINK, {}).items() if columns and _cable_of(columns)}
    if not wanted:
        return []
    cables = _found(wanted, rows)
    said, taken = list[str](), set[int]()
    for key in sorted(wanted, key=lambda key: (not _is_there_now(key, wanted[key], now), int(key))):
        columns, cable = wanted[key], cables[wanted[key]["made_cable_id"]]
        why = "is on another link by now" if cable.pk in taken else _why_not(cable)
        if why:
            columns |= {"made_cable_id": None, "made": None}
            said.append(f"{_ref_of(key, rows, now)} is left without its made cable: {cable.code} {why}.")
        taken.add(cable.pk)
    return said


def _found(wanted: Mapping[str, Columns], rows: Rows) -> dict[int, MadeCable]:
    """Locked, each with the use on a link that these rows do not write; a cable is never deleted."""
    keys = {columns["made_cable_id"] for columns in wanted.values()}
    found = {row.pk: row for row in MadeCable.objects.select_for_update().filter(pk__in=keys).order_by("pk")}
    written = [int(key) for key in rows[LINK]]
    others = Link.objects.filter(made_cable__in=keys).exclude(pk__in=written).select_related("board")
    for link in others:
        assert link.made_cable_id is not None
        found[link.made_cable_id].use = link.described_use()
    return found


def _why_not(cable: MadeCable) -> str:
    if cable.is_scrapped:
        return "was scrapped"
    if cable.verdict == "failed":
        return "failed its test"
    return f"is {cable.use} now" if cable.use else ""


def _cable_of(columns: Columns) -> bool:
    return columns.get("made_cable_id") is not None


def _is_there_now(key: str, columns: Columns, now: State) -> bool:
    row = now.get(LINK, {}).get(key, {})
    return bool(row.get("made_cable_id") == columns["made_cable_id"])


def _ref_of(key: str, rows: Rows, now: State) -> str:
    row = rows.get(ITEM, {}).get(key) or now.get(ITEM, {}).get(key) or {}
    return str(row.get("ref", "A link"))
