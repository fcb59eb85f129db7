"""A power supply's data sheet as a form: the whole, and a row for each outlet."""

from collections.abc import Mapping
from dataclasses import asdict
from typing import Any

from django import forms
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from boardshop.core import plan as core
from boardshop.core import vocabulary as words
from boardshop.gear import amounts
from boardshop.gear.forms.cables import price_in
from boardshop.gear.forms.drawer import LeadRow
from boardshop.gear.forms.fields import ReadField, amount, flag, long_text, size, text, volts, word
from boardshop.gear.forms.pedals import NamedRow, unknown_words
from boardshop.gear.forms.sheets import SheetForms
from boardshop.gear.forms.shop_form import RecordForm, facts
from boardshop.gear.models import SupplyModel
from boardshop.gear.notation.power import read_settings, show_settings
from boardshop.gear.records import SupplyRecord
from boardshop.gear.services import change_supply_model
from boardshop.gear.shelves import SUPPLY_FACTS


class SupplyForm(RecordForm):
    maker = text(_("Maker"), 80)
    name = text(_("Name"), 80, required=True)
    width = size(_("Width"))
    depth = size(_("Depth"))
    height = size(_("Height"), help_text=_("Must fit under the frame if it goes there."))
    weight = amount(_("Weight"), amounts.parse_grams, "g")
    limit_mw = amount(
        _("Whole supply"),
        amounts.parse_milliwatts,
        "W",
        show=amounts.volts_text,
        help_text=_("All outlets together; blank where the maker states no limit."),
    )
    protection_class = word(
        _("Protection class"), words.PROTECTION_CLASSES, help_text=_("IEC 61140: I has a protective earth.")
    )
    earthed = flag(_("Earthed"))
    mains_min_mv = volts(_("Mains from"), amounts.parse_volts)
    mains_max_mv = volts(_("Mains to"), amounts.parse_volts)
    mains_hz = forms.TypedMultipleChoiceField(
        label=_("Mains, Hz"),
        choices=[(50, "50"), (60, "60")],
        coerce=int,
        required=False,
        widget=forms.CheckboxSelectMultiple,
    )
    inlet = word(_("Mains inlet"), words.INLETS, help_text=_("IEC 60320."))
    outlet_side = word(
        _("Side of the outlets"), words.SIDES, help_text=_("Of the box as it is measured, unturned.")
    )
    inlet_side = word(_("Side of the mains inlet"), words.SIDES)
    conversion = word(
        _("Conversion"), words.CONVERSIONS, help_text=_("A linear one hums into a wah's coil that is near.")
    )
    price = amount(_("Price"), amounts.parse_price)
    note = long_text(_("Note"))

    def __init__(self, data: Any = None, **options: Any) -> None:
        super().__init__(data, **options)
        price_in(self, self.shop)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        low, high = cleaned.get("mains_min_mv"), cleaned.get("mains_max_mv")
        if low is not None and high is not None and low > high:
            self.add_error("mains_max_mv", gettext("The mains range ends below its start; swap the two."))
        return cleaned


class OutletRow(NamedRow):
    settings = ReadField(
        label=_("Volts and limit"),
        read=read_settings,
        show=show_settings,
        blank=(),
        widget=forms.TextInput({"autocomplete": "off"}),
        help_text=_("9 V 500 mA, several as 9 V 500 mA; 18 V 250 mA, a range as 9-12 V 300 mA."),
    )
    current = word(_("Kind of current"), words.CURRENTS)
    polarity = word(_("Plug polarity"), words.POLARITIES)
    connector = word(_("Connector"), words.CONNECTORS)
    regulated = flag(_("Regulated"))
    sag = flag(_("Meant to starve a pedal"))
    group = text(_("Group"), 20, help_text=_("Same group = shared return; blank = isolated."))
    group_max_ma = amount(_("Whole group"), amounts.parse_milliamps, "mA")
    parallel_ok = flag(_("Maker permits parallel"))
    series_ok = flag(_("Maker permits series"))


class SupplySheet(SheetForms[SupplyRecord]):
    form_class = SupplyForm
    row_classes = {"outlets": OutletRow, "leads": LeadRow}

    def rows_of(self, record: SupplyRecord | None) -> Mapping[str, list[dict[str, Any]]]:
        if record is None:
            return {"outlets": [{"name": "1"}], "leads": []}
        return {
            "outlets": [
                asdict(outlet) | {"was": outlet.name, "settings": outlet.settings}
                for outlet in record.outlets
            ],
            "leads": [asdict(lead) for lead in record.leads],
        }

    def change(self, model: SupplyModel) -> SupplyModel:
        return change_supply_model(
            model, self.record(), seen=self.seen, renamed=self.rows["outlets"].renamed()
        )

    def record(self) -> SupplyRecord:
        cleaned = self.form.cleaned_data
        return SupplyRecord(
            **facts(cleaned, SUPPLY_FACTS),
            mains_hz=tuple(cleaned["mains_hz"]),
            price=cleaned["price"],
            outlets=tuple(core.Outlet(**unknown_words(row)) for row in self.cleaned_rows("outlets")),
            leads=tuple(row.lead() for row in self.rows["leads"].kept()),
        )
