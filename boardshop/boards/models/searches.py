"""Searches for a layout: what was asked, how far it is, and what was found."""

from django.db import models
from django.db.models import CheckConstraint, Q, UniqueConstraint
from django.utils.translation import gettext_lazy as _

from boardshop.boards.models.boards import Board
from boardshop.crew.models import Person


class LayoutSearch(models.Model):
    """One search for places, run by a process of its own beside the server.

    `file` is the board file of the plan that it searches on and `edit_number` the one that the board bore;
    what is edited meanwhile does not reach it.  `wishes`, `frames` (the catalogue as it was), `best` and
    `answers` are written and read by boards/searching/stored.py.
    `seen_at` is when its process last gave a sign of life; one that gave none for a while has died.
    A row is no part of the board: undo, revisions and variants know nothing of it.
    """

    class Wanted(models.TextChoices):
        ALL = "all", _("all pedals placed anew")
        FINISH = "finish", _("pedals without a place")
        ROOM = "room", _("room for one pedal")
        FRAMES = "frames", _("the smallest frame")

    class State(models.TextChoices):
        WAITING = "waiting", _("waiting")
        RUNNING = "running", _("searching")
        DONE = "done", _("done")
        STOPPED = "stopped", _("stopped by hand")
        FAILED = "failed", _("ended without an answer")

    UNDER_WAY = (State.WAITING, State.RUNNING)

    board = models.ForeignKey(Board, models.CASCADE, related_name="searches")
    person = models.ForeignKey(Person, models.SET_NULL, related_name="+", null=True, blank=True)
    who = models.CharField(_("by"), max_length=150, blank=True)
    wanted = models.CharField(max_length=6, choices=Wanted)
    ref = models.CharField(max_length=40, blank=True)
    wishes = models.JSONField()
    file = models.TextField()
    frames = models.JSONField(default=list, blank=True)
    edit_number = models.PositiveIntegerField()
    state = models.CharField(max_length=7, choices=State, default=State.WAITING)
    is_asked_to_stop = models.BooleanField(default=False)
    percent = models.PositiveSmallIntegerField(default=0)
    best = models.JSONField(null=True, blank=True)
    answers = models.JSONField(default=dict, blank=True)
    asked_at = models.DateTimeField()
    started_at = models.DateTimeField(null=True, blank=True)
    seen_at = models.DateTimeField()
    finished_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-pk"]
        constraints = [
            CheckConstraint(
                condition=Q(wanted__in=["all", "finish", "room", "frames"]), name="layout_search_wanted_known"
            ),
            CheckConstraint(
                condition=Q(state__in=["waiting", "running", "done", "stopped", "failed"]),
                name="layout_search_state_known",
            ),
            CheckConstraint(condition=Q(percent__lte=100), name="layout_search_percent_up_to_100"),
            CheckConstraint(
                condition=(Q(wanted="room") & ~Q(ref="")) | (~Q(wanted="room") & Q(ref="")),
                name="layout_search_names_its_pedal",
            ),
            CheckConstraint(
                condition=Q(state__in=["waiting", "running"], finished_at__isnull=True)
                | Q(state__in=["done", "stopped", "failed"], finished_at__isnull=False),
                name="layout_search_finished_or_under_way",
            ),
            UniqueConstraint(
                fields=["board"],
                condition=Q(state__in=["waiting", "running"]),
                name="one_layout_search_under_way_per_board",
            ),
        ]
        indexes = [models.Index(fields=["state", "seen_at"], name="layout_searches_under_way")]

    def __str__(self) -> str:
        return f"{self.board}, search {self.pk}"

    @property
    def is_under_way(self) -> bool:
        return self.state in self.UNDER_WAY
