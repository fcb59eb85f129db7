"""Form fields for what is measured: lengths in the shop's unit, volts, currents and the like."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext

from boardshop.core.lengths import LengthError, length_figure, parse_exact_length, parse_length


def decimal_input() -> forms.TextInput:
    return forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"})


class LengthField(forms.Field):
    """A length: typed in any unit, a bare number in the shop's; cleaned to whole mm.

    A form that has one passes the shop's unit on: `use_unit(form, shop.length_unit)`, or `ShopForm` does it.
    `least` refuses what is smaller, in mm; sizes start at 1, offsets at 0.
    """

    def __init__(self, *, unit: str = "mm", least: int = 0, **options: Any) -> None:
        options.setdefault("widget", decimal_input())
        super().__init__(**options)
        self.unit = unit
        self.least = least

    def to_python(self, value: Any) -> int | Decimal | None:
        if value in self.empty_values or not str(value).strip():
            return None
        if isinstance(value, int | Decimal):
            return value
        try:
            mm = self.read(str(value))
        except LengthError as error:
            raise ValidationError(gettext(type(error).__doc__ or "") % {"text": error.text}) from error
        if mm < self.least:
            raise ValidationError(gettext("A size must be above zero; leave it blank if nobody measured it."))
        return mm

    def read(self, text: str) -> int | Decimal:
        return parse_length(text, self.unit)

    def prepare_value(self, value: Any) -> Any:
        return length_figure(value, self.unit) if isinstance(value, int | Decimal) else value

    def has_changed(self, initial: Any, data: Any) -> bool:
        try:
            return bool(self.to_python(data) != self.to_python(initial))
        except ValidationError:
            return True


class ExactLengthField(LengthField):
    """As LengthField, cleaned to a Decimal of mm with up to three decimals."""

    def read(self, text: str) -> Decimal:
        return parse_exact_length(text, self.unit)


def use_unit(form: forms.BaseForm, unit: str) -> None:
    """Let every length of this form be shown and read in `unit`, and say so in its label."""
    for field in form.fields.values():
        if isinstance(field, LengthField):
            field.unit = unit
            field.label = f"{field.label}, {unit}"
