"""The search of the gear lists."""

from django import forms
from django.utils.translation import gettext_lazy as _

from boardshop.gear.kinds import KINDS, PEDALS, GearKind, kind_called


class FindGearForm(forms.Form):
    """Which list, and the words that every row of it must hold; nonsense falls back to all pedals."""

    find = forms.CharField(
        label=_("Find gear"),
        required=False,
        max_length=100,
        widget=forms.TextInput({"type": "search", "autocomplete": "off", "enterkeyhint": "search"}),
    )
    kind = forms.ChoiceField(
        choices=[(kind.slug, kind.label) for kind in KINDS], required=False, widget=forms.HiddenInput
    )

    def wanted(self) -> tuple[GearKind, str]:
        self.is_valid()
        return kind_called(self.cleaned_data.get("kind", "")) or PEDALS, self.cleaned_data.get("find", "")
