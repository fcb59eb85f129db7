"""What was metered at the plugs of a board: facts, so that nothing takes one away again."""

from django.db import models
from django.db.models import CheckConstraint, Q
from django.utils.translation import gettext_lazy as _

from boardshop.boards.models.boards import Board
from boardshop.core.power.readings import READ_AS
from boardshop.crew.models import Person
from boardshop.gear.fields import amount_field, one_of, word_field


class LeadReading(models.Model):
    """One reading at one plug: volts and polarity before the pedal is on it, or the current with it on.

    It is no row of the board that undo, a revision or a variant would put back: what a meter read stays true
    whatever is planned.  A newer reading is shown in its place, and one that was mistyped is taken back and
    not deleted.
    `item_key` is the key of the pedal's row and no foreign key, since undo and restore take rows away and
    write them anew under the same key; nothing else ever bears it.  `jack` is the power jack's name, `end`
    what both were called then.  `expects` holds what was planned at that plug when the reading was taken, as
    pairs of name and text: a reading of an earlier feed is known by it.
    """

    board = models.ForeignKey(Board, models.CASCADE, related_name="readings")
    item_key = models.BigIntegerField()
    jack = models.CharField(max_length=20)
    end = models.CharField(max_length=70)
    mv = amount_field(_("volts at the open plug, mV"))
    polarity = word_field(_("polarity"), READ_AS)
    load_ma = amount_field(_("current with the pedal on, mA"))
    note = models.CharField(_("note"), max_length=200, blank=True)
    expects = models.JSONField(default=list)
    at = models.DateTimeField()
    person = models.ForeignKey(Person, models.SET_NULL, related_name="+", null=True, blank=True)
    who = models.CharField(_("by"), max_length=150, blank=True)
    taken_back_at = models.DateTimeField(null=True, blank=True)
    taken_back_by = models.CharField(max_length=150, blank=True)

    class Meta:
        ordering = ["-pk"]
        constraints = [
            CheckConstraint(
                condition=Q(mv__isnull=True) ^ Q(load_ma__isnull=True), name="lead_reading_volts_or_load"
            ),
            CheckConstraint(
                condition=Q(polarity="") | Q(mv__isnull=False), name="lead_reading_polarity_with_volts"
            ),
            one_of("lead_reading", "polarity", READ_AS),
        ]
        indexes = [models.Index(fields=["board", "-id"], name="readings_of_a_board")]

    def __str__(self) -> str:
        return f"{self.end}, reading {self.pk}"
