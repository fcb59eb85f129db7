"""What meter readings bar: plugs that read wrong, so that no page calls their feed a match."""

from __future__ import annotations

from django.db.models import OuterRef, Subquery

from boardshop.boards.models import LeadReading, Placement
from boardshop.boards.pages.first_power import say_state
from boardshop.boards.sheet import BoardSheet
from boardshop.core.index import fold
from boardshop.core.power.first_power import list_power_steps, tell_apart
from boardshop.core.power.readings import DO_NOT_PLUG, PUT_RIGHT, Reading, judge_plug, name_state

BARRING = (DO_NOT_PLUG, PUT_RIGHT)


def list_barred(sheet: BoardSheet) -> dict[str, str]:
    """By folded power jack, what its plug's last reading says where that bars it; in one query."""
    refs = Placement.objects.filter(pk=OuterRef("item_key")).values("ref")
    standing = LeadReading.objects.filter(board=sheet.board, mv__isnull=False, taken_back_at=None)
    newest: dict[str, LeadReading] = {}
    for reading in standing.annotate(ref_now=Subquery(refs)).order_by("-pk"):
        newest.setdefault(fold(f"{reading.ref_now}.{reading.jack}"), reading)
    barred: dict[str, str] = {}
    for step in list_power_steps(sheet.plan, sheet.findings) if newest else ():
        found = newest.get(fold(step.end))
        if found is None or tell_apart(found.expects, step.expects):
            continue
        state = name_state(judge_plug(step, Reading(found.mv, found.polarity or None)), is_read=True)
        if state in BARRING:
            barred[fold(step.end)] = say_state(state)
    return barred
