"""Cuts that were booked: what was taken from stock, what was cut from it, and what went back.

Names of boards, cables and people stand in it as they were, since a job is a record; keys are there to find
the things again as long as they exist.
"""

from django.conf import settings
from django.db import models
from django.db.models import CheckConstraint, F, Q, UniqueConstraint
from django.db.models.functions import Upper
from django.utils.translation import gettext_lazy as _

from boardshop.boards.models import Board
from boardshop.core import vocabulary as words
from boardshop.crew.models import Shop
from boardshop.gear.fields import size_field, word_field
from boardshop.gear.models import CableType, MadeCable


class CutJob(models.Model):
    """One booking, which can be taken back as long as nobody has used what it wrote back."""

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="cut_jobs")
    number = models.PositiveIntegerField(_("number"))
    at = models.DateTimeField(_("booked at"))
    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.SET_NULL, related_name="+", null=True, blank=True
    )
    who = models.CharField(_("who"), max_length=150, blank=True)
    is_optimal = models.BooleanField(_("proved best"))
    bound = models.PositiveIntegerField(_("fewest reels"))
    kerf_mm = models.PositiveIntegerField(_("kerf, mm"))
    trim_mm = models.PositiveIntegerField(_("trim, mm"))
    taken_back_at = models.DateTimeField(_("taken back at"), null=True, blank=True)
    taken_back_by = models.CharField(_("taken back by"), max_length=150, blank=True)

    class Meta:
        ordering = ["-number"]
        constraints = [
            UniqueConstraint(fields=["shop", "number"], name="cut_job_number_once_per_shop"),
            CheckConstraint(condition=Q(number__gt=0), name="cut_job_numbers_from_one"),
        ]

    def __str__(self) -> str:
        return f"cut job {self.number}"


class CutLength(models.Model):
    """One length taken from stock; `stock_key` is the row that it was one of."""

    job = models.ForeignKey(CutJob, models.CASCADE, related_name="lengths")
    position = models.PositiveIntegerField(default=0)
    cable = models.ForeignKey(CableType, models.SET_NULL, related_name="+", null=True, blank=True)
    cable_name = models.CharField(_("cable"), max_length=80)
    stock_key = models.BigIntegerField(_("row of the stock"))
    kind = word_field(_("kind"), words.STOCK_KINDS, blank=False, default="reel")
    tag = models.CharField(_("tag"), max_length=40, blank=True)
    length = size_field(_("length, mm"))
    made_mm = size_field(_("made, mm"))
    kept_mm = models.PositiveIntegerField(_("kept, mm"), default=0)
    waste_mm = models.PositiveIntegerField(_("waste, mm"), default=0)
    kept_key = models.BigIntegerField(_("row of the off-cut"), null=True, blank=True)
    kept_tag = models.CharField(_("tag of the off-cut"), max_length=40, blank=True)

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            CheckConstraint(
                condition=Q(length=F("made_mm") + F("kept_mm") + F("waste_mm")), name="cut_length_adds_up"
            ),
            CheckConstraint(condition=Q(made_mm__gt=0), name="cut_length_makes_something"),
            CheckConstraint(condition=Q(kind__in=words.STOCK_KINDS), name="cut_length_kind_known"),
            CheckConstraint(
                condition=Q(kept_mm=0, kept_key__isnull=True) | Q(kept_mm__gt=0, kept_key__isnull=False),
                name="cut_length_keeps_a_row_or_nothing",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.tag} {self.length} mm"


class CutPiece(models.Model):
    """One piece; it `stands` until its job is taken back or it is cut again in a later one."""

    of = models.ForeignKey(CutLength, models.CASCADE, related_name="pieces")
    position = models.PositiveIntegerField(default=0)
    board = models.ForeignKey(Board, models.SET_NULL, related_name="cut_pieces", null=True, blank=True)
    board_code = models.CharField(_("board"), max_length=5, blank=True)
    board_name = models.CharField(_("name of the board"), max_length=80, blank=True)
    ref = models.CharField(_("ref"), max_length=40)
    cut_mm = size_field(_("cut, mm"))
    what = models.CharField(_("what it is"), max_length=20, blank=True)
    plug_from = models.CharField(_("plug at its start"), max_length=80, blank=True)
    plug_to = models.CharField(_("plug at its end"), max_length=80, blank=True)
    fixing_from = word_field(_("fixing at its start"), words.FIXINGS)
    fixing_to = word_field(_("fixing at its end"), words.FIXINGS)
    label_from = models.CharField(_("label at its start"), max_length=120, blank=True)
    label_to = models.CharField(_("label at its end"), max_length=120, blank=True)
    stands = models.BooleanField(_("stands"), default=True)
    replaces = models.ForeignKey("self", models.SET_NULL, related_name="+", null=True, blank=True)
    """What it was cut again for; that stands once more when this job is taken back."""
    made = models.ForeignKey(MadeCable, models.SET_NULL, related_name="+", null=True, blank=True)
    """The cable of the register that was made of it."""

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            UniqueConstraint("board", Upper("ref"), condition=Q(stands=True), name="cut_piece_booked_once"),
            CheckConstraint(condition=Q(cut_mm__gt=0), name="cut_piece_positive"),
        ]

    def __str__(self) -> str:
        return f"{self.board_code} {self.ref}".strip()
