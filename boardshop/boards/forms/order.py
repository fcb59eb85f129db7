"""The sequence of the pedals."""

from django import forms
from django.utils.translation import gettext_lazy as _

from boardshop.boards.forms.edits import EditForm


class MoveForm(EditForm):
    """One pedal to a position of a line, counted from 1."""

    line = forms.IntegerField(min_value=0, max_value=63, widget=forms.HiddenInput)
    position = forms.IntegerField(
        label=_("Position"),
        min_value=1,
        max_value=9999,
        error_messages=dict.fromkeys(
            ("required", "invalid", "min_value", "max_value"),
            _("A place in the line is a whole number, 1 for the first."),
        ),
    )
    to = forms.IntegerField(min_value=1, max_value=9999, required=False, widget=forms.HiddenInput)
    """What a button says, whatever stands in the field beside it."""

    @property
    def goal(self) -> int:
        return int(self.cleaned_data["to"] or self.cleaned_data["position"])


class WireForm(EditForm):
    """The pedals of a line in their sequence, by ref."""

    line = forms.IntegerField(min_value=0, max_value=63, widget=forms.HiddenInput)
    refs = forms.CharField(
        label=_("Sequence"),
        max_length=4000,
        required=False,
        widget=forms.TextInput({"autocomplete": "off", "autocapitalize": "characters", "class": "figures"}),
        help_text=_("Refs with spaces between; what is left out is left unwired."),
    )

    def ref_list(self) -> list[str]:
        return str(self.cleaned_data["refs"]).replace(",", " ").split()
