"""The board itself, its frame, and what is written about the whole of it."""

from typing import TYPE_CHECKING

from django.contrib.postgres.fields import ArrayField
from django.db import models
from django.db.models import CheckConstraint, Q, UniqueConstraint
from django.db.models.functions import Lower, Upper
from django.utils.translation import gettext_lazy as _

from boardshop.boards.codes import new_code
from boardshop.core.plan import BoardPlan
from boardshop.crew.models import Client, Person, Shop
from boardshop.crew.trash import Trashable
from boardshop.gear.fields import amount_field, size_field
from boardshop.gear.models import CableType, FrameModel, FrameShape

if TYPE_CHECKING:
    from boardshop.boards.models.history import Change


class Board(Trashable):
    """The working copy of one board, edited row by row.

    `edit_number` grows with every edit; a form posts the one it saw, so that nobody overwrites
    what they have not seen.  `rules` holds only what differs from the board file's defaults;
    `incomplete` the entries of an imported file that lack what would make them usable.
    `variant` is the one that the working copy is, where the board has any.
    `begun_by` stands for the form that began it and what was typed there, so that the same one sent twice
    begins one board.
    """

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="boards")
    code = models.CharField(_("code"), max_length=5, unique=True, default=new_code, editable=False)
    name = models.CharField(_("name"), max_length=80)
    client = models.ForeignKey(
        Client,
        models.PROTECT,
        related_name="boards",
        null=True,
        blank=True,
        verbose_name=_("artist or customer"),
    )
    note = models.TextField(_("note"), blank=True)
    rules = models.JSONField(_("rules"), default=dict, blank=True)
    venue_mv = amount_field(_("mains where it is to run, mV"))
    venue_hz = amount_field(_("mains where it is to run, Hz"))
    venue_plug = models.CharField(_("mains plug there"), max_length=20, blank=True)
    incomplete = models.JSONField(default=list, blank=True, editable=False)
    begun_by = models.CharField(max_length=64, blank=True, default="", editable=False)
    variant = models.ForeignKey(
        "Variant", models.SET_NULL, related_name="+", null=True, blank=True, editable=False
    )
    edit_number = models.PositiveIntegerField(default=0, editable=False)
    made_at = models.DateTimeField(auto_now_add=True)
    changed_at = models.DateTimeField(auto_now=True)

    person: Person | None = None
    """For whom this board was got, and so who its edits are recorded for; not stored."""
    form_mark = ""
    """Stands for the form that is being dealt with; not stored, but with the change that it makes."""
    plan_before: BoardPlan | None = None
    """Within an edit that has changed nothing yet: the plan that it starts from."""
    plan_after: BoardPlan | None = None
    """The plan that the last edit left, so that the page that answers it need not read it again."""
    change_after: "Change | None" = None
    """The change that it made, which is what undo would take back next."""

    class Meta:
        ordering = ["name", "pk"]
        constraints = [
            CheckConstraint(condition=~Q(name=""), name="board_has_a_name"),
            UniqueConstraint(
                fields=["shop", "begun_by"], condition=~Q(begun_by=""), name="board_begun_once_by_a_form"
            ),
            CheckConstraint(condition=Q(code__regex=r"^[2-9A-HJKMNP-TV-Z]{5}$"), name="board_code_readable"),
        ]

    def __str__(self) -> str:
        return self.name


class Frame(FrameShape):
    """The frame of one board; its sizes are its own, since frames get cut and drilled."""

    board = models.OneToOneField(Board, models.CASCADE, related_name="frame")
    model = models.ForeignKey(FrameModel, models.SET_NULL, related_name="frames", null=True, blank=True)

    class Meta(FrameShape.Meta):
        abstract = False

    def __str__(self) -> str:
        return f"{self.width} × {self.depth} mm"


class AcceptedFinding(models.Model):
    """A finding kept on purpose: what, why, who and when."""

    board = models.ForeignKey(Board, models.CASCADE, related_name="accepted")
    rule = models.CharField(_("rule"), max_length=8)
    subjects = ArrayField(models.CharField(max_length=100))
    why = models.CharField(_("why"), max_length=400)
    by = models.CharField(_("by"), max_length=80, blank=True)
    person = models.ForeignKey(Person, models.SET_NULL, related_name="+", null=True, blank=True)
    on = models.DateField(_("on"), null=True, blank=True)

    class Meta:
        ordering = ["rule", "pk"]
        constraints = [
            UniqueConstraint(fields=["board", "rule", "subjects"], name="accepted_finding_once"),
            CheckConstraint(condition=~Q(rule=""), name="accepted_finding_names_a_rule"),
        ]

    def __str__(self) -> str:
        return f"{self.rule} {', '.join(self.subjects)}"


class Scene(models.Model):
    """Which pedals are engaged in one part of the set."""

    board = models.ForeignKey(Board, models.CASCADE, related_name="scenes")
    position = models.PositiveSmallIntegerField(default=0)
    name = models.CharField(_("name"), max_length=80)
    pedals = models.ManyToManyField("boards.Placement", related_name="scenes", blank=True)

    class Meta:
        ordering = ["position", "pk"]
        constraints = [UniqueConstraint("board", Lower("name"), name="scene_name_once_per_board")]

    def __str__(self) -> str:
        return self.name


class Piece(models.Model):
    """A further piece to cut that is no run of this frame: a spare, or another job's."""

    board = models.ForeignKey(Board, models.CASCADE, related_name="pieces")
    ref = models.CharField(_("ref"), max_length=40)
    cable = models.ForeignKey(CableType, models.PROTECT, related_name="pieces")
    cut_mm = size_field(_("cut, mm"))

    class Meta:
        ordering = ["pk"]
        constraints = [
            UniqueConstraint("board", Upper("ref"), name="piece_ref_once_per_board"),
            CheckConstraint(condition=Q(cut_mm__gt=0), name="piece_cut_positive"),
        ]

    def __str__(self) -> str:
        return self.ref
