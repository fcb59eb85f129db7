"""The buttons for undo and redo, and what is offered where a step cannot be made."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from django import forms

from boardshop.boards.errors import NothingToRedo, NothingToUndo, StaleEdit
from boardshop.boards.forms.edits import EditForm
from boardshop.boards.models import Change
from boardshop.crew.errors import Refusal


class StepForm(EditForm):
    """`past_edit` is the number of the edit that is to be passed over, blank for none.

    Once a step was refused, `passed` is its change and `further` the one that could be turned around instead.
    """

    past_edit = forms.IntegerField(min_value=0, required=False, widget=forms.HiddenInput)

    def __init__(self, data: Any = None, *, key: str, **options: Any) -> None:
        super().__init__(data, key=key, **options)
        self.passed: Change | None = None
        self.further: Change | None = None

    @property
    def past(self) -> int | None:
        """The number that was posted."""
        number: int | None = self.cleaned_data["past_edit"]
        return number


@contextmanager
def offering(form: StepForm, find: Callable[[int | None], Change | None]) -> Iterator[None]:
    """Inside, a step; where it is refused for what stands in its way, the form offers the next one."""
    try:
        yield
    except (StaleEdit, NothingToUndo, NothingToRedo):
        raise
    except Refusal:
        form.passed = find(form.past)
        form.further = find(form.passed.number) if form.passed else None
        raise
