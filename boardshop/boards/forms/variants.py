"""What is typed about a variant."""

from django import forms
from django.utils.translation import gettext_lazy as _

from boardshop.boards.forms.edits import EditForm
from boardshop.crew.plain_text import refuse_direction_signs


class VariantForm(EditForm):
    """Its name says what is different."""

    name = forms.CharField(
        label=_("Name"),
        max_length=80,
        validators=[refuse_direction_signs],
        help_text=_("What is different in it, such as “wah after fuzz”."),
        widget=forms.TextInput({"autocomplete": "off"}),
    )
