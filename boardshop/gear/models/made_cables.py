"""The register of made cables: each one's facts, its tests and its faults."""

from typing import Any

from django.contrib.postgres.fields import ArrayField
from django.db import models
from django.db.models import CheckConstraint, Q, UniqueConstraint
from django.utils.translation import gettext_lazy as _

from boardshop.core.cables import register_words as words
from boardshop.crew.codes import CABLE_LENGTH, random_code
from boardshop.crew.models import Person, Shop
from boardshop.gear.fields import amount_field, flag_field, one_of, size_field, word_field
from boardshop.gear.models.cables import CableType, PlugType

OVER_RANGE = ("tip_ohm", "sleeve_ohm", "insulation_mohm", "wiggle_ohm")
"""Readings at which a meter can be over its range."""
MOST_OHM, MOST_MOHM, MOST_PF, MOST_DROP_MV = 1_000_000, 100_000, 100_000, 30_000
"""Beyond these a figure is a slipped point: a meter that shows more is over its range; from memory."""


def new_cable_code() -> str:
    """A random id such as 7K3M; no other cable of the shop ever had it, or the service draws again."""
    return random_code(CABLE_LENGTH)


class InHand(models.Manager["MadeCable"]):
    """Those that were not scrapped."""

    def get_queryset(self) -> models.QuerySet["MadeCable"]:
        return super().get_queryset().filter(scrapped_on=None)


class MadeCable(models.Model):
    """One cable that somebody made; its row stays when it is scrapped, so that its id is never given again.

    On a board it is where a link says so, `place` is where it is otherwise.  `verdict` is what the tests and
    faults since it was made come to; blank = not tested.  Postgres keeps a generated column beside these,
    `fit_for_board`: the key, or null for one that failed or was scrapped; a link can only point to that.
    """

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="made_cables")
    code = models.CharField(_("id"), max_length=CABLE_LENGTH, default=new_cable_code, editable=False)
    kind = word_field(_("kind"), words.CABLE_KINDS, blank=False, default="signal")
    cable = models.ForeignKey(
        CableType, models.PROTECT, related_name="made", null=True, blank=True, verbose_name=_("cable type")
    )
    reel = models.CharField(_("reel"), max_length=40, blank=True)
    plug_a = models.ForeignKey(
        PlugType, models.PROTECT, related_name="made_a", null=True, blank=True, verbose_name=_("plug at A")
    )
    plug_b = models.ForeignKey(
        PlugType, models.PROTECT, related_name="made_b", null=True, blank=True, verbose_name=_("plug at B")
    )
    length = size_field(_("cut length, mm"))
    made_by = models.CharField(_("made by"), max_length=80, blank=True)
    made_on = models.DateField(_("made on"), null=True, blank=True)
    place = word_field(_("place"), ("spare", "bench"), blank=False, default="spare")
    where = models.CharField(_("where it lies"), max_length=200, blank=True)
    note = models.TextField(_("note"), blank=True)
    verdict = word_field(_("verdict"), words.VERDICTS, editable=False)
    tested_on = models.DateField(_("tested on"), null=True, blank=True, editable=False)
    scrapped_on = models.DateField(_("scrapped on"), null=True, blank=True, editable=False)
    scrapped_why = models.CharField(_("why it was scrapped"), max_length=200, blank=True, editable=False)

    use = ""
    """On which link it is, in words, where somebody has looked; not stored."""

    objects = models.Manager["MadeCable"]()
    in_hand = InHand()

    class Meta:
        ordering = ["-pk"]
        default_manager_name = "in_hand"
        constraints = [
            UniqueConstraint("shop", "code", name="made_cable_code_once_per_shop"),
            CheckConstraint(
                condition=Q(code__regex=r"^[2-9A-HJKMNP-TV-Z]{4}$"), name="made_cable_code_readable"
            ),
            CheckConstraint(
                condition=Q(length__gte=words.SHORTEST_MM, length__lte=words.LONGEST_MM),
                name="made_cable_length_within",
            ),
            CheckConstraint(condition=Q(kind__in=words.CABLE_KINDS), name="made_cable_kind_known"),
            CheckConstraint(condition=Q(place__in=("spare", "bench")), name="made_cable_place_known"),
            one_of("made_cable", "verdict", words.VERDICTS),
        ]

    def __str__(self) -> str:
        return self.code

    @property
    def is_scrapped(self) -> bool:
        return self.scrapped_on is not None

    def described_use(self) -> str:
        """How it is named where the type that it is made of cannot go."""
        return str(_("made cable %(code)s") % {"code": self.code})


def _reading(label: Any, decimals: int) -> "models.DecimalField[Any, Any]":
    return models.DecimalField(label, max_digits=12, decimal_places=decimals, null=True, blank=True)


def _none_or_up_to(column: str, most: int) -> Q:
    return Q(**{f"{column}__isnull": True}) | Q(**{f"{column}__gte": 0, f"{column}__lte": most})


class CableTest(models.Model):
    """What was read of a made cable on one day; `verdict` and `judged` are core's word at that time.

    The readings bear the names of core's `BENCH_TESTS`; `over_range` lists those at which the meter was over
    its range.  `show` is the number of the last show before, where shows are counted.
    """

    cable = models.ForeignKey(MadeCable, models.CASCADE, related_name="tests")
    on = models.DateField(_("on"))
    at = models.DateTimeField(auto_now_add=True)
    person = models.ForeignKey(Person, models.SET_NULL, related_name="+", null=True, blank=True)
    who = models.CharField(max_length=150, blank=True)
    tug = flag_field(_("look and tug"))
    tip_ohm = _reading(_("tip to tip, ohm"), 3)
    sleeve_ohm = _reading(_("sleeve to sleeve, ohm"), 3)
    insulation_mohm = _reading(_("tip to sleeve, Mohm"), 3)
    crossed = flag_field(_("tip to the far sleeve"))
    pin_map = flag_field(_("pin by pin"))
    wiggle_ohm = _reading(_("wiggle, ohm"), 3)
    listened = flag_field(_("listen"))
    pf = _reading(_("capacitance, pF"), 1)
    polarity = flag_field(_("polarity"))
    drop_mv = amount_field(_("loaded drop, mV"))
    over_range = ArrayField(models.CharField(max_length=20), default=list, blank=True)
    show = amount_field(_("show number"))
    note = models.CharField(_("note"), max_length=400, blank=True)
    verdict = word_field(_("verdict"), words.VERDICTS, editable=False)
    judged = models.JSONField(default=list, editable=False)

    class Meta:
        ordering = ["-on", "-pk"]
        constraints = [
            CheckConstraint(
                condition=_none_or_up_to("tip_ohm", MOST_OHM)
                & _none_or_up_to("sleeve_ohm", MOST_OHM)
                & _none_or_up_to("wiggle_ohm", MOST_OHM)
                & _none_or_up_to("insulation_mohm", MOST_MOHM)
                & _none_or_up_to("pf", MOST_PF)
                & _none_or_up_to("drop_mv", MOST_DROP_MV),
                name="cable_test_readings_within",
            ),
            CheckConstraint(
                condition=Q(over_range__contained_by=list(OVER_RANGE)), name="cable_test_over_range_known"
            ),
            CheckConstraint(condition=Q(verdict__in=words.VERDICTS), name="cable_test_has_a_verdict"),
        ]

    def __str__(self) -> str:
        return f"{self.on} {self.verdict}"


class CableFault(models.Model):
    """A fault of a made cable, and where it was then; board and link are kept in words."""

    cable = models.ForeignKey(MadeCable, models.CASCADE, related_name="faults")
    on = models.DateField(_("on"))
    at = models.DateTimeField(auto_now_add=True)
    person = models.ForeignKey(Person, models.SET_NULL, related_name="+", null=True, blank=True)
    who = models.CharField(max_length=150, blank=True)
    show = amount_field(_("show number"))
    symptom = models.CharField(_("symptom"), max_length=200)
    end = word_field(_("where on the cable"), words.CABLE_ENDS)
    cause = word_field(_("cause"), words.FAULT_CAUSES)
    minutes_lost = amount_field(_("minutes lost"))
    action = models.CharField(_("what was done"), max_length=200, blank=True)
    place = models.CharField(max_length=140, blank=True)
    chain_place = word_field(_("place in the chain"), words.CHAIN_PLACES)

    class Meta:
        ordering = ["-on", "-pk"]
        constraints = [
            CheckConstraint(condition=~Q(symptom=""), name="cable_fault_has_a_symptom"),
            one_of("cable_fault", "end", words.CABLE_ENDS),
            one_of("cable_fault", "cause", words.FAULT_CAUSES),
            one_of("cable_fault", "chain_place", words.CHAIN_PLACES),
        ]

    def __str__(self) -> str:
        return f"{self.on} {self.symptom}"
