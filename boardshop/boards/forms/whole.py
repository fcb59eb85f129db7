"""The board as a whole: name, owner, limits, venue; and its frame."""

from __future__ import annotations

from copy import deepcopy
from dataclasses import asdict, fields
from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from boardshop.boards.forms.edits import EditForm, WholeField
from boardshop.boards.forms.ends import DecimalField
from boardshop.boards.models import Board
from boardshop.core.lengths import length_figure
from boardshop.core.plan import Rules
from boardshop.core.vocabulary import SCHOOLS
from boardshop.crew.models import Client, Shop
from boardshop.crew.plain_text import refuse_direction_signs
from boardshop.gear import amounts
from boardshop.gear.forms.fields import from_zero, long_text, use_unit, volts
from boardshop.gear.forms.frames import PAIRS, WIDE, FrameForm
from boardshop.gear.records import FrameRecord

SCHOOL_WORDS = {
    "common": _("common: gate early, fuzz before wah, tremolo after reverb"),
    "dynamics-first": _("dynamics first: wah and pitch first, gate after drive, tremolo before delay"),
}


class SchoolForm(EditForm):
    """Which school the order is judged by."""

    school = forms.ChoiceField(choices=[(school, SCHOOL_WORDS[school]) for school in SCHOOLS])


LIMITS: dict[str, tuple[Any, str]] = {
    "headroom_percent": (_("Headroom kept on outlets"), "%"),
    "drop_percent": (_("Largest voltage drop"), "%"),
    "slack_percent": (_("Slack of a cut"), "%"),
    "slack_min_mm": (_("Least slack"), "mm"),
    "round_up_mm": (_("Cuts rounded up to"), "mm"),
    "kerf_mm": (_("Lost at each cut"), "mm"),
    "trim_mm": (_("Trimmed from an off-cut"), "mm"),
    "keep_offcut_mm": (_("Off-cuts kept from"), "mm"),
    "gap_mm": (_("Gap between bodies"), "mm"),
    "plug_gap_mm": (_("Gap around plugs"), "mm"),
    "under_gap_mm": (_("Gap above a supply underneath"), "mm"),
    "switch_gap_mm": (_("Foot switches apart"), "mm"),
    "switch_min_mm": (_("Foot switches never closer than"), "mm"),
    "reach_mm": (_("Depth in easy reach"), "mm"),
    "spare_percent": (_("Frame kept spare"), "%"),
    "pass_mm": (_("Cable for a pass through the frame"), "mm"),
    "bypass_pf": (_("Capacitance of a true bypass"), "pF"),
}
"""The whole-numbered limits with their words and units, in the order of the form."""

LIMIT_FIELDS = (*LIMITS, "together_from", "together_to", "contact_ohm")
NAMES = {field.name for field in fields(Rules)}


class BoardForm(EditForm):
    """Everything about a board but its frame and what is on it."""

    name = forms.CharField(label=_("Name"), max_length=80, validators=[refuse_direction_signs])
    client = forms.ModelChoiceField(
        label=_("Artist or customer"),
        queryset=Client.objects.none(),
        required=False,
        empty_label=_("nobody yet"),
    )
    note = long_text(_("Note"))
    venue_mv = volts(_("Mains where it is to run"), amounts.parse_volts)
    venue_hz = forms.TypedChoiceField(
        label=_("Mains frequency there"),
        coerce=int,
        empty_value=None,
        required=False,
        choices=[("", _("not recorded")), (50, "50 Hz"), (60, "60 Hz")],
    )
    venue_plug = forms.CharField(label=_("Mains plug there"), max_length=20, required=False)
    school = forms.ChoiceField(
        label=_("School of order"), choices=[(school, SCHOOL_WORDS[school]) for school in SCHOOLS]
    )
    together_from = from_zero(_("Switches pressed together, from"))
    together_to = from_zero(_("to"))
    contact_ohm = DecimalField(label=_("Contacts of a DC lead"), decimal_places=4, unit="ohm")

    def __init__(self, data: Any = None, *, shop: Shop, **options: Any) -> None:
        super().__init__(data, **options)
        clients = self.fields["client"]
        assert isinstance(clients, forms.ModelChoiceField)
        clients.queryset = Client.objects.filter(shop=shop)
        self.fields["school"].is_wide = True  # type: ignore[attr-defined]
        for name, (label, unit) in LIMITS.items():
            self.fields[name] = _limit_field(name, label, unit, shop.length_unit)
        use_unit(self, shop.length_unit)

    def clean(self) -> dict[str, Any]:
        typed = super().clean() or self.cleaned_data
        low, high = typed.get("together_from"), typed.get("together_to")
        if low is not None and high is not None and low > high:
            self.add_error("together_to", _("The distance ends below its start."))
        return typed

    def whole(self) -> list[forms.BoundField]:
        return [bound for bound in self.visible_fields() if bound.name not in LIMIT_FIELDS]

    def limits(self) -> list[forms.BoundField]:
        return [self[name] for name in LIMIT_FIELDS]

    def columns(self) -> dict[str, Any]:
        """The board's columns; of the rules only what differs from the usual, a blank is the usual."""
        typed, usual = self.cleaned_data, asdict(Rules())
        low, high = usual["together_mm"]
        rules = {name: typed[name] for name in LIMITS if typed[name] is not None}
        rules["school"] = typed["school"]
        rules["together_mm"] = (
            low if typed["together_from"] is None else typed["together_from"],
            high if typed["together_to"] is None else typed["together_to"],
        )
        if typed["contact_ohm"] is not None:
            rules["contact_ohm"] = float(typed["contact_ohm"])
        different = {
            name: list(v) if isinstance(v, tuple) else v for name, v in rules.items() if v != usual[name]
        }
        names = ("name", "client", "note", "venue_mv", "venue_hz", "venue_plug")
        return {**self.typed(*names), "rules": different}


def _limit_field(name: str, label: Any, unit: str, length_unit: str) -> forms.Field:
    """A length in the shop's unit, any other limit in its own."""
    usual = getattr(Rules(), name)
    words = _("usual: %(value)s")
    if unit == "mm":
        return from_zero(label, help_text=words % {"value": length_figure(usual, length_unit)})
    return WholeField(label=label, unit=unit, help_text=words % {"value": usual})


def board_values(board: Board) -> dict[str, Any]:
    """What the form shows at first; usual limits are shown as blanks."""
    rules = {name: value for name, value in board.rules.items() if name in NAMES}
    low, high = rules.pop("together_mm", (None, None))
    names = ("name", "client", "note", "venue_mv", "venue_hz", "venue_plug")
    columns = {name: getattr(board, name) for name in names}
    return {"school": "common", "together_from": low, "together_to": high} | rules | columns


class BoardFrameForm(EditForm):
    """The frame of one board: the fields of a frame in the catalogue, but for its maker and name."""

    LEFT_OUT = ("maker", "name", "seen", "once")

    def __init__(self, data: Any = None, *, unit: str, **options: Any) -> None:
        super().__init__(data, **options)
        for name, field in FrameForm.base_fields.items():
            if name not in self.LEFT_OUT:
                self.fields[name] = deepcopy(field)
        for name in WIDE:
            self.fields[name].is_wide = True  # type: ignore[attr-defined]
        use_unit(self, unit)

    def clean(self) -> dict[str, Any]:
        typed = super().clean() or self.cleaned_data
        for first, second in PAIRS:
            for name, other in ((first, second), (second, first)):
                if typed.get(name) is None and name not in self.errors and typed.get(other) is not None:
                    self.add_error(name, _now("Give both of the pair, or neither."))
        return typed

    def record(self, name: str) -> FrameRecord:
        return FrameRecord(name=name, **self.typed())
