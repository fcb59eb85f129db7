"""Cables that are bought with their plugs on, as a form."""

from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from boardshop.core import vocabulary as words
from boardshop.gear import amounts
from boardshop.gear.forms.asking_back import CONFIRMED, LONGEST_LEAD_MM, AsksBack, confirmation
from boardshop.gear.forms.cables import price_in
from boardshop.gear.forms.fields import amount, size, text, word
from boardshop.gear.forms.shop_form import RecordForm, facts
from boardshop.gear.records import ReadyMadeRecord


class ReadyMadeForm(AsksBack, RecordForm):
    longest: ClassVar = {"length": LONGEST_LEAD_MM}

    name = text(_("Name"), 80, required=True)
    length = size(_("Length"), required=True, help_text=_("Of the cable between its two plugs."))
    lengths_are_right = confirmation()
    connector = word(_("Plug at one end"), words.CONNECTORS)
    far_connector = word(_("Plug at the other end"), words.CONNECTORS)
    pf_per_m = amount(_("Capacitance"), amounts.parse_pf_per_m, "pF/m")
    price = amount(_("Price"), amounts.parse_price)
    count = amount(_("Count"), amounts.parse_whole, blank=0, help_text=_("How many are there; blank = none."))

    def __init__(self, data: Any = None, **options: Any) -> None:
        super().__init__(data, **options)
        price_in(self, self.shop)
        self.keep_confirmed()

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        self.ask_about_lengths(cleaned)
        return cleaned

    @property
    def shown_fields(self) -> list[forms.BoundField]:
        return [field for field in self.visible_fields() if field.name != CONFIRMED or self.is_asked()]

    def record(self) -> ReadyMadeRecord:
        names = ("name", "length", "connector", "far_connector", "pf_per_m", "price", "count")
        return ReadyMadeRecord(**facts(self.cleaned_data, names))
