"""What photos and files are of which gear."""

from django.db import models
from django.db.models import CheckConstraint, Q

from boardshop.files.models import Attachment
from boardshop.gear.models.cables import CableType
from boardshop.gear.models.pedals import PedalModel
from boardshop.gear.models.units import Unit


class GearFile(models.Model):
    """One photo or file of a unit, a cable type or a pedal's data sheet."""

    attachment = models.OneToOneField(Attachment, models.CASCADE, related_name="of_gear")
    unit = models.ForeignKey(Unit, models.CASCADE, related_name="held_files", null=True, blank=True)
    cable = models.ForeignKey(CableType, models.CASCADE, related_name="held_files", null=True, blank=True)
    pedal = models.ForeignKey(PedalModel, models.CASCADE, related_name="held_files", null=True, blank=True)

    class Meta:
        constraints = [
            CheckConstraint(
                condition=Q(unit__isnull=False, cable__isnull=True, pedal__isnull=True)
                | Q(unit__isnull=True, cable__isnull=False, pedal__isnull=True)
                | Q(unit__isnull=True, cable__isnull=True, pedal__isnull=False),
                name="gear_file_is_of_one_thing",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.attachment_id} of {self.unit_id or self.cable_id or self.pedal_id}"
