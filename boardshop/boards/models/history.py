"""What happened to a board: each change, each released revision, and the variants that lie beside it."""

from django.contrib.postgres.fields import ArrayField
from django.db import models
from django.db.models import CheckConstraint, Q, UniqueConstraint
from django.db.models.functions import Lower
from django.utils.translation import gettext_lazy as _

from boardshop.boards.models.boards import Board
from boardshop.crew.models import Person


class Change(models.Model):
    """One edit of a working copy: who, when, what it says in the trade's words, and the rows it touched.

    `number` is the edit number that the board bore after it; `patch` holds each touched row as it was before
    and after, see boards/history/state.py, and is empty where nothing of the board's own rows changed.
    `removed` names the pedals that it took off, for the trash; `digest` is the mark of all rows after it.
    `mark` stands for the form that was sent, so that the same one sent twice is known again.
    A row is written once; only `is_undone` goes to and fro.
    """

    class Kind(models.TextChoices):
        BEGUN = "begun", _("begun")
        EDIT = "edit", _("edit")
        UNDO = "undo", _("undone")
        REDO = "redo", _("done again")
        RETURN = "return", _("put back")
        RESTORE = "restore", _("revision restored")
        VARIANT = "variant", _("variant")
        TRASH = "trash", _("put in the trash")

    board = models.ForeignKey(Board, models.CASCADE, related_name="changes")
    number = models.PositiveIntegerField()
    at = models.DateTimeField()
    person = models.ForeignKey(Person, models.SET_NULL, related_name="+", null=True, blank=True)
    who = models.CharField(max_length=150, blank=True)
    kind = models.CharField(max_length=7, choices=Kind, default=Kind.EDIT)
    of = models.ForeignKey("self", models.CASCADE, related_name="answers", null=True, blank=True)
    variant = models.ForeignKey("Variant", models.SET_NULL, related_name="+", null=True, blank=True)
    sentences = models.JSONField(default=list)
    removed = ArrayField(models.CharField(max_length=200), default=list, blank=True)
    patch = models.JSONField(default=dict)
    digest = models.CharField(max_length=64, blank=True)
    mark = models.CharField(max_length=64, blank=True)
    is_undone = models.BooleanField(default=False)

    class Meta:
        ordering = ["-number"]
        constraints = [UniqueConstraint(fields=["board", "number"], name="change_once_per_edit")]
        indexes = [models.Index(fields=["board", "person", "kind", "-number"], name="change_of_a_person")]

    def __str__(self) -> str:
        return f"{self.board}, change {self.number}"

    @property
    def more(self) -> int:
        """How many sentences follow on the first."""
        return max(len(self.sentences) - 1, 0)


class Revision(models.Model):
    """A numbered, frozen state of a board: what is on stage.  A trigger refuses to change one.

    `edit_number` is the one that the working copy bore when it was released.
    `file` is its board file and `report` the core's report on that, letter by letter as they were; `state`
    are the board's own rows, from which the working copy can be restored.
    """

    board = models.ForeignKey(Board, models.CASCADE, related_name="revisions")
    number = models.PositiveIntegerField(_("revision"))
    edit_number = models.PositiveIntegerField()
    at = models.DateTimeField(_("released"))
    person = models.ForeignKey(Person, models.SET_NULL, related_name="+", null=True, blank=True)
    who = models.CharField(_("by"), max_length=150, blank=True)
    note = models.TextField(_("note"), blank=True)
    reason = models.TextField(_("why it was released with these findings"), blank=True)
    file = models.TextField()
    report = models.TextField()
    state = models.JSONField()
    digest = models.CharField(max_length=64)

    class Meta:
        ordering = ["-number"]
        constraints = [
            UniqueConstraint(fields=["board", "number"], name="revision_number_once_per_board"),
            CheckConstraint(condition=Q(number__gte=1), name="revision_numbers_from_one"),
        ]

    def __str__(self) -> str:
        return f"{self.board}, revision {self.number}"


class Variant(models.Model):
    """A named way to build the same board, to compare; the current one's rows are the working copy itself.

    `state` holds the rows of one that is not current, and is None for the one that is.
    """

    board = models.ForeignKey(Board, models.CASCADE, related_name="variants")
    name = models.CharField(_("name"), max_length=80)
    state = models.JSONField(null=True)
    made_at = models.DateTimeField()
    who = models.CharField(_("by"), max_length=150, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            UniqueConstraint("board", Lower("name"), name="variant_name_once_per_board"),
            UniqueConstraint(
                fields=["board"], condition=Q(state__isnull=True), name="one_current_variant_per_board"
            ),
            CheckConstraint(condition=~Q(name=""), name="variant_has_a_name"),
        ]

    def __str__(self) -> str:
        return self.name
