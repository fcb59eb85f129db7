"""Whose turn it is: so many searches run at once on one database, the others wait in the order they came.

A place is an advisory lock of Postgres, which goes with the process that holds it, however that ends.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import timedelta

from django.conf import settings
from django.db import connection
from django.utils import timezone

from boardshop.boards.models import LayoutSearch

LOCK_CLASS = 26_117
"""The first key of our advisory locks; the second is the number of the place."""
LOST_AFTER = timedelta(seconds=60)
"""A search gives a sign of life several times a second; one silent for so long has died, however busy the
machine."""
WAIT_SECONDS = 0.4


def is_lost(search: LayoutSearch) -> bool:
    """Whether its process must have died: it gave no sign of life for a while."""
    return search.is_under_way and timezone.now() - search.seen_at > LOST_AFTER


@contextmanager
def turn_of(pk: int, sleep: Callable[[float], None] = time.sleep) -> Iterator[bool]:
    """Waits until it is this search's turn; inside it holds one of the places.

    False where it was asked to stop while it waited, or is there no more.
    """
    place = _wait_for_place(pk, sleep)
    try:
        yield place is not None
    finally:
        # Without its connection the place is free already.
        if place is not None and connection.is_usable():
            _unlock(place)


def _wait_for_place(pk: int, sleep: Callable[[float], None]) -> int | None:
    while _still_waits(pk):
        place = _take_place() if _is_first(pk) else None
        if place is not None:
            return place
        sleep(WAIT_SECONDS)
    return None


def _still_waits(pk: int) -> bool:
    """Also the sign of life of one that waits."""
    waiting = LayoutSearch.objects.filter(pk=pk, state=LayoutSearch.State.WAITING, is_asked_to_stop=False)
    return bool(waiting.update(seen_at=timezone.now()))


def _is_first(pk: int) -> bool:
    living = LayoutSearch.objects.filter(seen_at__gte=timezone.now() - LOST_AFTER)
    return not living.filter(pk__lt=pk, state=LayoutSearch.State.WAITING).exists()


def _take_place() -> int | None:
    for place in range(settings.SEARCHES_AT_ONCE):
        with connection.cursor() as cursor:
            cursor.execute("SELECT pg_try_advisory_lock(%s, %s)", [LOCK_CLASS, place])
            if cursor.fetchone()[0]:
                return place
    return None


def _unlock(place: int) -> None:
    with connection.cursor() as cursor:
        cursor.execute("SELECT pg_advisory_unlock(%s, %s)", [LOCK_CLASS, place])
