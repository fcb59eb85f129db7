"""Form fields for what is measured: lengths in the shop's unit, volts, currents and the like.

`unit` stands beside a field's label; every field keeps what was typed when it cannot be read.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext, gettext_lazy

from boardshop.core.lengths import LengthError, length_figure, parse_exact_length, parse_length
from boardshop.crew.plain_text import refuse_direction_signs
from boardshop.gear.amounts import AmountError, trimmed, volts_text
from boardshop.gear.notation.scanning import NotationError

NOT_RECORDED = ("", gettext_lazy("not recorded"))


def decimal_input() -> forms.TextInput:
    return forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"})


class ReadField(forms.Field):
    """Text that a reader turns into a value, and a value that a writer turns into text again."""

    unit = ""

    def __init__(
        self,
        *,
        read: Callable[[str], Any],
        show: Callable[[Any], str] = str,
        unit: str = "",
        blank: Any = None,
        **options: Any,
    ) -> None:
        options.setdefault("widget", decimal_input())
        options.setdefault("required", False)
        super().__init__(**options)
        self.read, self.show, self.unit, self.blank = read, show, unit, blank

    def to_python(self, value: Any) -> Any:
        if not isinstance(value, str):
            return self.blank if value is None else value
        if not value.strip():
            return self.blank
        if "\x00" in value:
            raise ValidationError(gettext("Null characters are not allowed."))
        refuse_direction_signs(value)
        try:
            return self.read(value)
        except (AmountError, NotationError) as error:
            raise ValidationError(str(error)) from error

    def prepare_value(self, value: Any) -> Any:
        return value if value is None or isinstance(value, str) else self.show(value)

    def has_changed(self, initial: Any, data: Any) -> bool:
        try:
            return bool(self.to_python(data) != self.to_python(initial))
        except ValidationError:
            return True


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

    def to_python(self, value: Any) -> int | Decimal | None:
        mm = super().to_python(value)
        return None if mm is None else trimmed(Decimal(mm))


def use_unit(form: forms.BaseForm, unit: str) -> None:
    """Let every length of this form be shown and read in `unit`; the field's label says which."""
    for field in form.fields.values():
        if isinstance(field, LengthField):
            field.unit = unit
        if isinstance(field, InUnitField):
            field.use_unit(unit)


class InUnitField(ReadField):
    """A cell of the compact notation: bare lengths count in the shop's unit, and it is shown in that.

    `example` is a value; the hint shows it in the place of `%(example)s`.
    """

    def __init__(
        self,
        *,
        read_in: Callable[[str, str], Any],
        show_in: Callable[[Any, str], str],
        hint: Any,
        example: Any,
        **options: Any,
    ) -> None:
        self._read_in, self._show_in, self._hint, self._example = read_in, show_in, hint, example
        options.setdefault("widget", forms.TextInput(attrs={"autocomplete": "off"}))
        super().__init__(
            read=lambda text: read_in(text, "mm"), show=lambda value: show_in(value, "mm"), **options
        )

    def use_unit(self, unit: str) -> None:
        self.read = lambda text: self._read_in(text, unit)
        self.show = lambda value: self._show_in(value, unit)
        self.help_text = str(self._hint) % {"example": self._show_in(self._example, unit)}


def size(label: Any, *, required: bool = False, **options: Any) -> LengthField:
    """A length above zero."""
    return LengthField(label=label, required=required, least=1, **options)


def from_zero(label: Any, **options: Any) -> LengthField:
    """A length from zero on."""
    return LengthField(label=label, required=False, **options)


def amount(label: Any, read: Callable[[str], Any], unit: str = "", **options: Any) -> ReadField:
    return ReadField(label=label, read=read, unit=unit, **options)


def volts(label: Any, read: Callable[[str], Any], **options: Any) -> ReadField:
    return ReadField(label=label, read=read, show=volts_text, unit="V", **options)


def word(label: Any, allowed: Iterable[str], *, needed: bool = False, **options: Any) -> forms.ChoiceField:
    """One word of a closed list; blank stands for nobody recorded it, unless it is `needed`."""
    first = ("", gettext_lazy("choose …")) if needed else NOT_RECORDED
    choices = [first, *((name, name) for name in allowed)]
    return forms.ChoiceField(label=label, choices=choices, required=needed, **options)


def flag(label: Any, **options: Any) -> forms.TypedChoiceField:
    """Yes, no, or None where nobody recorded it."""
    choices = [NOT_RECORDED, ("yes", gettext_lazy("yes")), ("no", gettext_lazy("no"))]
    return FlagField(label=label, choices=choices, required=False, **options)


class FlagField(forms.TypedChoiceField):
    def __init__(self, **options: Any) -> None:
        super().__init__(coerce=lambda text: text == "yes", empty_value=None, **options)

    def prepare_value(self, value: Any) -> Any:
        return {True: "yes", False: "no", None: ""}.get(value, value)


def text(label: Any, most: int, *, required: bool = False, **options: Any) -> forms.CharField:
    return forms.CharField(
        label=label, max_length=most, required=required, validators=[refuse_direction_signs], **options
    )


def long_text(label: Any, **options: Any) -> forms.CharField:
    field = LinesField(
        label=label,
        required=False,
        max_length=4000,
        widget=forms.Textarea({"rows": 3}),
        validators=[refuse_direction_signs],
        **options,
    )
    field.is_wide = True  # the field's template lets it run over the whole row
    return field


class LinesField(forms.CharField):
    """Several lines, ended the same way whatever the browser sent."""

    is_wide = False

    def to_python(self, value: Any) -> str:
        return str(super().to_python(value) or "").replace("\r\n", "\n").replace("\r", "\n")
