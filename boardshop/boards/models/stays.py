"""Where a made cable has been: on which link of which board, from when to when."""

from django.db import models
from django.db.models import CheckConstraint, F, Q, UniqueConstraint

from boardshop.boards.models.boards import Board
from boardshop.core.cables.register_words import CHAIN_PLACES
from boardshop.gear.fields import one_of, word_field
from boardshop.gear.models import MadeCable


class CableStay(models.Model):
    """A fact, written by every edit that puts a cable on a link or takes it off; undo adds to it.

    `until` is null as long as it is there.
    """

    cable = models.ForeignKey(MadeCable, models.CASCADE, related_name="stays")
    board = models.ForeignKey(Board, models.SET_NULL, related_name="cable_stays", null=True, blank=True)
    board_name = models.CharField(max_length=80)
    ref = models.CharField(max_length=40)
    chain_place = word_field("place in the chain", CHAIN_PLACES)
    since = models.DateTimeField()
    put_by = models.CharField(max_length=150, blank=True)
    until = models.DateTimeField(null=True, blank=True)
    taken_by = models.CharField(max_length=150, blank=True)

    class Meta:
        ordering = ["-since", "-pk"]
        constraints = [
            UniqueConstraint(
                fields=["cable"], condition=Q(until__isnull=True), name="cable_stays_in_one_place"
            ),
            CheckConstraint(
                condition=Q(until__isnull=True) | Q(until__gte=F("since")),
                name="cable_stay_ends_after_it_began",
            ),
            one_of("cable_stay", "chain_place", CHAIN_PLACES),
        ]

    def __str__(self) -> str:
        return f"{self.ref} of {self.board_name}"
