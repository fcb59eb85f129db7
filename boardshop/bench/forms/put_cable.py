"""Which link of a board a made cable goes on."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from boardshop.boards.forms.edits import EditForm


class PutCableForm(EditForm):
    link = forms.CharField(
        label=_("Link"), max_length=40, error_messages={"required": _("Choose the link that it goes on.")}
    )
    anyway = forms.BooleanField(label=_("It goes on although it seems too short"), required=False)

    def __init__(self, data: Any = None, *, key: str = "put", **options: Any) -> None:
        super().__init__(data, key=key, **options)
