"""One search from its row to its answers, in the process that the command `run_layout_search` is."""

from __future__ import annotations

import logging
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from threading import Event, Thread
from typing import Any

from django.db import InterfaceError, OperationalError, connection
from django.utils import timezone

from boardshop.boards.models import LayoutSearch
from boardshop.boards.searching.stored import (
    Answers,
    read_frames,
    read_wishes,
    write_answers,
    write_placing,
)
from boardshop.boards.searching.turns import turn_of
from boardshop.boards.searching.work import Task, find_answers
from boardshop.core.boardfile import load_plan_text
from boardshop.core.placing import Placing, Progress

State = LayoutSearch.State
DATABASE_GONE = (OperationalError, InterfaceError)
"""Then there is nowhere to say anything; the page tells by the silence."""
TOLD_EVERY = 0.34
"""Seconds between two writings of how far it is."""
BEAT_SECONDS = 10.0

log = logging.getLogger(__name__)


def run_search(pk: int, clock: Callable[[], float] = time.monotonic) -> None:
    """Waits for its turn, searches, and writes the answers into the row; also that it failed."""
    with turn_of(pk) as has_turn:
        if not has_turn or not _begin(pk):
            _end(pk, State.WAITING, State.STOPPED)
            return
        sign = Sign(pk, clock)
        try:
            with heartbeat(pk):
                answers = find_answers(_task_of(pk), sign, sign.found)
        except DATABASE_GONE:
            raise
        except Exception:
            # Whatever it was, the person who waits must not wait for ever.
            log.exception("The layout search %d failed", pk)
            _end(pk, State.RUNNING, State.FAILED)
            return
        ending = State.STOPPED if sign.was_stopped else State.DONE
        _end(pk, State.RUNNING, ending, percent=sign.percent, answers=write_answers(answers))


@dataclass
class Sign:
    """What core calls while it searches: writes how far it is, and reads whether to go on."""

    pk: int
    clock: Callable[[], float]
    next_at: float = 0.0
    percent: int = 0
    shown: Placing | None = None
    was_stopped: bool = False

    def __call__(self, progress: Progress) -> bool:
        now = self.clock()
        # A second search of the same row, for the cures, begins at none again: a bar does not run back.
        self.percent = max(self.percent, min(progress.percent, 100))
        if now >= self.next_at and not self.was_stopped:
            self.next_at = now + TOLD_EVERY
            self._tell({} if progress.best in (None, self.shown) else self._best(progress.best))
        return not self.was_stopped

    def found(self, answers: Answers) -> bool:
        """The placings are there before the cures are."""
        if not self.was_stopped:
            self._tell({"answers": write_answers(answers)})
        return not self.was_stopped

    def _best(self, best: Placing | None) -> dict[str, Any]:
        assert best is not None
        self.shown = best
        return {"best": write_placing(best)}

    def _tell(self, columns: dict[str, Any]) -> None:
        """A row that is gone, or that was given up as dead, stops the search too."""
        row = LayoutSearch.objects.filter(pk=self.pk, state=State.RUNNING)
        told = row.update(percent=self.percent, seen_at=timezone.now(), **columns)
        self.was_stopped = not told or row.filter(is_asked_to_stop=True).exists()


@contextmanager
def heartbeat(pk: int) -> Iterator[None]:
    """Signs of life from a thread: the first search on a machine compiles before it tells anything."""
    ended = Event()

    def beat() -> None:
        try:
            while not ended.wait(BEAT_SECONDS):
                LayoutSearch.objects.filter(pk=pk, state=State.RUNNING).update(seen_at=timezone.now())
        except DATABASE_GONE:
            log.warning("The layout search %d lost its database", pk)
        finally:
            connection.close()

    thread = Thread(target=beat, daemon=True)
    thread.start()
    try:
        yield
    finally:
        ended.set()
        thread.join()


def _begin(pk: int) -> bool:
    now = timezone.now()
    waiting = LayoutSearch.objects.filter(pk=pk, state=State.WAITING)
    return bool(waiting.update(state=State.RUNNING, started_at=now, seen_at=now))


def _end(pk: int, state: str, ending: str, **columns: Any) -> None:
    now = timezone.now()
    rows = LayoutSearch.objects.filter(pk=pk, state=state)
    rows.update(state=ending, finished_at=now, seen_at=now, **columns)


def _task_of(pk: int) -> Task:
    row = LayoutSearch.objects.get(pk=pk)
    return Task(
        wanted=row.wanted,
        plan=load_plan_text(row.file),
        wishes=read_wishes(row.wishes),
        frames=read_frames(row.frames),
        ref=row.ref,
    )
