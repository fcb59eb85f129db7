"""What stands around the pedals: instruments, amps, computers, supplies."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from boardshop.boards.forms.edits import Choices, EditForm, FlagField, WordField
from boardshop.boards.forms.pedals import RefField
from boardshop.core import vocabulary as words
from boardshop.gear import amounts
from boardshop.gear.forms.fields import amount, decimal_input

END_ROLES = ("in", "out", "send", "return", "control", "midi-in", "midi-out", "usb")
LONGEST_JACKS = 1000


class JacksField(forms.CharField):
    """Jacks of an amp or a computer, as `IN in instrument; SEND send line`: name, role and level."""

    def __init__(self, *, roles: tuple[str, ...] = END_ROLES, **options: Any) -> None:
        super().__init__(required=False, max_length=LONGEST_JACKS, **options)
        self.roles = roles

    def prepare_value(self, value: Any) -> Any:
        if not isinstance(value, list):
            return value
        parts = ([jack["name"], jack["role"], jack.get("level") or ""] for jack in value)
        return "; ".join(" ".join(part).strip() for part in parts)

    def clean(self, value: Any) -> list[dict[str, str]]:
        pieces = [piece.split() for piece in str(super().clean(value)).split(";") if piece.strip()]
        jacks = [self._jack(piece) for piece in pieces]
        names = [jack["name"].casefold() for jack in jacks]
        if len(set(names)) < len(names):
            raise ValidationError(_("Two jacks have the same name; capitals do not tell them apart."))
        return jacks

    def _jack(self, piece: list[str]) -> dict[str, str]:
        name, role, level = (*piece, "", "")[:3]
        if len(piece) > 3 or role not in self.roles or (level and level not in words.LEVELS):
            raise ValidationError(
                _now(
                    "“%(piece)s” is no jack; write its name, its role (%(roles)s) and, if known, "
                    "%(levels)s level."
                )
                % {
                    "piece": " ".join(piece)[:60],
                    "roles": ", ".join(self.roles),
                    "levels": _now(" or ").join(words.LEVELS),
                }
            )
        if "." in name or len(name) > 20:
            raise ValidationError(_now("A jack's name is one word of at most 20 letters without a point."))
        return {"name": name, "role": role} | ({"level": level} if level else {})


class DecimalField(forms.DecimalField):
    """A decimal from zero on; None where nobody recorded it."""

    def __init__(self, *, unit: str = "", **options: Any) -> None:
        options = {"required": False, "min_value": 0, "max_digits": 12} | options
        super().__init__(widget=decimal_input(), **options)
        self.unit = unit

    def to_python(self, value: Any) -> Any:
        return super().to_python(value.replace(",", ".") if isinstance(value, str) else value)


class SourceForm(EditForm):
    """An instrument: its pickup and pots, or an active one's output."""

    ref = RefField(help_text=_("Blank = the next free G."))
    pickup_r = amount(_("Pickup resistance"), amounts.parse_ohms, "ohm")
    pickup_l = DecimalField(label=_("Pickup inductance"), decimal_places=6, unit="H")
    pickup_c = amount(_("Pickup capacitance"), amounts.parse_picofarads, "pF")
    volume_ohm = amount(_("Volume pot"), amounts.parse_ohms, "ohm", help_text=_("As 250k or 1M."))
    tone_ohm = amount(_("Tone pot"), amounts.parse_ohms, "ohm")
    tone_nf = DecimalField(label=_("Tone capacitor"), decimal_places=4, unit="nF")
    output_ohm = amount(_("Output of an active one"), amounts.parse_ohms, "ohm")


class AmpForm(EditForm):
    ref = RefField(help_text=_("Blank = the next free A."))
    input_ohm = amount(_("Input"), amounts.parse_ohms, "ohm", help_text=_("As 470k or 1M."))
    input_pf = amount(_("Input capacitance"), amounts.parse_picofarads, "pF")
    protection_class = WordField(words.PROTECTION_CLASSES, label=_("Protection class"), blank=None)
    earthed = FlagField(label=_("Earthed"), help_text=_("Not recorded = as its class says."))
    speaker = WordField(words.SPEAKERS, label=_("Speaker"))
    jacks = JacksField(
        label=_("Jacks"),
        help_text=_(
            "Blank = one input called IN. Else as: IN in instrument; SEND send line; RETURN return line."
        ),
    )


class ComputerForm(EditForm):
    ref = RefField(help_text=_("Blank = the next free M."))
    earthed = FlagField(label=_("Earthed"))
    jacks = JacksField(
        label=_("Jacks"),
        roles=("usb", "midi-in", "midi-out"),
        help_text=_("As: USB usb; MIDI midi-out."),
    )


class AddSupplyForm(EditForm):
    """A supply of the shop's models, or one physical unit of them."""

    gear = forms.ChoiceField(label=_("Supply"))
    ref = RefField(help_text=_("Blank = the next free S."))

    def __init__(self, data: Any = None, *, key: str, gear: Choices, **options: Any) -> None:
        super().__init__(data, key=key, **options)
        field = self.fields["gear"]
        assert isinstance(field, forms.ChoiceField)
        field.choices = [("", _("choose one")), *gear]
