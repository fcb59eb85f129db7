"""Feeds: which outlet powers which jack, through what."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from boardshop.boards.forms.edits import NOT_RECORDED, Choices, EditForm, OfferedField, WholeField, WordField
from boardshop.boards.forms.ends import DecimalField
from boardshop.boards.services.feeds import Chosen, FeedColumns, LeadColumns
from boardshop.core import vocabulary as words
from boardshop.core.boardfile.amounts import AWG
from boardshop.core.power.wire import awg_area_mm2
from boardshop.gear import amounts
from boardshop.gear.checks import is_one_gauge
from boardshop.gear.forms.fields import LengthField, use_unit, volts
from boardshop.gear.models import PlugType

NOTHING_CHOSEN = _("Choose an outlet.")


def write_choice(outlet: str, setting_mv: int | None) -> str:
    """An outlet at a setting as one value of a form: `S1.4@9000`."""
    return f"{outlet}@{'' if setting_mv is None else setting_mv}"


class OutletField(OfferedField):
    """`S1.4@9000`; whether the board has it and what it can be set to is the service's word."""

    def clean(self, value: Any) -> Chosen | None:
        text = str(super().clean(value) or "")
        if not text:
            return None
        found = re.fullmatch(r"([^.@\s]+\.[^@\s]+)@(\d{0,9})", text)
        if found is None:
            raise ValidationError(_("This is no outlet of the list; choose one of the list."))
        return Chosen(found[1], int(found[2]) if found[2] else None)


UNFED = "unfed"
"""The value that stands for no outlet at all."""


class GoalField(OutletField):
    """An outlet of the list, or `unfed`, which is read as None."""

    def clean(self, value: Any) -> Chosen | None:
        return None if value == UNFED else super().clean(value)


class MoveFeedForm(EditForm):
    """Where the plug of one power jack goes: one choice, made by hand, by drag or by keys."""

    outlet = GoalField(label=_("Outlet"), error_messages={"required": NOTHING_CHOSEN})

    def add_error(self, field: str | None, error: Any) -> None:
        """Whatever is wrong with the one choice stands beside it."""
        super().add_error(field or "outlet", error)

    def offer(self, outlets: Choices, blank: str) -> None:
        """``blank`` says what is, where none of the outlets is that; it is no choice where one is."""
        field = self.fields["outlet"]
        assert isinstance(field, OutletField)
        field.offer(outlets, blank=blank)
        if self["outlet"].value() and isinstance(field.widget, forms.Select):
            field.widget.choices = outlets


class FeedForm(EditForm):
    """One power jack's feed; the page offers the outlets with what the core says of each."""

    outlet = OutletField(label=_("Outlet"), error_messages={"required": NOTHING_CHOSEN})
    volts = volts(_("Other voltage"), amounts.parse_volts, help_text=_("For a variable outlet."))
    second = OutletField(label=_("Joined with"), required=False)
    adapters = forms.MultipleChoiceField(
        label=_("Adapters"),
        required=False,
        choices=[(a, a) for a in words.ADAPTERS],
        widget=forms.CheckboxSelectMultiple,
    )
    length = LengthField(label=_("Lead"), required=False, least=1)
    awg = WholeField(label=_("Conductor"), most=AWG.most, unit="AWG")
    mm2 = DecimalField(label=_("or"), decimal_places=4, max_digits=8, unit="mm²")
    connector = WordField(words.CONNECTORS, label=_("Lead's plug"), blank=_("as the outlet's"))
    plug = forms.ChoiceField(label=_("Plug type"), required=False)
    pinned = forms.BooleanField(label=_("pinned"), required=False)

    def __init__(
        self,
        data: Any = None,
        *,
        key: str,
        unit: str,
        plugs: dict[str, PlugType],
        **options: Any,
    ) -> None:
        super().__init__(data, key=key, **options)
        self.plugs = plugs
        use_unit(self, unit)
        plug = self.fields["plug"]
        assert isinstance(plug, forms.ChoiceField)
        plug.choices = [NOT_RECORDED, *((k, str(one)) for k, one in plugs.items())]

    def offer_second(self, outlets: Choices) -> None:
        second = self.fields["second"]
        assert isinstance(second, OutletField)
        second.offer(outlets, blank=_("none"))

    def clean(self) -> dict[str, Any]:
        typed = super().clean() or {}
        if {"parallel", "series"} <= set(typed.get("adapters") or ()):
            self.add_error("adapters", _("Two outlets are joined in parallel or in series; choose one."))
        awg, mm2 = typed.get("awg"), typed.get("mm2")
        if awg is not None and mm2 and not is_one_gauge(awg, mm2):
            said = _("AWG %(awg)s has %(area).3g mm², not %(mm2)s; write the one on the lead's jacket.")
            self.add_error("mm2", said % {"awg": awg, "area": awg_area_mm2(awg), "mm2": mm2.normalize()})
        return typed

    def columns(self) -> FeedColumns:
        typed = self.cleaned_data
        outlets = [typed["outlet"]] + ([typed["second"]] if typed["second"] else [])
        if typed["volts"] is not None:
            outlets = [Chosen(outlet.outlet, typed["volts"]) for outlet in outlets]
        return FeedColumns(
            outlets=outlets,
            adapters=typed["adapters"],
            pinned=typed["pinned"],
            lead=LeadColumns(
                length=typed["length"],
                awg=typed["awg"],
                mm2=_positive(typed["mm2"]),
                connector=typed["connector"],
                plug=self.plugs.get(typed["plug"]),
            ),
        )


def _positive(value: Decimal | None) -> Decimal | None:
    return value or None


class ChainForm(EditForm):
    """On whose lead this jack hangs as well: one of the jacks that it feeds."""

    onto = OfferedField(label=_("On the lead of"))

    def offer_leads(self, leads: Choices) -> None:
        field = self.fields["onto"]
        assert isinstance(field, OfferedField)
        field.offer(leads)
