"""The page of one instrument, amp or computer."""

from __future__ import annotations

from typing import Any

from django.urls import reverse

from boardshop.boards.forms.edits import EditForm
from boardshop.boards.forms.ends import AmpForm, ComputerForm, SourceForm
from boardshop.boards.models import Amp, Board, Item, Source
from boardshop.boards.pages.page import FormPage

KEY = "end"


def end_page(board: Board, end: Item) -> FormPage:
    return FormPage(
        template="boards/change_end.html",
        back=reverse("order", args=[board.code]),
        tab="order",
        context={"end": end},
        forms={KEY: lambda: fresh_end(end)},
    )


def fresh_end(end: Item, data: Any = None) -> EditForm:
    """The form of this kind of end as things stand, or as it was typed."""
    kind: type[EditForm] = ComputerForm
    if isinstance(end, Source):
        kind = SourceForm
    elif isinstance(end, Amp):
        kind = AmpForm
    values = {name: _shown(getattr(end, name)) for name in kind.base_fields if name != "edit"}
    form = kind(data, key=KEY, initial=values)
    form.fields["ref"].required, form.fields["ref"].help_text = True, ""
    return form


def _shown(value: Any) -> Any:
    """Decimals without the zeros that only fill their column."""
    return f"{value.normalize():f}" if hasattr(value, "normalize") else value
