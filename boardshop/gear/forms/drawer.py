"""Leads and adapters as forms: those that come with a supply, and those in the shop's drawer."""

from typing import Any

from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from boardshop.core import plan as core
from boardshop.core import vocabulary as words
from boardshop.gear import amounts
from boardshop.gear.checks import check_gauges
from boardshop.gear.errors import GaugesDiffer
from boardshop.gear.forms.fields import ReadField, amount, long_text, size, word
from boardshop.gear.forms.rows import RowForm
from boardshop.gear.forms.shop_form import RecordForm, facts
from boardshop.gear.records import DrawerRecord


def read_count(text: str) -> int:
    """At least one; raises AmountError."""
    count = amounts.parse_whole(text)
    if not count:
        raise amounts.AmountError(gettext("At least one; take the line off when none is left."))
    return count


def gauge() -> ReadField:
    return amount(_("Conductor, AWG"), amounts.parse_awg)


def area() -> ReadField:
    return amount(_("or area"), amounts.parse_mm2, "mm²", show=lambda mm2: f"{mm2:f}")


class LeadRow(RowForm):
    """Leads of one sort that come with a supply."""

    length = size(_("Length"))
    awg = gauge()
    mm2 = area()
    connector = word(_("Plug at the pedal's end"), words.CONNECTORS)
    count = amount(_("Count"), read_count, help_text=_("Blank = 1."))

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        try:
            check_gauges(self._lead(cleaned))
        except GaugesDiffer as refusal:
            self.refuse(refusal)
        return cleaned

    def lead(self) -> core.SupplyLead:
        """The leads of a valid row."""
        return self._lead(self.cleaned_data)

    @staticmethod
    def _lead(cleaned: dict[str, Any]) -> core.SupplyLead:
        mm2 = cleaned.get("mm2")
        return core.SupplyLead(
            length=cleaned.get("length"),
            awg=cleaned.get("awg"),
            mm2=None if mm2 is None else float(mm2),
            connector=cleaned.get("connector") or None,
            count=cleaned.get("count") or 1,
        )


class DrawerForm(RecordForm):
    kind = word(_("Kind"), words.DRAWER_KINDS, needed=True)
    count = amount(_("Count"), read_count, required=True, initial=1)
    length = size(_("Length"))
    awg = gauge()
    mm2 = area()
    connector = word(_("Plug at the pedal's end"), words.CONNECTORS)
    note = long_text(_("Note"))

    def record(self) -> DrawerRecord:
        names = ("kind", "count", "length", "awg", "mm2", "connector", "note")
        return DrawerRecord(**facts(self.cleaned_data, names))
