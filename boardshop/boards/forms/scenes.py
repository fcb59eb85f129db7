"""What is typed and ticked about a scene."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from django import forms
from django.forms.boundfield import BoundField
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from boardshop.boards.forms.edits import EditForm
from boardshop.crew.plain_text import refuse_direction_signs

NORMAL, NOTHING = "normal", "nothing"
"""What a new scene begins with, besides a copy of one that is there."""
WAYS = {"earlier": -1, "later": 1}


@dataclass(frozen=True)
class ScenePedal:
    """A pedal to tick; `number` is its balloon's, None where the signal does not reach it."""

    ref: str
    name: str
    number: int | None
    unswitched: str
    """Why nobody switches it; blank where somebody does."""

    @property
    def label(self) -> str:
        named = f"{self.name} ({self.ref})" if self.name else self.ref
        if self.number is None:
            return _now("%(pedal)s, not wired") % {"pedal": named}
        return f"{self.number} {named}"

    @property
    def field(self) -> str:
        return f"on-{self.ref}"


def copy_of(pk: int) -> str:
    return f"scene-{pk}"


class NameField(forms.CharField):
    def __init__(self, **options: Any) -> None:
        super().__init__(
            label=_("Name"),
            max_length=80,
            validators=[refuse_direction_signs],
            widget=forms.TextInput({"autocomplete": "off"}),
            error_messages={"required": _("A scene needs a name, such as “verse” or the song’s.")},
            **options,
        )


class SceneForm(EditForm):
    """Its name, and a box for each pedal: ticked is engaged."""

    name = NameField()

    def __init__(self, data: Any = None, *, key: str, pedals: Sequence[ScenePedal], **options: Any) -> None:
        super().__init__(data, key=key, **options)
        self.pedals = pedals
        for pedal in pedals:
            self.fields[pedal.field] = forms.BooleanField(label=pedal.label, required=False)

    @property
    def boxes(self) -> list[BoundField]:
        return [self[pedal.field] for pedal in self.pedals]

    def engaged(self) -> list[str]:
        """The refs that are ticked."""
        return [pedal.ref for pedal in self.pedals if self.cleaned_data[pedal.field]]


class AddSceneForm(EditForm):
    """A new scene, and what is ticked in it at first."""

    name = NameField()
    begin = forms.ChoiceField(label=_("Begin with"), initial=NORMAL)

    def __init__(
        self, data: Any = None, *, key: str, scenes: Iterable[tuple[int, str]], **options: Any
    ) -> None:
        super().__init__(data, key=key, **options)
        field = self.fields["begin"]
        assert isinstance(field, forms.ChoiceField)
        field.choices = [
            (NORMAL, _("what is normally engaged")),
            (NOTHING, _("nothing ticked")),
            *((copy_of(pk), _now("a copy of “%(scene)s”") % {"scene": name}) for pk, name in scenes),
        ]


class MoveSceneForm(EditForm):
    """One place earlier or later."""

    way = forms.ChoiceField(choices=[(way, way) for way in WAYS], widget=forms.HiddenInput)

    @property
    def step(self) -> int:
        return WAYS[self.cleaned_data["way"]]
