"""Units: one physical item with a serial number, as opposed to what its data sheet says."""

from django.db import models
from django.db.models import CheckConstraint, Q, UniqueConstraint
from django.db.models.functions import Lower, Upper
from django.utils.translation import gettext_lazy as _

from boardshop.crew.models import Client, Shop
from boardshop.crew.trash import KEPT, Trashable
from boardshop.gear.models.pedals import PedalModel
from boardshop.gear.models.supplies import SupplyModel


class Unit(Trashable):
    """One pedal or one supply that somebody owns and somebody must find again."""

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="units")
    pedal = models.ForeignKey(PedalModel, models.PROTECT, related_name="units", null=True, blank=True)
    supply = models.ForeignKey(SupplyModel, models.PROTECT, related_name="units", null=True, blank=True)
    serial = models.CharField(_("serial"), max_length=80, blank=True)
    owner = models.ForeignKey(
        Client, models.PROTECT, related_name="units", null=True, blank=True, verbose_name=_("owner")
    )
    condition = models.CharField(_("condition"), max_length=200, blank=True)
    location = models.CharField(_("where it is"), max_length=200, blank=True)
    settings = models.TextField(_("knob settings"), blank=True)
    note = models.TextField(_("note"), blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [
            CheckConstraint(
                condition=Q(pedal__isnull=False, supply__isnull=True)
                | Q(pedal__isnull=True, supply__isnull=False),
                name="unit_is_a_pedal_or_a_supply",
            ),
            UniqueConstraint(
                "shop",
                "pedal",
                Lower("serial"),
                condition=~Q(serial="") & KEPT,
                name="unit_serial_once_per_pedal_model",
            ),
            UniqueConstraint(
                "shop",
                "supply",
                Lower("serial"),
                condition=~Q(serial="") & KEPT,
                name="unit_serial_once_per_supply_model",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.of} {self.serial}".strip()

    @property
    def of(self) -> PedalModel | SupplyModel:
        """The model that this is one of."""
        model = self.pedal or self.supply
        assert model is not None, "unit_is_a_pedal_or_a_supply"
        return model


class UnitDraw(models.Model):
    """The current one power jack of a unit was measured to draw."""

    unit = models.ForeignKey(Unit, models.CASCADE, related_name="draws")
    jack = models.CharField(_("power jack"), max_length=20, default="DC")
    measured = models.PositiveIntegerField(_("measured, mA"))
    on = models.DateField(_("on"), null=True, blank=True)
    by = models.CharField(_("by"), max_length=80, blank=True)

    class Meta:
        ordering = ["jack"]
        constraints = [
            UniqueConstraint("unit", Upper("jack"), name="unit_draw_once_per_jack"),
        ]

    def __str__(self) -> str:
        return f"{self.jack} {self.measured} mA"
