"""Units as forms: one physical pedal or supply, and what it was measured to draw."""

from typing import Any

from django import forms
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from boardshop.crew.models import Client
from boardshop.crew.once import ONCE
from boardshop.gear import amounts
from boardshop.gear.forms.fields import amount, long_text, text
from boardshop.gear.forms.shop_form import RecordForm, ShopForm, initial_of
from boardshop.gear.models import PedalModel, SupplyModel, Unit
from boardshop.gear.records import Draw, UnitRecord

PARTED = "\x1f"


def model_key(what: str, maker: str, name: str) -> str:
    """One model as the value of a choice."""
    return PARTED.join((what, maker, name))


class UnitForm(RecordForm):
    model = forms.ChoiceField(label=_("Model"))
    serial = text(_("Serial"), 80)
    owner = forms.ChoiceField(label=_("Owner"), required=False)
    condition = text(_("Condition"), 200)
    location = text(_("Where it is"), 200)
    settings = long_text(_("Knob settings"))
    note = long_text(_("Note"))

    def __init__(self, data: Any = None, *, record: UnitRecord | None = None, **options: Any) -> None:
        if record is not None:
            key = model_key(record.what, record.maker, record.model)
            options["initial"] = initial_of(record) | {"model": key}
        self.draws = record.draws if record else ()
        super().__init__(data, **options)
        models, owners = self.fields["model"], self.fields["owner"]
        assert isinstance(models, forms.ChoiceField)
        assert isinstance(owners, forms.ChoiceField)
        models.choices = [("", gettext("choose …")), *self._models()]
        names = Client.objects.filter(shop=self.shop).values_list("name", flat=True)
        owners.choices = [("", gettext("the shop, or not recorded")), *((name, name) for name in names)]

    def _models(self) -> list[tuple[Any, Any]]:
        kinds = (("pedal", gettext("Pedals"), PedalModel), ("supply", gettext("Supplies"), SupplyModel))
        return [
            (
                label,
                [
                    (model_key(what, row.maker, row.name), str(row))
                    for row in kind.objects.filter(shop=self.shop)
                ],
            )
            for what, label, kind in kinds
        ]

    def record(self) -> UnitRecord:
        """What was measured is kept by its own form, so it stays as it is."""
        cleaned = dict(self.cleaned_data)
        del cleaned["seen"]
        cleaned.pop(ONCE, None)
        what, maker, name = cleaned.pop("model").split(PARTED)
        return UnitRecord(what=what, maker=maker, model=name, draws=self.draws, **cleaned)


class DrawForm(ShopForm):
    """What one power jack was measured to draw."""

    jack = forms.ChoiceField(label=_("Power jack"))
    measured = amount(_("Measured"), amounts.parse_milliamps, "mA", required=True)
    on = forms.DateField(
        label=_("On"),
        required=False,
        widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"),
        error_messages={"invalid": _("Write the day as year-month-day, such as 2026-03-01.")},
    )
    by = text(_("By"), 80)

    def __init__(self, data: Any = None, *, unit: Unit, **options: Any) -> None:
        super().__init__(data, shop=unit.shop, **options)
        names = unit.pedal.power_jacks.values_list("name", flat=True) if unit.pedal else []
        jacks = self.fields["jack"]
        assert isinstance(jacks, forms.ChoiceField)
        jacks.choices = [(name, name) for name in names]

    def draw(self) -> Draw:
        return Draw(**self.cleaned_data)
