"""Two people with the same form: whoever keeps it second is told what the first one changed.

A form carries a short mark of what was stored when its page was made.
"""

import hashlib
from collections.abc import Callable, Mapping
from typing import Any

from django import forms
from django.db import models, transaction
from django.forms.models import model_to_dict
from django.http import QueryDict
from django.shortcuts import get_object_or_404
from django.utils.translation import gettext

from boardshop.crew.errors import ChangedMeanwhile


def mark_of(recorded: object) -> str:
    """A short mark of everything recorded; its `repr` must tell all of it."""
    return hashlib.sha256(repr(recorded).encode()).hexdigest()[:24]


def check_seen(
    seen: str | None, mark: str, stored: Mapping[str, object], typed: Mapping[str, object], name: str
) -> None:
    """Refuse to overwrite what the person has not seen, unless it is what they typed anyway.

    `mark` is that of what is stored.  Raises ChangedMeanwhile with the names that differ.
    """
    if seen is None or seen == mark or stored == typed:
        return
    changes = [label.replace("_", " ") for label in stored if stored[label] != typed[label]]
    raise ChangedMeanwhile(name=name, changes=gettext("now different from yours: %s") % ", ".join(changes))


class SeenForm[M: models.Model](forms.ModelForm[M]):
    """A form for a row that is changed by several people."""

    seen = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)
    """The mark of what was stored when the page was made; blank for a new thing."""

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        if self.instance.pk:
            self.initial["seen"] = mark_of(self.columns_of(self.instance))

    def columns_of(self, row: M) -> dict[str, Any]:
        """What the form is about, by the name of the column."""
        return model_to_dict(row, fields=self._meta.fields)

    def keep_unless_changed(self, keep: Callable[[], object]) -> None:
        """Look at the row once more, locked, then call `keep`.

        Raises ChangedMeanwhile, after which the form has the new mark: sent again as it is shown, what was
        typed is kept knowingly.
        """
        row = self.instance
        if row.pk is None:
            keep()
            return
        with transaction.atomic():
            stored_row = get_object_or_404(type(row)._default_manager.select_for_update(), pk=row.pk)
            stored, typed = self.columns_of(stored_row), self.columns_of(row)
            try:
                check_seen(self.cleaned_data["seen"] or None, mark_of(stored), stored, typed, str(stored_row))
            except ChangedMeanwhile:
                assert isinstance(self.data, QueryDict)
                data = self.data.copy()
                data[self.add_prefix("seen")] = mark_of(stored)
                self.data = data
                raise
            keep()
