"""A frame model as a form; rails, tiers, what is kept free and what stands under the top are typed in the
compact notation.
"""

from typing import Any

from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from boardshop.core import vocabulary as words
from boardshop.gear import amounts
from boardshop.gear.forms.fields import ExactLengthField, InUnitField, amount, from_zero, size, text, word
from boardshop.gear.forms.shop_form import RecordForm, facts
from boardshop.gear.notation.bands import (
    USUAL_KEEPOUTS,
    USUAL_MEMBERS,
    USUAL_RAILS,
    USUAL_TIERS,
    read_keepouts,
    read_members,
    read_rails,
    read_tiers,
    show_keepouts,
    show_members,
    show_rails,
    show_tiers,
)
from boardshop.gear.records import FrameRecord
from boardshop.gear.shelves import FRAME_FACTS

PAIRS = (("under_front", "under_rear"), ("entry_x", "entry_y"), ("exit_x", "exit_y"))
WIDE = ("rails", "tiers", "keepouts", "members")
"""Lists in the compact notation, which take a whole line."""


class FrameForm(RecordForm):
    maker = text(_("Maker"), 80)
    name = text(_("Name"), 80, required=True)
    width = size(_("Width"), required=True, help_text=_("From the player's left to right."))
    depth = size(
        _("Depth"), required=True, help_text=_("From the front edge, nearest the player, to the rear.")
    )
    surface = word(_("Surface"), words.SURFACES, needed=True, initial="slotted")
    weight = amount(_("Weight"), amounts.parse_grams, "g")
    lid = size(_("Free height under the lid"))
    plate_thickness = size(
        _("Thickness of the plate"), help_text=_("What a pedal's bottom screws pass through.")
    )
    under_front = ExactLengthField(label=_("Free height under the front edge"), required=False)
    under_rear = ExactLengthField(label=_("Free height under the rear edge"), required=False)
    rails = InUnitField(
        label=_("Rails"),
        read_in=read_rails,
        show_in=show_rails,
        blank=(),
        hint=_("Bands that carry pedals, from the front edge: %(example)s."),
        example=USUAL_RAILS,
    )
    tiers = InUnitField(
        label=_("Tiers"),
        read_in=read_tiers,
        show_in=show_tiers,
        blank=(),
        hint=_("%(example)s. Blank = one level."),
        example=USUAL_TIERS,
    )
    keepouts = InUnitField(
        label=_("Kept free"),
        read_in=read_keepouts,
        show_in=show_keepouts,
        blank=(),
        hint=_("Width x depth at x and y, and why: %(example)s."),
        example=USUAL_KEEPOUTS,
    )
    members = InUnitField(
        label=_("Under the top"),
        read_in=read_members,
        show_in=show_members,
        blank=(),
        hint=_("Crossbars, legs, brackets: width x depth at x and y, and what it is: %(example)s."),
        example=USUAL_MEMBERS,
    )
    entry_x = from_zero(_("Lead arrives at x"), help_text=_("Blank = the rear right corner."))
    entry_y = from_zero(_("Lead arrives at y"))
    exit_x = from_zero(_("Lead leaves at x"), help_text=_("Blank = the rear left corner."))
    exit_y = from_zero(_("Lead leaves at y"))

    def __init__(self, data: Any = None, **options: Any) -> None:
        super().__init__(data, **options)
        for name in WIDE:
            self.fields[name].is_wide = True  # type: ignore[attr-defined]

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        for first, second in PAIRS:
            for name, other in ((first, second), (second, first)):
                if cleaned.get(name) is None and name not in self.errors and cleaned.get(other) is not None:
                    self.add_error(name, gettext("Give both of the pair, or neither."))
        return cleaned

    def record(self) -> FrameRecord:
        names = (*FRAME_FACTS, "under_front", "under_rear", *WIDE)
        return FrameRecord(**facts(self.cleaned_data, names))
