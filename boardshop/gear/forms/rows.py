"""Rows of a data sheet in a form: jacks, switches, outlets; adding a row needs no script.

A button that adds a row posts the whole form; it comes back with one more row and everything typed in it.
"""

from collections.abc import Iterable, Mapping
from typing import Any

from django import forms
from django.forms.formsets import BaseFormSet, formset_factory
from django.utils.translation import gettext_lazy as _

from boardshop.crew.models import Shop
from boardshop.gear.forms.shop_form import ShopForm

MOST_ROWS = 64


class RowForm(ShopForm):
    """One row; a new row that stays blank is no row."""

    was = forms.CharField(required=False, max_length=20, widget=forms.HiddenInput)
    """The name under which the row is stored, so that a new name keeps what points to it."""


class RowSet(BaseFormSet):  # type: ignore[type-arg]
    """All rows are alike: whether one is stored already is said by its `was`, not by its place."""

    default_error_messages = BaseFormSet.default_error_messages | {
        "missing_management_form": _("This form came back incomplete; reload the page and type it again.")
    }

    def initial_form_count(self) -> int:
        return 0

    def kept(self) -> list[Any]:
        """The valid rows that are to stay, in order."""
        return [form for form in self.forms if form.has_changed() and not form.cleaned_data.get("DELETE")]

    def renamed(self) -> dict[str, str]:
        """Old name -> new name of the rows that were stored under another one."""
        pairs = [(form.cleaned_data["was"], form.cleaned_data["name"]) for form in self.kept()]
        return {old: new for old, new in pairs if old and old != new}

    def add_fields(self, form: Any, index: int | None) -> None:
        super().add_fields(form, index)
        form.fields["DELETE"].label = _("Take this row off")


def row_set(
    row: type[RowForm],
    prefix: str,
    *,
    shop: Shop,
    data: Any = None,
    rows: Iterable[Mapping[str, Any]] = (),
    blank: int = 0,
    **of_rows: Any,
) -> RowSet:
    """Bound to `data` if given, else showing `rows` and so many blank ones; `of_rows` go to each row."""
    shown = list(rows)
    kind: Any = formset_factory(
        row,
        formset=RowSet,
        extra=len(shown) + blank,
        can_delete=True,
        max_num=MOST_ROWS,
        absolute_max=MOST_ROWS,
    )
    options: dict[str, Any] = {"prefix": prefix, "form_kwargs": {"shop": shop, **of_rows}}
    bound: RowSet = kind(data, **options) if data is not None else kind(initial=shown, **options)
    return bound


def typed_rows(row: type[RowForm], prefix: str, data: Mapping[str, Any]) -> list[dict[str, Any]]:
    """What was typed in each row, as it is, to be shown again."""
    try:
        count = min(int(data.get(f"{prefix}-TOTAL_FORMS", 0)), MOST_ROWS)
    except (TypeError, ValueError):
        count = 0
    names = [*row.base_fields, "DELETE"]
    return [{name: data.get(f"{prefix}-{n}-{name}", "") for name in names} for n in range(count)]
