"""Empty boards: the frame's size, rails, tiers, what must stay free, and the room under it."""

from __future__ import annotations

from typing import Any

from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import CheckConstraint, Q, UniqueConstraint
from django.db.models.functions import Lower
from django.utils.translation import gettext_lazy as _

from boardshop.core import vocabulary as words
from boardshop.crew.models import Shop
from boardshop.crew.trash import KEPT, Trashable
from boardshop.gear.fields import amount_field, known_size_field, one_of, positive, size_field, word_field


def _height_field(label: Any) -> models.DecimalField[Any, Any]:
    return models.DecimalField(
        label, max_digits=12, decimal_places=3, null=True, blank=True, validators=[MinValueValidator(0)]
    )


class FrameShape(models.Model):
    """What a frame in the catalogue and the frame of one board both are.

    `rails`, `tiers`, `keepouts` and `members` hold the board file's own lists; the service that writes them
    lets the core check them first.
    """

    width = size_field(_("width, mm"))
    depth = size_field(_("depth, mm"))
    surface = word_field(_("surface"), words.SURFACES, blank=False, default="slotted")
    rails = models.JSONField(_("rails"), default=list, blank=True)
    tiers = models.JSONField(_("tiers"), default=list, blank=True)
    keepouts = models.JSONField(_("kept free"), default=list, blank=True)
    under_front = _height_field(_("free height under the front edge, mm"))
    under_rear = _height_field(_("free height under the rear edge, mm"))
    lid = known_size_field(_("free height under the lid, mm"))
    entry_x = amount_field(_("lead arrives at x, mm"))
    entry_y = amount_field(_("lead arrives at y, mm"))
    exit_x = amount_field(_("lead leaves at x, mm"))
    exit_y = amount_field(_("lead leaves at y, mm"))
    weight = known_size_field(_("weight, g"))
    plate_thickness = known_size_field(_("thickness of the plate, mm"))
    members = models.JSONField(_("parts of the frame under its top"), default=list, blank=True)

    class Meta:
        abstract = True
        constraints = [
            *positive("%(class)s", "width", "depth", "lid", "weight", "plate_thickness"),
            one_of("%(class)s", "surface", words.SURFACES),
            CheckConstraint(
                condition=(Q(under_front__isnull=True) & Q(under_rear__isnull=True))
                | (Q(under_front__gte=0) & Q(under_rear__gte=0)),
                name="%(class)s_under_both_or_none",
            ),
            CheckConstraint(
                condition=Q(entry_x__isnull=True, entry_y__isnull=True)
                | Q(entry_x__isnull=False, entry_y__isnull=False),
                name="%(class)s_entry_both_or_none",
            ),
            CheckConstraint(
                condition=Q(exit_x__isnull=True, exit_y__isnull=True)
                | Q(exit_x__isnull=False, exit_y__isnull=False),
                name="%(class)s_exit_both_or_none",
            ),
        ]


class FrameModel(FrameShape, Trashable):
    """A frame in the catalogue."""

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="frame_models")
    maker = models.CharField(_("maker"), max_length=80, blank=True)
    name = models.CharField(_("name"), max_length=80)

    class Meta(FrameShape.Meta):
        abstract = False
        ordering = ["maker", "name"]
        constraints = [
            *FrameShape.Meta.constraints,
            UniqueConstraint(
                "shop", Lower("maker"), Lower("name"), condition=KEPT, name="frame_model_once_per_shop"
            ),
            CheckConstraint(condition=~Q(name=""), name="frame_model_has_a_name"),
        ]

    def __str__(self) -> str:
        return f"{self.maker} {self.name}".strip()
