"""The photos and files of a piece of gear."""

from dataclasses import dataclass

from django.db.models import QuerySet
from django.http import Http404
from django.urls import reverse

from boardshop.files.models import Attachment
from boardshop.files.section import FileSection, file_section
from boardshop.gear.models import CableType, GearFile, PedalModel, Unit

type HoldingGear = Unit | CableType | PedalModel

COLUMNS: dict[type[HoldingGear], tuple[str, str, str]] = {
    Unit: ("unit", "units", "show-unit"),
    CableType: ("cable", "cables", "change-cable-type"),
    PedalModel: ("pedal", "pedals", "show-pedal-model"),
}
"""For each kind that has photos: the column of GearFile, the kind's word in addresses, and its page."""


@dataclass(frozen=True)
class GearHolder:
    gear: HoldingGear

    @property
    def column(self) -> str:
        return COLUMNS[type(self.gear)][0]

    @property
    def page(self) -> str:
        return reverse(COLUMNS[type(self.gear)][2], args=[self.gear.pk])

    def files(self) -> QuerySet[Attachment]:
        return Attachment.with_trash.filter(**{f"of_gear__{self.column}": self.gear})

    def hold(self, attachment: Attachment) -> None:
        GearFile.objects.create(attachment=attachment, **{self.column: self.gear})


def holder_of(gear: object) -> GearHolder:
    """404 for a kind of gear that has no photos."""
    if not isinstance(gear, Unit | CableType | PedalModel):
        raise Http404
    return GearHolder(gear)


def gear_files(gear: HoldingGear, *, editing: bool) -> FileSection:
    """What the page of this gear shows."""
    holder = GearHolder(gear)
    add = reverse("add-gear-files", args=[COLUMNS[type(gear)][1], gear.pk]) if editing else ""
    return file_section(holder.files(), gear.shop, back=holder.page, add=add)
