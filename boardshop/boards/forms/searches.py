"""What a search for a layout is asked: what to place, how long, who stays, what room to keep."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from boardshop.boards.forms.edits import EditForm, WholeField
from boardshop.boards.models import LayoutSearch
from boardshop.boards.services.searches import Asked
from boardshop.core.placing import Wishes
from boardshop.core.plan import BoardPlan, Pedal
from boardshop.gear.forms.fields import LengthField, use_unit

Wanted = LayoutSearch.Wanted
KEY = "start-search"
SECONDS = (
    (5, _("short, about 5 s")),
    (20, _("longer, about 20 s")),
    (60, _("long, about a minute")),
)
"""How much work; a busy machine takes longer for the same."""
ON_THIS_FRAME = (
    (Wanted.ALL, _("Place all pedals anew")),
    (Wanted.FINISH, _("Finish it: only pedals without a place")),
    (Wanted.ROOM, _("Make room for one pedal, moving the others as little as possible")),
)
MOST_SEED = 9999
FURTHER = ("reserve_width", "reserve_depth", "staying", "seed")


class StartSearchForm(EditForm):
    """`is_frames` asks for a frame of the catalogue instead of places on the board's own."""

    wanted = forms.ChoiceField(label=_("What to do"), choices=ON_THIS_FRAME, widget=forms.RadioSelect)
    room_for = forms.ChoiceField(label=_("Make room for"), required=False)
    seconds = forms.TypedChoiceField(label=_("How long"), coerce=int, choices=SECONDS)
    reserve_width = LengthField(label=_("Keep free for a later pedal, width"), required=False, least=1)
    reserve_depth = LengthField(label=_("and depth"), required=False, least=1)
    staying = forms.MultipleChoiceField(
        label=_("Stay where they are"),
        required=False,
        widget=forms.CheckboxSelectMultiple,
        help_text=_("Pinned pedals stay anyway."),
    )
    seed = WholeField(
        label=_("Start number"),
        most=MOST_SEED,
        help_text=_("Another number may lead to other answers; the same number to the same."),
    )
    anyway = forms.BooleanField(required=False, widget=forms.HiddenInput)

    def __init__(
        self, data: Any = None, *, plan: BoardPlan, unit: str, is_frames: bool = False, **options: Any
    ) -> None:
        super().__init__(data, key=KEY, **options)
        self.is_frames = is_frames
        placed = [pedal for pedal in plan.pedals if pedal.place is not None]
        _choices(self.fields["room_for"]).choices = [("", _("choose one")), *map(_choice, plan.pedals)]
        _choices(self.fields["staying"]).choices = [_choice(one) for one in placed if not one.pinned]
        if is_frames:
            # The board's places mean nothing on another frame.
            for name in ("wanted", "room_for", "staying"):
                del self.fields[name]
        elif not _choices(self.fields["staying"]).choices:
            del self.fields["staying"]
        use_unit(self, unit)

    @property
    def has_further(self) -> bool:
        """Whether more was typed, rightly or wrongly, than what is wanted and for how long."""
        return self.is_bound and any(self.data.get(name) for name in FURTHER)

    def clean_reserve_depth(self) -> int | None:
        width: int | None = self.cleaned_data.get("reserve_width")
        depth: int | None = self.cleaned_data["reserve_depth"]
        if "reserve_width" not in self.errors and (width is None) != (depth is None):
            raise ValidationError(_("Room to keep needs both width and depth, or neither."))
        return depth

    def clean_room_for(self) -> str:
        ref = str(self.cleaned_data["room_for"])
        if not ref and self.cleaned_data.get("wanted") == Wanted.ROOM:
            raise ValidationError(_("Choose the pedal to make room for."))
        return ref

    def asked(self) -> Asked:
        """What the service takes."""
        typed = self.cleaned_data
        width, depth = typed["reserve_width"], typed["reserve_depth"]
        wishes = Wishes(
            seconds=typed["seconds"],
            seed=typed["seed"] or 0,
            staying=tuple(typed.get("staying", ())),
            reserved=((width, depth),) if width else (),
        )
        wanted = Wanted.FRAMES if self.is_frames else typed["wanted"]
        ref = typed["room_for"] if wanted == Wanted.ROOM else ""
        return Asked(wanted, wishes, ref, typed["anyway"])


class TakeLayoutForm(EditForm):
    """Which answer: the number of a placing, `c` and the number of a cure, or `best` for the best so far."""

    answer = forms.RegexField(r"\A(?:[1-9]|c[1-9][0-9]?|best)\Z", label=_("Layout"), widget=forms.HiddenInput)


def _choices(field: forms.Field) -> forms.ChoiceField:
    assert isinstance(field, forms.ChoiceField)
    return field


def _choice(pedal: Pedal) -> tuple[str, str]:
    return pedal.ref, f"{pedal.name or pedal.kind} ({pedal.ref})"
