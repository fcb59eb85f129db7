"""The shape of what people type about a whole board."""

from django import forms
from django.utils.translation import gettext_lazy as _


class FindForm(forms.Form):
    """The search of the board list."""

    find = forms.CharField(
        label=_("Find a board"),
        required=False,
        max_length=100,
        widget=forms.TextInput({"type": "search", "autocomplete": "off", "enterkeyhint": "search"}),
    )
