"""Cables that are bought with their plugs on, in lengths that their maker chose."""

from decimal import Decimal

from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import CheckConstraint, Q, UniqueConstraint
from django.db.models.functions import Lower
from django.utils.translation import gettext_lazy as _

from boardshop.core import vocabulary as words
from boardshop.crew.models import Shop
from boardshop.crew.trash import KEPT, Trashable
from boardshop.gear.fields import amount_field, one_of, positive, size_field, word_field


class ReadyMade(Trashable):
    """One sort of finished cable; `count` is how many the shop has, which may be none."""

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="ready_made")
    name = models.CharField(_("name"), max_length=80)
    length = size_field(_("length, mm"), help_text=_("Of the cable between its two plugs."))
    connector = word_field(_("plug at one end"), words.CONNECTORS)
    far_connector = word_field(_("plug at the other end"), words.CONNECTORS)
    pf_per_m = amount_field(_("capacitance, pF/m"))
    price = models.DecimalField(
        _("price"),
        max_digits=12,
        decimal_places=4,
        null=True,
        blank=True,
        validators=[MinValueValidator(Decimal(0))],
    )
    count = models.PositiveIntegerField(_("count"), default=0)

    class Meta:
        ordering = ["length", "name"]
        constraints = [
            UniqueConstraint("shop", Lower("name"), condition=KEPT, name="ready_made_once_per_shop"),
            *positive("ready_made", "length"),
            CheckConstraint(condition=~Q(name=""), name="ready_made_has_a_name"),
            CheckConstraint(
                condition=Q(price__gte=0) | Q(price__isnull=True), name="ready_made_price_not_negative"
            ),
            one_of("ready_made", "connector", words.CONNECTORS),
            one_of("ready_made", "far_connector", words.CONNECTORS),
        ]

    def __str__(self) -> str:
        return self.name
