"""What happens to a made cable: tested, found faulty, scrapped; one that is no good comes off its board."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import date
from typing import Any

from django.db import transaction
from django.db.models import Q

from boardshop.bench.errors import CableMoved
from boardshop.boards.models import Board, CableStay, Link
from boardshop.boards.services.made_cables import link_of, take_cable_off
from boardshop.core.cables.register_words import JACK_WAS_GUILTY
from boardshop.core.cables.testing import OVER, Judgement, Reading, judge_test
from boardshop.crew.constraints import refusals_by
from boardshop.crew.models import Person
from boardshop.gear.constraints import GEAR_REFUSALS
from boardshop.gear.errors import CableVerdictMissing
from boardshop.gear.made_cables import made_as
from boardshop.gear.models import CableFault, CableTest, MadeCable
from boardshop.gear.services.keeping import save_changes
from boardshop.gear.services.made_cables import check_not_scrapped, locked, scrap


@dataclass(frozen=True)
class Happened:
    """What was recorded of a cable, and from where it came off by that, in words; blank where it did not."""

    cable: MadeCable
    came_off: str = ""
    judgement: Judgement | None = None


@transaction.atomic
def record_test(
    cable: MadeCable,
    readings: Mapping[str, Reading],
    *,
    on: date,
    by: Person,
    show: int | None = None,
    note: str = "",
) -> Happened:
    """Judge and keep what was read.  A cable that fails comes off its board in the same transaction.

    The newest test or fault is what a cable is; a test that read only a part leaves a verdict from before.
    Raises CableVerdictMissing where nothing was read, CableScrapped, CableMoved.
    """
    cable, link = _held(cable)
    judged = judge_test(made_as(cable), readings)
    if not judged.verdict:
        raise CableVerdictMissing
    with refusals_by(GEAR_REFUSALS, name=cable.code):
        CableTest.objects.create(
            cable=cable,
            **_columns(readings),
            on=on,
            person=by,
            who=str(by),
            show=show,
            note=note,
            verdict=judged.verdict,
            judged=[asdict(line) for line in judged.lines],
        )
    came_off = ""
    if _is_newest(cable, on):
        if judged.verdict == "failed":
            came_off = _come_off(link, cable, by, f"Cable {cable.code} {judged.said}.")
        save_changes(cable, _standing(cable, judged.verdict, on))
    return Happened(cable, came_off, judged)


@transaction.atomic
def report_fault(cable: MadeCable, *, on: date, by: Person, cause: str = "", **facts: Any) -> Happened:
    """Keep a fault, with where the cable was that day.

    Unless the jack was guilty the cable counts as failed until it passes a test, and comes off its board.
    Raises CableScrapped, CableMoved.
    """
    cable, link = _held(cable)
    stay = _stay_on(cable, on)
    with refusals_by(GEAR_REFUSALS, name=cable.code):
        CableFault.objects.create(
            cable=cable,
            on=on,
            person=by,
            who=str(by),
            cause=cause,
            place=str(stay or ""),
            chain_place=stay.chain_place if stay else "",
            **facts,
        )
    came_off = ""
    if cause != JACK_WAS_GUILTY and _is_newest(cable, on):
        came_off = _come_off(link, cable, by, f"Cable {cable.code} had a fault: {facts['symptom']}.")
        save_changes(cable, {"verdict": "failed", "place": "bench"})
    return Happened(cable, came_off)


@transaction.atomic
def scrap_cable(cable: MadeCable, *, on: date, by: Person, why: str) -> Happened:
    """Off its board and onto the scrap; its id is never given again."""
    cable, link = _held(cable)
    came_off = _come_off(link, cable, by, f"Cable {cable.code} was scrapped: {why}.")
    return Happened(scrap(cable, on, why), came_off)


def _held(cable: MadeCable) -> tuple[MadeCable, Link | None]:
    """Locked as every edit locks: first the board that it is on, then the cable."""
    link = link_of(cable)
    if link is not None:
        Board.objects.select_for_update().get(pk=link.board_id)
    cable = locked(cable)
    check_not_scrapped(cable)
    now = link_of(cable)
    if (now.pk if now else None) != (link.pk if link else None):
        raise CableMoved(cable=cable.code)
    return cable, now


def _come_off(link: Link | None, cable: MadeCable, by: Person, said: str) -> str:
    if link is None:
        return ""
    board = link.board
    board.person = by
    take_cable_off(board, board.edit_number, link, cable, said=said)
    return f"{link.ref} of {board.name}"


def _is_newest(cable: MadeCable, on: date) -> bool:
    """Whether nothing of a later day is known of the cable."""
    later = Q(cable=cable, on__gt=on)
    return not (CableTest.objects.filter(later).exists() or CableFault.objects.filter(later).exists())


def _standing(cable: MadeCable, verdict: str, on: date) -> dict[str, Any]:
    if verdict == "incomplete":
        return {"verdict": cable.verdict or "incomplete"}
    return {"verdict": verdict, "tested_on": on} | ({"place": "bench"} if verdict == "failed" else {})


def _stay_on(cable: MadeCable, on: date) -> CableStay | None:
    """Where it was on that day, the last where it was in several places."""
    there = Q(until=None) | Q(until__date__gte=on)
    return CableStay.objects.filter(there, cable=cable, since__date__lte=on).first()


def _columns(readings: Mapping[str, Reading]) -> dict[str, Any]:
    """As they are stored: a meter over its range stands in a list of its own."""
    read = {key: value for key, value in readings.items() if value is not None and value != OVER}
    over = sorted(key for key, value in readings.items() if value == OVER)
    drop = read.get("drop_mv")
    whole = {} if drop is None else {"drop_mv": int(drop)}
    return {**read, **whole, "over_range": over}
