"""What is typed of a meter reading: volts and polarity at the open plug, or the current with the pedal on."""

from __future__ import annotations

from django import forms
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from boardshop.boards.forms.edits import EditForm
from boardshop.crew.plain_text import refuse_direction_signs
from boardshop.gear import amounts
from boardshop.gear.forms.fields import amount, volts

MINUS_SIGNS = "-\u2212\u2013"

POLARITY_CHOICES = (
    ("", _("not read")),
    ("centre-negative", _("centre-negative")),
    ("centre-positive", _("centre-positive")),
    ("ac", _("AC")),
)


def read_volts(text: str) -> int:
    """Whole mV.  The sign on a meter tells the polarity and is no part of the voltage."""
    if text.strip()[:1] in MINUS_SIGNS:
        bare = text.strip()[1:].strip()[: amounts.LONGEST_TEXT]
        raise amounts.AmountError(
            gettext(
                "A minus on the meter tells the polarity: write %(bare)s, and choose what it means below."
            )
            % {"bare": bare or "9"}
        )
    return amounts.parse_volts(text)


class NoteField(forms.CharField):
    def __init__(self) -> None:
        super().__init__(
            label=_("Note"),
            required=False,
            max_length=200,
            validators=[refuse_direction_signs],
            widget=forms.TextInput({"autocomplete": "off"}),
        )


class ReadingForm(EditForm):
    """A new reading, never a changed one."""

    def compare_with(self, fresh: EditForm) -> None:
        """What was typed is set against nothing: the fields of a fresh one are blank."""


class PlugForm(ReadingForm):
    """At the open plug, before the pedal is on it."""

    volts = volts(
        _("Plug reads"),
        read_volts,
        required=True,
        error_messages={"required": _("Write the volts that the meter shows, such as 9.1.")},
    )
    polarity = forms.ChoiceField(
        label=_("Polarity read"), required=False, choices=POLARITY_CHOICES, widget=forms.RadioSelect
    )
    note = NoteField()


class LoadForm(ReadingForm):
    """With the pedal on the plug and the meter in line."""

    load = amount(
        _("Pedal draws"),
        amounts.parse_milliamps,
        "mA",
        required=True,
        error_messages={"required": _("Write the milliamperes that the meter shows, such as 42.")},
    )
    note = NoteField()
