"""Keeping a finding on purpose."""

from django import forms
from django.utils.translation import gettext_lazy as _

from boardshop.boards.forms.edits import EditForm

PAGES = (
    *("board", "order", "scenes", "layout", "cables"),
    *("power", "leads", "grounds", "proposed-feeds", "which-supply"),
)


class KeepForm(EditForm):
    """Which finding, why it is kept, and the page on which that was written.

    `subjects` holds the refs with spaces between; no ref has one.
    """

    rule = forms.CharField(max_length=8, widget=forms.HiddenInput)
    subjects = forms.CharField(max_length=4000, required=False, widget=forms.HiddenInput)
    page = forms.ChoiceField(choices=[(page, page) for page in PAGES], widget=forms.HiddenInput)
    why = forms.CharField(
        label=_("Why it is kept"),
        max_length=400,
        required=False,
        widget=forms.TextInput({"autocomplete": "off"}),
    )

    def subject_list(self) -> list[str]:
        return str(self.cleaned_data.get("subjects", "")).split()
