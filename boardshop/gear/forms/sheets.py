"""A data sheet in one form: the facts of the whole, and rows of jacks, switches or outlets."""

from collections.abc import Mapping
from typing import Any, ClassVar

from django.http import QueryDict

from boardshop.crew.errors import Refusal
from boardshop.crew.models import Shop
from boardshop.gear.forms.rows import RowForm, RowSet, row_set, typed_rows
from boardshop.gear.forms.shop_form import RecordForm, typed_in
from boardshop.gear.records import PedalRecord, SupplyRecord

ADD_ROW = "add_row"
"""The name of the button that asks for one more row; its value says of which kind."""


class SheetForms[Sheet: (PedalRecord, SupplyRecord)]:
    """One form and its rows, bound to what was posted or showing a record.

    When the person only asked for another row, nothing is judged yet: `wants_row` is true, and all that was
    typed stands in the fields again.
    """

    form_class: ClassVar[type[RecordForm]]
    row_classes: ClassVar[Mapping[str, type[RowForm]]]

    def __init__(self, shop: Shop, data: QueryDict | None = None, record: Sheet | None = None) -> None:
        self.shop = shop
        asked = data.get(ADD_ROW) if data is not None else None
        self.wants_row = asked in self.row_classes
        self.is_bound = data is not None and not self.wants_row
        if data is not None and self.wants_row:
            self.form = self.form_class(shop=shop, initial=typed_in(self.form_class, data))
            typed = {prefix: typed_rows(row, prefix, data) for prefix, row in self.row_classes.items()}
            self.rows = {prefix: self._shown(prefix, typed[prefix], prefix == asked) for prefix in typed}
        else:
            self.form = self.form_class(data, shop=shop, record=record)
            self.rows = {prefix: self._rows(prefix, data, record) for prefix in self.row_classes}

    def rows_of(self, record: Sheet | None) -> Mapping[str, list[dict[str, Any]]]:
        """The rows of a record, or those that a new sheet begins with."""
        raise NotImplementedError

    def record(self) -> Sheet:
        """The record of a valid form."""
        raise NotImplementedError

    def is_valid(self) -> bool:
        return all([self.form.is_valid(), *(rows.is_valid() for rows in self.rows.values())])

    @property
    def is_fine(self) -> bool:
        """Whether nothing is marked on the page."""
        return not self.form.errors and not any(rows.total_error_count() for rows in self.rows.values())

    def refuse(self, refusal: Refusal) -> None:
        self.form.refuse(refusal)

    @property
    def seen(self) -> str | None:
        return self.form.seen_mark

    def cleaned_rows(self, prefix: str) -> list[dict[str, Any]]:
        """The rows that stay, without what only the form knows."""
        return [
            {name: value for name, value in form.cleaned_data.items() if name not in ("was", "DELETE")}
            for form in self.rows[prefix].kept()
        ]

    def _rows(self, prefix: str, data: QueryDict | None, record: Sheet | None) -> RowSet:
        if data is not None:
            return row_set(self.row_classes[prefix], prefix, shop=self.shop, data=data)
        return self._shown(prefix, self.rows_of(record)[prefix], False)

    def _shown(self, prefix: str, rows: list[dict[str, Any]], one_more: bool) -> RowSet:
        return row_set(self.row_classes[prefix], prefix, shop=self.shop, rows=rows, blank=int(one_more))
