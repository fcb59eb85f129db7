"""Cable and plug types, and the cable that is on the shelf."""

from decimal import Decimal
from typing import ClassVar

from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import CheckConstraint, Q, UniqueConstraint
from django.db.models.functions import Lower
from django.utils.translation import gettext_lazy as _

from boardshop.core import vocabulary as words
from boardshop.crew.models import Shop
from boardshop.crew.trash import KEPT, KeptManager, Trashable
from boardshop.gear.fields import amount_field, known_size_field, one_of, positive, size_field, word_field

NOT_NEGATIVE = [MinValueValidator(Decimal(0))]


class CableType(Trashable):
    """Cable by the metre, as printed on the reel or measured."""

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="cable_types")
    name = models.CharField(_("name"), max_length=80)
    pf_per_m = amount_field(_("capacitance, pF/m"))
    diameter = models.DecimalField(
        _("diameter, mm"), max_digits=12, decimal_places=3, null=True, blank=True, validators=NOT_NEGATIVE
    )
    min_bend = known_size_field(_("least bend radius, mm"), help_text=_("Inside; blank = 5 × diameter."))
    cores = known_size_field(_("cores"))
    price = models.DecimalField(
        _("price per metre"), max_digits=12, decimal_places=4, null=True, blank=True, validators=NOT_NEGATIVE
    )

    class Meta:
        ordering = ["name"]
        constraints = [
            UniqueConstraint("shop", Lower("name"), condition=KEPT, name="cable_type_once_per_shop"),
            *positive("cable_type", "diameter", "min_bend", "cores"),
            CheckConstraint(condition=~Q(name=""), name="cable_type_has_a_name"),
            CheckConstraint(
                condition=Q(price__gte=0) | Q(price__isnull=True), name="cable_type_price_not_negative"
            ),
        ]

    def __str__(self) -> str:
        return self.name


class PlugType(Trashable):
    """A plug: how far it stands out, how wide it is, and the cable that disappears inside it."""

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="plug_types")
    name = models.CharField(_("name"), max_length=80)
    connector = word_field(_("connector"), words.CONNECTORS)
    reach = known_size_field(
        _("reach, mm"), help_text=_("How far the mated plug stands out from the jack's face.")
    )
    width = known_size_field(_("width, mm"))
    inside = amount_field(_("cable inside, mm"))
    price = models.DecimalField(
        _("price"), max_digits=12, decimal_places=4, null=True, blank=True, validators=NOT_NEGATIVE
    )
    fixing = word_field(_("fixing"), words.FIXINGS, help_text=_("How it holds its cable."))

    class Meta:
        ordering = ["name"]
        constraints = [
            UniqueConstraint("shop", Lower("name"), condition=KEPT, name="plug_type_once_per_shop"),
            *positive("plug_type", "reach", "width"),
            CheckConstraint(condition=~Q(name=""), name="plug_type_has_a_name"),
            CheckConstraint(
                condition=Q(price__gte=0) | Q(price__isnull=True), name="plug_type_price_not_negative"
            ),
            one_of("plug_type", "connector", words.CONNECTORS),
            one_of("plug_type", "fixing", words.FIXINGS),
        ]

    def __str__(self) -> str:
        return self.name


class KeptStock(KeptManager["CableStock"]):
    """Cable in hand; that of a type in the trash is hidden with it, and comes back with it."""

    def get_queryset(self) -> models.QuerySet["CableStock"]:
        return super().get_queryset().filter(cable__trashed_at=None)


class CableStock(Trashable):
    """Lengths of one cable type in hand: a reel, or off-cuts of equal length."""

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="cable_stock")
    cable = models.ForeignKey(CableType, models.CASCADE, related_name="stock")
    kind = word_field(_("kind"), words.STOCK_KINDS, blank=False, default="reel")
    length = size_field(_("length, mm"))
    count = models.PositiveIntegerField(_("count"), default=1)
    tag = models.CharField(_("tag"), max_length=40, blank=True)

    objects: ClassVar[KeptStock] = KeptStock()

    class Meta:
        ordering = ["cable__name", "kind", "length", "pk"]
        constraints = [
            *positive("cable_stock", "length", "count"),
            CheckConstraint(condition=Q(kind__in=words.STOCK_KINDS), name="cable_stock_kind_known"),
        ]

    def __str__(self) -> str:
        return f"{self.kind} {self.length} mm"
