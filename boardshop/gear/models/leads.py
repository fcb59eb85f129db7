"""DC leads that come with a supply, and the shop's drawer of leads and adapters."""

from django.core.validators import MaxValueValidator
from django.db import models
from django.db.models import BaseConstraint, CheckConstraint, Q
from django.utils.translation import gettext_lazy as _

from boardshop.core import vocabulary as words
from boardshop.core.drawer import say_spare
from boardshop.crew.models import Shop
from boardshop.crew.trash import Trashable
from boardshop.gear.fields import known_size_field, one_of, positive, size_field, word_field
from boardshop.gear.models.supplies import SupplyModel

THINNEST_AWG = 56
"""The board file's own limit, the last gauge of ASTM B258."""


class SpareFacts(models.Model):
    """What is known of leads or adapters of one sort, and how many of them there are."""

    length = known_size_field(_("length, mm"))
    awg = models.PositiveSmallIntegerField(
        _("conductor, AWG"), null=True, blank=True, validators=[MaxValueValidator(THINNEST_AWG)]
    )
    mm2 = models.DecimalField(_("conductor, mm²"), max_digits=8, decimal_places=4, null=True, blank=True)
    connector = word_field(_("plug at the pedal's end"), words.CONNECTORS)
    count = size_field(_("count"), default=1)

    class Meta:
        abstract = True

    def __str__(self) -> str:
        return say_spare(self)


def spare_constraints(table: str) -> list[BaseConstraint]:
    return [
        *positive(table, "length", "mm2", "count"),
        one_of(table, "connector", words.CONNECTORS),
        CheckConstraint(
            condition=Q(awg__lte=THINNEST_AWG) | Q(awg__isnull=True), name=f"{table}_awg_is_a_gauge"
        ),
    ]


class SupplyLead(SpareFacts):
    """Leads of one sort that lie in the supply's box."""

    supply = models.ForeignKey(SupplyModel, models.CASCADE, related_name="leads")
    position = models.PositiveSmallIntegerField(default=0)

    class Meta:
        ordering = ["position", "pk"]
        constraints = spare_constraints("supply_lead")


class DrawerItem(SpareFacts, Trashable):
    """Leads or adapters of one sort in the shop's drawer."""

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="drawer")
    kind = word_field(_("kind"), words.DRAWER_KINDS, blank=False, default="lead")
    note = models.TextField(_("note"), blank=True)

    class Meta:
        ordering = ["kind", "length", "pk"]
        constraints = [
            *spare_constraints("drawer_item"),
            CheckConstraint(condition=Q(kind__in=words.DRAWER_KINDS), name="drawer_item_kind_known"),
        ]
