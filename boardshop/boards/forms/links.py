"""Links: from which jack to which, with what cable, which way."""

from __future__ import annotations

from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext_lazy as _

from boardshop.boards.forms.edits import NOT_RECORDED, Choices, EditForm, OfferedField
from boardshop.boards.forms.pedals import RefField
from boardshop.core import vocabulary as words
from boardshop.gear.forms.asking_back import (
    CONFIRMED,
    LONGEST_LEAD_MM,
    LONGEST_MADE_MM,
    AsksBack,
    confirmation,
)
from boardshop.gear.forms.fields import LengthField, use_unit
from boardshop.gear.models import CableType, PlugType


class LinkForm(AsksBack, EditForm):
    """A link of the board; `cables` and `plugs` are the shop's, by key."""

    longest: ClassVar = {"length": LONGEST_LEAD_MM, "made": LONGEST_MADE_MM}

    source = OfferedField(label=_("From"))
    target = OfferedField(label=_("To"))
    cable = forms.ChoiceField(label=_("Cable"), required=False)
    plug_from = forms.ChoiceField(label=_("Plug at its start"), required=False)
    plug_to = forms.ChoiceField(label=_("Plug at its end"), required=False)
    route = forms.ChoiceField(label=_("Route"), choices=[(r, r) for r in words.ROUTES], required=False)
    length = LengthField(label=_("Given length"), required=False, least=1)
    made = LengthField(label=_("Made, cut length"), required=False, least=1)
    lengths_are_right = confirmation()
    screen = forms.ChoiceField(label=_("Screen"), choices=[(s, s) for s in words.SCREENS], required=False)

    def __init__(
        self,
        data: Any = None,
        *,
        key: str,
        unit: str,
        cables: dict[str, CableType],
        plugs: dict[str, PlugType],
        **options: Any,
    ) -> None:
        super().__init__(data, key=key, **options)
        self.cables, self.plugs = cables, plugs
        use_unit(self, unit)
        self.keep_confirmed()
        for name, choices in (
            ("cable", [NOT_RECORDED, *((k, str(one)) for k, one in cables.items())]),
            ("plug_from", [NOT_RECORDED, *((k, str(one)) for k, one in plugs.items())]),
            ("plug_to", [NOT_RECORDED, *((k, str(one)) for k, one in plugs.items())]),
        ):
            field = self.fields[name]
            assert isinstance(field, forms.ChoiceField)
            field.choices = choices

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        self.ask_about_lengths(cleaned)
        return cleaned

    def visible_fields(self) -> list[forms.BoundField]:
        """The tick stands there only after the question."""
        return [bound for bound in super().visible_fields() if bound.name != CONFIRMED or self.is_asked()]

    def offer_ends(self, starts: Choices, ends: Choices) -> None:
        for name, choices in (("source", starts), ("target", ends)):
            field = self.fields[name]
            assert isinstance(field, OfferedField)
            field.offer(choices)

    def ends(self) -> tuple[str, str]:
        return self.cleaned_data["source"], self.cleaned_data["target"]

    def columns(self) -> dict[str, Any]:
        """What the services take besides the two ends."""
        typed = self.cleaned_data
        return {
            "cable": self.cables.get(typed["cable"]),
            "plug_from": self.plugs.get(typed["plug_from"]),
            "plug_to": self.plugs.get(typed["plug_to"]),
            "route": typed["route"] or "top",
            "length": typed["length"],
            "made": typed["made"],
            "screen": typed["screen"] or "joined",
        }


class ConnectForm(LinkForm):
    """A new link."""

    ref = RefField(help_text=_("Blank = the next free W."))

    def columns(self) -> dict[str, Any]:
        return {"ref": self.cleaned_data["ref"], **super().columns()}
