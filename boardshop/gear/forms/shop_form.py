"""What all forms for gear have in common: the shop's unit, the mark of what was seen, the way to a record."""

from collections.abc import Iterable, Mapping
from dataclasses import fields
from typing import Any

from django import forms
from django.http import QueryDict
from django.utils.translation import gettext

from boardshop.crew.errors import Refusal
from boardshop.crew.models import Shop
from boardshop.crew.once import ONCE, once_field
from boardshop.gear.forms.fields import use_unit
from boardshop.gear.records import GearRecord
from boardshop.gear.services.keeping import mark_of
from boardshop.gear.templatetags.lengths import lengths_in


class ShopForm(forms.Form):
    """A form whose lengths are in the shop's unit."""

    use_required_attribute = False

    def __init__(self, data: Any = None, *, shop: Shop, **options: Any) -> None:
        super().__init__(data, **options)
        self.shop = shop
        use_unit(self, shop.length_unit)
        for field in self.fields.values():
            words = gettext("%(field)s is needed: fill it in.") % {"field": field.label}
            if field.error_messages["required"] == forms.Field.default_error_messages["required"]:
                field.error_messages["required"] = words

    def refuse(self, refusal: Refusal) -> None:
        """Show what a service refused beside its field, or above the form."""
        said = lengths_in(str(refusal), self.shop)
        self.add_error(refusal.field if refusal.field in self.fields else None, said)


class RecordForm(ShopForm):
    """A form that shows one record and gives one back."""

    seen = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)
    """The mark of what was stored when the page was made; blank for a new thing."""
    once = once_field()

    def __init__(self, data: Any = None, *, shop: Shop, record: GearRecord | None = None, **options: Any):
        if record is not None:
            options["initial"] = initial_of(record)
        super().__init__(data, shop=shop, **options)
        if record is not None:
            del self.fields[ONCE]

    def record(self) -> GearRecord:
        """The record of a valid form."""
        raise NotImplementedError

    @property
    def seen_mark(self) -> str | None:
        return self.cleaned_data["seen"] or None

    @property
    def shown_fields(self) -> list[forms.BoundField]:
        """The fields that a person sees, in order."""
        return self.visible_fields()

    def show_new_mark(self, record: GearRecord) -> None:
        """After a conflict: the next time what is typed is kept knowingly."""
        assert isinstance(self.data, QueryDict)
        data = self.data.copy()
        data[self.add_prefix("seen")] = mark_of(record)
        self.data = data


def initial_of(record: GearRecord) -> dict[str, Any]:
    return {f.name: getattr(record, f.name) for f in fields(record)} | {"seen": mark_of(record)}


def typed_in(form: type[forms.Form], data: QueryDict) -> dict[str, Any]:
    """What was typed in each field, as it is, to be shown again."""
    many = [name for name, field in form.base_fields.items() if isinstance(field, forms.MultipleChoiceField)]
    return {name: data.getlist(name) if name in many else data.get(name, "") for name in form.base_fields}


def facts(cleaned: Mapping[str, Any], names: Iterable[str]) -> dict[str, Any]:
    """The cleaned values of these fields."""
    return {name: cleaned[name] for name in names}
