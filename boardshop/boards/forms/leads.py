"""Taking the leads that were chosen for feeds."""

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from boardshop.boards.forms.edits import EditForm


class TakenField(forms.MultipleChoiceField):
    """Each a jack and the lead for it, as `leads.write_taken` writes them; the service checks them."""

    def valid_value(self, value: Any) -> bool:
        return len(str(value)) <= 200


class TakeLeadsForm(EditForm):
    take = TakenField(
        widget=forms.MultipleHiddenInput,
        error_messages={
            "required": _("No lead was named; use the button beside one."),
            "invalid_choice": _("This is no lead of this page; reload it and use the button beside one."),
        },
    )
