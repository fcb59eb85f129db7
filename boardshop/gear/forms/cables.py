"""Cable types, plug types and the cable on the shelf as forms."""

from typing import Any, ClassVar

from django import forms
from django.urls import reverse
from django.utils.html import format_html
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from boardshop.core import vocabulary as words
from boardshop.crew.models import Shop
from boardshop.gear import amounts
from boardshop.gear.forms.asking_back import CONFIRMED, LONGEST_STOCK_MM, AsksBack, confirmation
from boardshop.gear.forms.fields import ExactLengthField, amount, from_zero, size, text, word
from boardshop.gear.forms.shop_form import RecordForm, facts
from boardshop.gear.models import CableType
from boardshop.gear.records import CableRecord, PlugRecord, StockRecord


class CableForm(RecordForm):
    name = text(_("Name"), 80, required=True)
    pf_per_m = amount(
        _("Capacitance"),
        amounts.parse_pf_per_m,
        "pF/m",
        help_text=_("As printed on the reel or measured; 30 pF/ft is understood too."),
    )
    pf_is_right = forms.BooleanField(label=_("Yes, that capacitance is right"), required=False)
    diameter = ExactLengthField(label=_("Diameter"), required=False)
    min_bend = size(_("Least bend radius"), help_text=_("Inside; blank = 5 × diameter."))
    cores = amount(_("Cores"), amounts.parse_whole)
    price = amount(_("Price per metre"), amounts.parse_price)

    def __init__(self, data: Any = None, **options: Any) -> None:
        super().__init__(data, **options)
        price_in(self, self.shop)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        pf = cleaned.get("pf_per_m")
        if pf is not None and not amounts.is_usual_capacitance(pf) and not cleaned.get("pf_is_right"):
            question = amounts.ask_about_capacitance(pf)
            self.add_error("pf_per_m", f"{question} {gettext('Correct it, or tick that it is right.')}")
        return cleaned

    @property
    def shown_fields(self) -> list[forms.BoundField]:
        """The question about the capacitance stands there only after an unusual figure."""
        pf = self.initial.get("pf_per_m")
        asks = "pf_per_m" in self.errors or (pf is not None and not amounts.is_usual_capacitance(pf))
        return [field for field in self.visible_fields() if asks or field.name != "pf_is_right"]

    def record(self) -> CableRecord:
        names = ("name", "pf_per_m", "diameter", "min_bend", "cores", "price")
        return CableRecord(**facts(self.cleaned_data, names))


class PlugForm(RecordForm):
    name = text(_("Name"), 80, required=True)
    connector = word(_("Connector"), words.CONNECTORS)
    fixing = word(_("Fixing"), words.FIXINGS, help_text=_("How it holds its cable; moulded = bought on one."))
    reach = size(_("Reach"), help_text=_("How far the mated plug stands out from the jack's face."))
    width = size(_("Width"))
    inside = from_zero(_("Cable inside"), help_text=_("From the cut end to where the cable leaves the plug."))
    price = amount(_("Price"), amounts.parse_price)

    def __init__(self, data: Any = None, **options: Any) -> None:
        super().__init__(data, **options)
        price_in(self, self.shop)

    def record(self) -> PlugRecord:
        names = ("name", "connector", "fixing", "reach", "width", "inside", "price")
        return PlugRecord(**facts(self.cleaned_data, names))


MOST_IN_STOCK = 10_000
"""More pieces of one length lie on no shop's shelf; from memory."""


class StockForm(AsksBack, RecordForm):
    longest: ClassVar = {"length": LONGEST_STOCK_MM}

    cable = forms.ChoiceField(label=_("Cable"))
    kind = word(_("Kind"), words.STOCK_KINDS, needed=True, initial="reel")
    length = size(_("Length"), required=True, help_text=_("Of each piece; 10 m is understood too."))
    lengths_are_right = confirmation()
    count = amount(_("Count"), amounts.parse_whole, required=True, initial=1)
    tag = text(_("Tag"), 40, help_text=_("What is written on the reel or the bag."))

    def __init__(self, data: Any = None, **options: Any) -> None:
        super().__init__(data, **options)
        self.keep_confirmed()
        names = CableType.objects.filter(shop=self.shop).values_list("name", flat=True)
        choices = self.fields["cable"]
        assert isinstance(choices, forms.ChoiceField)
        choices.choices = [("", gettext("choose …")), *((name, name) for name in names)]
        if not names:
            said, way = gettext("This shop has no cable type yet."), gettext("Add a cable type first")
            choices.help_text = format_html('{} <a href="{}">{}</a>', said, reverse("add-cable-type"), way)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        self.ask_about_lengths(cleaned)
        return cleaned

    @property
    def shown_fields(self) -> list[forms.BoundField]:
        return [field for field in self.visible_fields() if field.name != CONFIRMED or self.is_asked()]

    def clean_count(self) -> int:
        if not self.cleaned_data["count"]:
            raise forms.ValidationError(gettext("At least one; take the line off when none is left."))
        count = int(self.cleaned_data["count"])
        if count > MOST_IN_STOCK:
            words = gettext(
                "At most %(most)d in one line; look for a slipped figure, or write a second line."
            )
            raise forms.ValidationError(words % {"most": MOST_IN_STOCK})
        return count

    def record(self) -> StockRecord:
        return StockRecord(**facts(self.cleaned_data, ("cable", "kind", "length", "count", "tag")))


def price_in(form: forms.Form, shop: Shop) -> None:
    """Prices are in the shop's currency, and say so."""
    form.fields["price"].unit = shop.currency  # type: ignore[attr-defined]
