"""What is deleted lies in the trash for a while, and can be put back.

A model that is Trashable has two managers: `objects`, the default one, leaves the trash out; `with_trash`
holds everything.  Following a foreign key still finds a row in the trash.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from django.conf import settings
from django.db import models
from django.utils import timezone

if TYPE_CHECKING:
    from boardshop.crew.models import Person

KEPT_DAYS = 30
"""So long a deleted thing can be put back; afterwards `purge_trash` deletes it for good."""


KEPT = models.Q(trashed_at=None)
"""The condition of names that only what is not in the trash takes."""


class KeptManager[M: models.Model](models.Manager[M]):
    """Everything that does not lie in the trash."""

    def get_queryset(self) -> models.QuerySet[M]:
        return super().get_queryset().filter(KEPT)


class Trashable(models.Model):
    """A row that is put into the trash before it is deleted for good."""

    trashed_at = models.DateTimeField(null=True, blank=True, editable=False)
    trashed_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, related_name="+", null=True, blank=True, editable=False
    )

    objects = KeptManager()
    with_trash = models.Manager()  # noqa: DJ012 - a manager, whatever it is called

    class Meta:
        abstract = True


def put_in_trash(row: Trashable, person: Person | None) -> None:
    row.trashed_at, row.trashed_by = timezone.now(), person
    row.save(update_fields=["trashed_at", "trashed_by"])


def take_out(row: Trashable) -> None:
    row.trashed_at = row.trashed_by = None
    row.save(update_fields=["trashed_at", "trashed_by"])


def kept_since() -> datetime:
    """What was deleted before this moment can no longer be put back."""
    return timezone.now() - timedelta(days=KEPT_DAYS)


def days_left(trashed_at: datetime) -> int:
    """Whole days in which it can still be put back; the last one counts as 1."""
    left = trashed_at - kept_since()
    return max(0, left.days + bool(left.seconds or left.microseconds))
