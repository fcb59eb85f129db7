"""What a meter read at the plugs of a board: recorded, taken back, put back, kept as a unit's draw.

A reading is a fact and no part of the plan: it counts as an edit, so that nobody records one for a feed that
has changed under their hands, and it stands in the history in words; but undo steps over it, a revision does
not differ for it, and a variant does not hide it.  One that was mistyped is taken back by itself.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Any

from django.utils import timezone

from boardshop.boards.errors import JackUnknown, LeadNotFed, LeadNotMetered, NoLoadRead, NoUnitForDraw
from boardshop.boards.history.recording import Recording, Unchanged, recorded
from boardshop.boards.models import Board, LeadReading, Placement
from boardshop.boards.services.editing import board_edit, check_board
from boardshop.core.index import fold, index_plan, split_end
from boardshop.core.power.first_power import PowerStep, list_power_steps, tell_apart
from boardshop.core.power.wording import say_volts
from boardshop.gear.records import Draw
from boardshop.gear.services import measure_draw


def record_plug(
    board: Board, seen: int, end: str, mv: int, polarity: str = "", note: str = ""
) -> LeadReading:
    """Volts and polarity (blank = not read) at the open plug for this power jack (`P4.DC`).

    Raises JackUnknown, LeadNotFed, and StaleEdit when the board has moved on.
    """
    with recorded(board, seen) as recording:
        step = _find_step(recording, end)
        seen_as = f", {_say_polarity(polarity)}" if polarity else ""
        recording.said.append(f"The plug for {step.end} was metered: {say_volts(mv)}{seen_as}.")
        return _write(board, step, mv=mv, polarity=polarity, note=note)


def record_load(board: Board, seen: int, end: str, load_ma: int, note: str = "") -> LeadReading:
    """The current that flows with the pedal on the plug.

    Raises LeadNotMetered where the plug itself was not metered before, as it is fed now.
    """
    with recorded(board, seen) as recording:
        step = _find_step(recording, end)
        if _last_at_plug(board, step) is None:
            raise LeadNotMetered(end=step.end)
        recording.said.append(f"The draw of {step.end} was metered: {load_ma} mA.")
        return _write(board, step, load_ma=load_ma, note=note)


def take_back_reading(board: Board, seen: int, reading: LeadReading) -> None:
    """It counts no more, and the one before it does; it stays in the list, and can be put back."""
    _set_taken_back(board, seen, reading, timezone.now())


def put_back_reading(board: Board, seen: int, reading: LeadReading) -> None:
    """One that was taken back counts again."""
    _set_taken_back(board, seen, reading, None)


@board_edit
def keep_draw(board: Board, reading: LeadReading) -> None:
    """Make what was read the measured draw of the unit that stands there.

    Raises NoUnitForDraw where the board does not say which unit it is, NoLoadRead for volts alone.
    """
    check_board(board, reading)
    if not reading.load_ma:
        raise NoLoadRead(end=reading.end)
    pedal = Placement.objects.select_related("unit").filter(board=board, pk=reading.item_key).first()
    if pedal is None or pedal.unit is None:
        raise NoUnitForDraw(end=reading.end)
    day = timezone.localdate(reading.at)
    measure_draw(pedal.unit, Draw(jack=reading.jack, measured=reading.load_ma, on=day, by=reading.who[:80]))


def readings_by_jack(readings: Iterable[LeadReading]) -> dict[tuple[int, str], list[LeadReading]]:
    """Newest first, by the pedal's key and its power jack."""
    found: dict[tuple[int, str], list[LeadReading]] = {}
    for reading in sorted(readings, key=lambda one: -one.pk):
        found.setdefault((reading.item_key, fold(reading.jack)), []).append(reading)
    return found


def _find_step(recording: Recording, end: str) -> PowerStep:
    plan = recording.before.plan
    for step in list_power_steps(plan):
        if fold(step.end) == fold(end):
            return step
    if fold(end) in index_plan(plan).power_jacks:
        raise LeadNotFed(end=end)
    raise JackUnknown(end=end, item=split_end(end)[0])


def _last_at_plug(board: Board, step: PowerStep) -> LeadReading | None:
    """The last reading of volts that was taken at this plug as it is fed now."""
    taken = LeadReading.objects.filter(
        board=board,
        item_key=_key_of(board, step),
        jack__iexact=step.jack.name,
        mv__isnull=False,
        taken_back_at=None,
    )
    last = taken.first()
    return last if last is not None and not tell_apart(last.expects, step.expects) else None


def _key_of(board: Board, step: PowerStep) -> int:
    key: int = Placement.objects.values_list("pk", flat=True).get(board=board, ref__iexact=step.fed.pedal.ref)
    return key


def _write(board: Board, step: PowerStep, **read: Any) -> LeadReading:
    return LeadReading.objects.create(
        board=board,
        item_key=_key_of(board, step),
        jack=step.jack.name,
        end=step.end,
        expects=[list(pair) for pair in step.expects],
        at=board.changed_at,
        person=board.person,
        who=str(board.person or ""),
        **read,
    )


def _set_taken_back(board: Board, seen: int, reading: LeadReading, at: datetime | None) -> None:
    check_board(board, reading)
    with recorded(board, seen) as recording:
        who = str(board.person or "") if at else ""
        rows = LeadReading.objects.filter(pk=reading.pk, taken_back_at__isnull=at is not None)
        if not rows.update(taken_back_at=at, taken_back_by=who):
            raise Unchanged
        done = "was taken back" if at else "counts again"
        recording.said.append(f"A reading at {reading.end} {done}: {_say_reading(reading)}.")


def _say_reading(reading: LeadReading) -> str:
    if reading.mv is None:
        return f"{reading.load_ma} mA"
    return ", ".join(filter(None, (say_volts(reading.mv), _say_polarity(reading.polarity))))


def _say_polarity(polarity: str) -> str:
    return "AC" if polarity == "ac" else polarity
