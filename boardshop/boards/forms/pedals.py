"""Pedals of a board: which one, how it is played, where it lies."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from boardshop.boards.errors import PlaceTooFar
from boardshop.boards.forms.edits import Choices, EditForm, FlagField, WholeField, WordField
from boardshop.boards.models import Placement
from boardshop.core import vocabulary as words
from boardshop.gear import amounts
from boardshop.gear.forms.fields import LengthField, amount, use_unit
from boardshop.gear.models import PedalModel, Unit

ENGAGED, BYPASSED = _("engaged"), _("bypassed")
OF_ANOTHER_UNIT = _("Save the other pedal first; its own measured draws are shown then and can be changed.")
FARTHEST_MM = 1_000_000
"""Of a place from the frame's corner; no frame is a kilometre long."""
REF = {"autocomplete": "off", "autocapitalize": "characters", "size": "5"}


class RefField(forms.CharField):
    def __init__(self, **options: Any) -> None:
        options = {"required": False} | options
        super().__init__(label=_("Ref"), max_length=40, widget=forms.TextInput(REF), **options)


class PlayForm(EditForm):
    """How a pedal is played: the columns of its row on the order page."""

    role = WordField(words.ROLES, label=_("Role"), blank=_("as usual"))
    on = FlagField(label=_("Normally"), yes=ENGAGED, no=BYPASSED)
    use = forms.TypedChoiceField(label=_("Stepped on"), coerce=int, choices=[(n, str(n)) for n in range(6)])


class AddPedalForm(EditForm):
    """A pedal of the shop's models, or one physical unit of them."""

    gear = forms.ChoiceField(label=_("Pedal"))
    ref = RefField(help_text=_("Blank = the next free P."))

    def __init__(self, data: Any = None, *, key: str, gear: Choices, **options: Any) -> None:
        super().__init__(data, key=key, **options)
        field = self.fields["gear"]
        assert isinstance(field, forms.ChoiceField)
        field.choices = [("", _("choose one")), *gear]


class PedalForm(AddPedalForm):
    """Everything about one pedal of the board but its place and wiring."""

    ref = RefField(required=True)
    role = WordField(words.ROLES, label=_("Role"), blank=_("as the data sheet says"))
    on = FlagField(label=_("Normally"), yes=ENGAGED, no=BYPASSED)
    use = WholeField(label=_("Stepped on, 0 to 5"), most=5, help_text=_("How often; 5 = in every song."))
    turns = forms.TypedMultipleChoiceField(
        label=_("Allowed turns"),
        coerce=int,
        required=False,
        choices=[(turn, f"{turn}°") for turn in words.TURNS],
        widget=forms.CheckboxSelectMultiple,
        help_text=_("None ticked = as the data sheet says."),
    )
    together = forms.MultipleChoiceField(
        label=_("Stepped on together with"), required=False, widget=forms.CheckboxSelectMultiple
    )
    settings = forms.CharField(
        label=_("Knob settings"), required=False, max_length=4000, widget=forms.Textarea({"rows": 3})
    )

    def __init__(
        self,
        data: Any = None,
        *,
        pedals: Mapping[str, tuple[PedalModel, Unit | None]],
        others: Mapping[str, Placement],
        jacks: list[str],
        **options: Any,
    ) -> None:
        super().__init__(data, **options)
        self.pedals, self.others, self.jacks = pedals, others, jacks
        for name in ("gear", "together", "settings"):
            self.fields[name].is_wide = True  # type: ignore[attr-defined]
        together = self.fields["together"]
        assert isinstance(together, forms.MultipleChoiceField)
        together.choices = [(ref, f"{other.model} ({ref})") for ref, other in others.items()]
        for number, jack in enumerate(jacks):
            self.fields[f"measured{number}"] = amount(
                _("Measured at %(jack)s") % {"jack": jack},
                amounts.parse_milliamps,
                "mA",
                help_text=_("On this unit; a measured draw goes before the rated one."),
            )

    def clean(self) -> dict[str, Any]:
        """What is typed as measured is the present unit's, so it cannot come with the choice of another."""
        typed = super().clean() or {}
        if typed.get("gear", self.initial["gear"]) != self.initial["gear"]:
            for name in (f"measured{n}" for n in range(len(self.jacks))):
                if typed.get(name) is not None and typed[name] != self.initial[name]:
                    self.add_error(name, OF_ANOTHER_UNIT)
        return typed

    def columns(self) -> dict[str, Any]:
        """What the service takes."""
        typed = self.cleaned_data
        model, unit = self.pedals[typed["gear"]]
        return {
            "model": model,
            "unit": unit,
            "together": [self.others[ref] for ref in typed["together"]],
            "draws": {jack: typed[f"measured{n}"] for n, jack in enumerate(self.jacks)},
            "turns": typed["turns"] or None,
            **self.typed("ref", "role", "on", "use", "settings"),
        }


class PlaceForm(EditForm):
    """Where a pedal lies: the front left corner of its turned box."""

    x = LengthField(label=_("x"), required=False)
    y = LengthField(label=_("y"), required=False)
    turn = forms.TypedChoiceField(
        label=_("Turn"),
        coerce=int,
        choices=[(t, f"{t}°") for t in words.TURNS],
    )
    pinned = forms.BooleanField(label=_("pinned"), required=False)

    def __init__(self, data: Any = None, *, key: str, unit: str, **options: Any) -> None:
        super().__init__(data, key=key, **options)
        use_unit(self, unit)

    def clean_x(self) -> int | None:
        return _refuse_far(self.cleaned_data["x"])

    def clean_y(self) -> int | None:
        return _refuse_far(self.cleaned_data["y"])


def _refuse_far(mm: int | None) -> int | None:
    if mm is not None and mm > FARTHEST_MM:
        raise forms.ValidationError(str(PlaceTooFar()))
    return mm


class PlaceSupplyForm(PlaceForm):
    """Where a supply sits, and on which side of the frame's top."""

    pinned = None  # type: ignore[assignment]
    under = forms.BooleanField(label=_("under the frame"), required=False)
