"""Everything on or around a board that has a ref: pedals, instruments, amps, computers, supplies."""

from django.contrib.postgres.fields import ArrayField
from django.db import models
from django.db.models import CheckConstraint, Q, UniqueConstraint
from django.db.models.functions import Upper
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from boardshop.boards.models.boards import Board, Frame
from boardshop.core import vocabulary as words
from boardshop.gear.fields import amount_field, flag_field, one_of, word_field
from boardshop.gear.models import PedalModel, SupplyModel, Unit


class Item(models.Model):
    """Gives a ref, once a board; what it is, is said by the row of a subclass that shares its key."""

    board = models.ForeignKey(Board, models.CASCADE, related_name="items")
    position = models.PositiveSmallIntegerField(default=0)
    ref = models.CharField(_("ref"), max_length=40)

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            UniqueConstraint("board", Upper("ref"), name="ref_once_per_board"),
            CheckConstraint(condition=Q(ref__regex=r"^[A-Za-z0-9]+$"), name="ref_is_letters_and_digits"),
        ]

    def __str__(self) -> str:
        return self.ref

    def described_use(self) -> str:
        """How this row is named where gear that it uses cannot go."""
        return gettext("%(ref)s of board %(board)s") % {"ref": self.ref, "board": self.board}


class Placement(Item):
    """One pedal of a board: which model or unit, where it lies, how it is played."""

    frame = models.ForeignKey(Frame, models.CASCADE, related_name="placements")
    model = models.ForeignKey(PedalModel, models.PROTECT, related_name="placements", verbose_name=_("pedal"))
    unit = models.ForeignKey(
        Unit, models.PROTECT, related_name="placements", null=True, blank=True, verbose_name=_("unit")
    )
    role = word_field(_("role"), words.ROLES, help_text=_("Blank = as the data sheet says."))
    on = flag_field(_("normally engaged"))
    use = models.PositiveSmallIntegerField(_("stepped on, 0 to 5"), default=0)
    together = models.ManyToManyField("self", symmetrical=False, related_name="+", blank=True)
    turns = ArrayField(
        models.PositiveSmallIntegerField(),
        null=True,
        blank=True,
        help_text=_("Blank = as the data sheet says."),
    )
    x = models.IntegerField(_("x, mm"), null=True, blank=True)
    y = models.IntegerField(_("y, mm"), null=True, blank=True)
    turn = models.PositiveSmallIntegerField(_("turn"), default=0)
    pinned = models.BooleanField(_("pinned"), default=False)
    settings = models.TextField(_("knob settings"), blank=True)

    class Meta:
        constraints = [
            CheckConstraint(
                condition=Q(x__isnull=True, y__isnull=True) | Q(x__isnull=False, y__isnull=False),
                name="placement_x_and_y_or_neither",
            ),
            CheckConstraint(condition=Q(turn__in=words.TURNS), name="placement_turn_known"),
            CheckConstraint(condition=Q(use__lte=5), name="placement_use_up_to_5"),
            UniqueConstraint(fields=["unit"], name="unit_is_one_pedal"),
            one_of("placement", "role", words.ROLES),
        ]


class Source(Item):
    """An instrument."""

    pickup_r = amount_field(_("pickup resistance, ohm"))
    pickup_l = models.DecimalField(
        _("pickup inductance, H"), max_digits=12, decimal_places=6, null=True, blank=True
    )
    pickup_c = amount_field(_("pickup capacitance, pF"))
    volume_ohm = amount_field(_("volume, ohm"))
    tone_ohm = amount_field(_("tone, ohm"))
    tone_nf = models.DecimalField(
        _("tone capacitor, nF"), max_digits=12, decimal_places=4, null=True, blank=True
    )
    output_ohm = amount_field(_("output of an active one, ohm"))

    class Meta:
        constraints = [
            CheckConstraint(
                condition=(Q(pickup_l__gte=0) | Q(pickup_l__isnull=True))
                & (Q(tone_nf__gte=0) | Q(tone_nf__isnull=True)),
                name="source_values_not_negative",
            )
        ]


class Amp(Item):
    """`jacks` holds the board file's own list; empty = one input called IN."""

    input_ohm = amount_field(_("input, ohm"))
    input_pf = amount_field(_("input, pF"))
    protection_class = word_field(_("protection class"), words.PROTECTION_CLASSES, default="I", blank=False)
    earthed = flag_field(_("earthed"))
    speaker = word_field(_("speaker"), words.SPEAKERS)
    jacks = models.JSONField(_("jacks"), default=list, blank=True)

    class Meta:
        constraints = [
            one_of("amp", "protection_class", words.PROTECTION_CLASSES),
            one_of("amp", "speaker", words.SPEAKERS),
        ]

    def all_jacks(self) -> list[dict[str, str]]:
        """The recorded jacks, or the one input that every amp has."""
        return self.jacks or [{"name": "IN", "role": "in"}]


class Computer(Item):
    """`jacks` holds the board file's own list."""

    earthed = flag_field(_("earthed"))
    jacks = models.JSONField(_("jacks"), default=list, blank=True)

    def all_jacks(self) -> list[dict[str, str]]:
        """The recorded jacks."""
        return list(self.jacks)


class SupplyPlacement(Item):
    """One supply of a board, on or under its frame."""

    model = models.ForeignKey(
        SupplyModel, models.PROTECT, related_name="placements", verbose_name=_("supply")
    )
    unit = models.ForeignKey(
        Unit, models.PROTECT, related_name="supply_placements", null=True, blank=True, verbose_name=_("unit")
    )
    x = models.IntegerField(_("x, mm"), null=True, blank=True)
    y = models.IntegerField(_("y, mm"), null=True, blank=True)
    turn = models.PositiveSmallIntegerField(_("turn"), default=0)
    under = models.BooleanField(_("under the frame"), default=False)

    class Meta:
        constraints = [
            CheckConstraint(
                condition=Q(x__isnull=True, y__isnull=True) | Q(x__isnull=False, y__isnull=False),
                name="supply_placement_x_and_y_or_neither",
            ),
            CheckConstraint(condition=Q(turn__in=words.TURNS), name="supply_placement_turn_known"),
            UniqueConstraint(fields=["unit"], name="unit_is_one_supply"),
        ]
