"""A power supply's data sheet: its outlets, what each can be set to, and its mains side."""

from decimal import Decimal

from django.contrib.postgres.fields import ArrayField
from django.core.validators import MinValueValidator
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


class SupplyModel(Trashable):
    shop = models.ForeignKey(Shop, models.CASCADE, related_name="supply_models")
    maker = models.CharField(_("maker"), max_length=80, blank=True)
    name = models.CharField(_("name"), max_length=80)
    width = known_size_field(_("width, mm"))
    depth = known_size_field(_("depth, mm"))
    height = known_size_field(_("height, mm"))
    weight = known_size_field(_("weight, g"))
    limit_mw = amount_field(_("whole supply, mW"), help_text=_("Blank where the maker states none."))
    protection_class = word_field(_("protection class"), words.PROTECTION_CLASSES, help_text=_("IEC 61140."))
    earthed = flag_field(_("earthed"))
    mains_min_mv = amount_field(_("mains from, mV"))
    mains_max_mv = amount_field(_("mains to, mV"))
    mains_hz = ArrayField(
        models.PositiveSmallIntegerField(), default=list, blank=True, verbose_name=_("mains, Hz")
    )
    inlet = word_field(_("mains inlet"), words.INLETS)
    outlet_side = word_field(_("side of the outlets"), words.SIDES)
    inlet_side = word_field(_("side of the mains inlet"), words.SIDES)
    conversion = word_field(_("conversion"), words.CONVERSIONS)
    price = models.DecimalField(
        _("price"),
        max_digits=12,
        decimal_places=4,
        null=True,
        blank=True,
        validators=[MinValueValidator(Decimal(0))],
    )
    note = models.TextField(_("note"), blank=True)

    class Meta:
        ordering = ["maker", "name"]
        constraints = [
            UniqueConstraint(
                "shop", Lower("maker"), Lower("name"), condition=KEPT, name="supply_model_once_per_shop"
            ),
            *positive("supply_model", "width", "depth", "height", "weight"),
            CheckConstraint(condition=~Q(name=""), name="supply_model_has_a_name"),
            CheckConstraint(condition=Q(mains_hz__contained_by=[50, 60]), name="supply_model_mains_hz_known"),
            CheckConstraint(
                condition=Q(mains_min_mv__isnull=True)
                | Q(mains_max_mv__isnull=True)
                | Q(mains_min_mv__lte=F("mains_max_mv")),
                name="supply_model_mains_range",
            ),
            CheckConstraint(
                condition=Q(price__gte=0) | Q(price__isnull=True), name="supply_model_price_not_negative"
            ),
            one_of("supply_model", "protection_class", words.PROTECTION_CLASSES),
            one_of("supply_model", "inlet", words.INLETS),
            one_of("supply_model", "outlet_side", words.SIDES),
            one_of("supply_model", "inlet_side", words.SIDES),
            one_of("supply_model", "conversion", words.CONVERSIONS),
        ]

    def __str__(self) -> str:
        return f"{self.maker} {self.name}".strip()


class Outlet(models.Model):
    """One output; a blank group means isolated, the same group means a shared return."""

    supply = models.ForeignKey(SupplyModel, models.CASCADE, related_name="outlets")
    position = models.PositiveSmallIntegerField(default=0)
    name = models.CharField(_("name"), max_length=20)
    current = word_field(_("current"), words.CURRENTS)
    polarity = word_field(_("plug polarity"), words.POLARITIES)
    connector = word_field(_("connector"), words.CONNECTORS)
    regulated = flag_field(_("regulated"))
    sag = flag_field(_("meant to starve a pedal"))
    group = models.CharField(_("group"), max_length=20, blank=True, help_text=_("Blank = isolated."))
    group_max_ma = amount_field(_("whole group, mA"))
    parallel_ok = flag_field(_("maker permits parallel"))
    series_ok = flag_field(_("maker permits series"))

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            UniqueConstraint("supply", Upper("name"), name="outlet_name_once"),
            CheckConstraint(condition=Q(name__regex=r"^[^.\s]+$"), name="outlet_name_is_one_word"),
            one_of("outlet", "current", words.CURRENTS),
            one_of("outlet", "polarity", words.POLARITIES),
            one_of("outlet", "connector", words.CONNECTORS),
        ]

    def __str__(self) -> str:
        return self.name


class OutletSetting(models.Model):
    """A fixed voltage (least = most) or a variable range, with the current limit that holds there."""

    outlet = models.ForeignKey(Outlet, models.CASCADE, related_name="settings")
    position = models.PositiveSmallIntegerField(default=0)
    min_mv = size_field(_("from, mV"))
    max_mv = size_field(_("to, mV"))
    max_ma = amount_field(_("limit, mA"))

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            *positive("outlet_setting", "min_mv", "max_mv"),
            CheckConstraint(condition=Q(min_mv__lte=F("max_mv")), name="outlet_setting_range"),
        ]

    def __str__(self) -> str:
        return f"{self.min_mv} mV" if self.min_mv == self.max_mv else f"{self.min_mv} to {self.max_mv} mV"
