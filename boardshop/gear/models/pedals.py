"""A pedal's data sheet: box, jacks, foot switches and what each power jack needs."""

from django.contrib.postgres.fields import ArrayField
from django.db import models
from django.db.models import CheckConstraint, F, Q, UniqueConstraint
from django.db.models.functions import Lower, Upper
from django.utils.translation import gettext_lazy as _

from boardshop.core import vocabulary as words
from boardshop.crew.models import Shop
from boardshop.crew.trash import KEPT, Trashable
from boardshop.gear.fields import (
    amount_field,
    flag_field,
    known_size_field,
    one_of,
    positive,
    size_field,
    word_field,
)


def unturned() -> list[int]:
    return [0]


class PedalModel(Trashable):
    """What the data sheet says of one make and model; null and blank mean nobody recorded it."""

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="pedal_models")
    maker = models.CharField(_("maker"), max_length=80, blank=True)
    name = models.CharField(_("name"), max_length=80)
    kind = word_field(_("kind"), words.KINDS, blank=False)
    role = word_field(_("role"), words.ROLES, help_text=_("Where the kind stands in several places."))
    width = size_field(_("width, mm"))
    depth = size_field(_("depth, mm"))
    height = known_size_field(_("height, mm"))
    weight = known_size_field(_("weight, g"))
    treadle = flag_field(_("treadle"))
    toe_height = known_size_field(_("height with the toe up, mm"))
    screw_length = known_size_field(_("bottom screws, mm"))
    bypass = word_field(_("bypass"), words.BYPASSES)
    input_ohm = amount_field(_("input, ohm"))
    input_pf = models.PositiveIntegerField(_("input, pF"), default=0)
    output_ohm = amount_field(_("output, ohm"))
    circuit = word_field(_("circuit"), words.CIRCUITS)
    level = word_field(_("level"), words.LEVELS)
    tracker = word_field(_("tracker"), words.TRACKERS)
    inverts = flag_field(_("inverts the signal"))
    kills_dry = flag_field(_("dry signal off"))
    latency_ms = models.DecimalField(_("latency, ms"), max_digits=9, decimal_places=3, null=True, blank=True)
    tails = flag_field(_("keeps tails"))
    battery = flag_field(_("battery is its only source"))
    turns = ArrayField(models.PositiveSmallIntegerField(), default=unturned, verbose_name=_("allowed turns"))
    note = models.TextField(_("note"), blank=True)

    class Meta:
        ordering = ["maker", "name"]
        constraints = [
            UniqueConstraint(
                "shop", Lower("maker"), Lower("name"), condition=KEPT, name="pedal_model_once_per_shop"
            ),
            *positive("pedal_model", "width", "depth", "height", "weight", "toe_height", "screw_length"),
            CheckConstraint(condition=~Q(name=""), name="pedal_model_has_a_name"),
            CheckConstraint(condition=Q(kind__in=words.KINDS), name="pedal_model_kind_known"),
            CheckConstraint(
                condition=Q(turns__contained_by=list(words.TURNS)) & ~Q(turns=[]),
                name="pedal_model_turns_known",
            ),
            CheckConstraint(
                condition=Q(latency_ms__gte=0) | Q(latency_ms__isnull=True),
                name="pedal_model_latency_not_negative",
            ),
            one_of("pedal_model", "role", words.ROLES),
            one_of("pedal_model", "bypass", words.BYPASSES),
            one_of("pedal_model", "circuit", words.CIRCUITS),
            one_of("pedal_model", "level", words.LEVELS),
            one_of("pedal_model", "tracker", words.TRACKERS),
        ]

    def __str__(self) -> str:
        return f"{self.maker} {self.name}".strip()


class PedalJack(models.Model):
    """One jack of a pedal; `offset` counts along its side from the left or the front corner."""

    model = models.ForeignKey(PedalModel, models.CASCADE, related_name="jacks")
    position = models.PositiveSmallIntegerField(default=0)
    name = models.CharField(_("name"), max_length=20)
    role = word_field(_("role"), words.JACK_ROLES, blank=False)
    side = word_field(_("side"), words.SIDES)
    offset = amount_field(_("offset, mm"), help_text=_("From the left corner, or the front one."))
    height = amount_field(_("height, mm"))
    connector = word_field(_("connector"), words.CONNECTORS)
    channels = word_field(_("channels"), words.CHANNELS)

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            UniqueConstraint("model", Upper("name"), name="pedal_jack_name_once"),
            CheckConstraint(condition=Q(name__regex=r"^[^.\s]+$"), name="pedal_jack_name_is_one_word"),
            CheckConstraint(condition=Q(role__in=words.JACK_ROLES), name="pedal_jack_role_known"),
            one_of("pedal_jack", "side", words.SIDES),
            one_of("pedal_jack", "connector", words.CONNECTORS),
            one_of("pedal_jack", "channels", words.CHANNELS),
        ]

    def __str__(self) -> str:
        return self.name


class PedalSwitch(models.Model):
    """One foot switch, in the unturned box."""

    model = models.ForeignKey(PedalModel, models.CASCADE, related_name="switches")
    position = models.PositiveSmallIntegerField(default=0)
    x = models.PositiveIntegerField(_("x, mm"))
    y = models.PositiveIntegerField(_("y, mm"))

    class Meta:
        ordering = ["position", "pk"]

    def __str__(self) -> str:
        return f"{self.x}, {self.y}"


class PowerJack(models.Model):
    """What one power jack needs; plug polarity and ground pole are two separate facts."""

    model = models.ForeignKey(PedalModel, models.CASCADE, related_name="power_jacks")
    position = models.PositiveSmallIntegerField(default=0)
    name = models.CharField(_("name"), max_length=20, default="DC")
    current = word_field(_("current"), words.CURRENTS)
    nominal = amount_field(_("nominal, mV"))
    min = amount_field(_("least, mV"))
    max = amount_field(_("most, mV"))
    polarity = word_field(_("plug polarity"), words.POLARITIES)
    ground_pole = word_field(_("ground pole"), words.GROUND_POLES)
    connector = word_field(_("connector"), words.CONNECTORS)
    rated = amount_field(_("rated, mA"))
    peak = amount_field(_("peak, mA"))
    sag = flag_field(_("may be starved"))
    share = word_field(_("shares an outlet"), words.SHARES)

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            UniqueConstraint("model", Upper("name"), name="power_jack_name_once"),
            CheckConstraint(condition=Q(name__regex=r"^[^.\s]+$"), name="power_jack_name_is_one_word"),
            CheckConstraint(
                condition=Q(min__isnull=True) | Q(max__isnull=True) | Q(min__lte=F("max")),
                name="power_jack_least_not_above_most",
            ),
            one_of("power_jack", "current", words.CURRENTS),
            one_of("power_jack", "polarity", words.POLARITIES),
            one_of("power_jack", "ground_pole", words.GROUND_POLES),
            one_of("power_jack", "connector", words.CONNECTORS),
            one_of("power_jack", "share", words.SHARES),
        ]

    def __str__(self) -> str:
        return self.name
