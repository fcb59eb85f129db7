"""Made cables as forms: what one is, how it was found, where it goes."""

from __future__ import annotations

from datetime import date
from typing import Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from boardshop.boards.models import Board
from boardshop.core.cables import register_words as words
from boardshop.crew.models import Shop
from boardshop.crew.once import once_field
from boardshop.gear import amounts
from boardshop.gear.forms.fields import amount, long_text, size, text, word
from boardshop.gear.forms.shop_form import RecordForm, ShopForm, facts
from boardshop.gear.models import CableType, MadeCable, PlugType
from boardshop.gear.records import MadeCableRecord

PLACES = (("spare", _("spare")), ("bench", _("bench")))


class DayField(forms.DateField):
    """A day that is not still to come."""

    def __init__(self, **options: Any) -> None:
        super().__init__(
            widget=forms.DateInput({"type": "date"}, format="%Y-%m-%d"),
            error_messages={"invalid": _("Write the day as year-month-day, such as 2026-03-01.")},
            **options,
        )

    def clean(self, value: Any) -> date | None:
        day: date | None = super().clean(value)
        if day is not None and day > timezone.localdate():
            raise forms.ValidationError(gettext("This day is still to come; write the day on which it was."))
        if day is not None and day.year < 1950:
            raise forms.ValidationError(
                gettext("This is before 1950; look for a slipped figure in the year.")
            )
        return day


def check_made_before(cable: MadeCable, on: date) -> date:
    """A day on which a cable was tested or at fault: not one before it was made."""
    if cable.made_on is not None and on < cable.made_on:
        words = {"id": cable.code, "made": cable.made_on}
        said = gettext("%(id)s was made on %(made)s, after this day; correct the day here, or its “Made on”.")
        raise forms.ValidationError(said % words)
    return on


class MadeCableForm(RecordForm):
    kind = word(_("Kind"), words.CABLE_KINDS, needed=True)
    length = size(_("Cut length"), required=True, help_text=_("With what lies inside both plugs."))
    cable = forms.ChoiceField(label=_("Cable type"), required=False)
    plug_a = forms.ChoiceField(label=_("Plug at A"), required=False)
    plug_b = forms.ChoiceField(label=_("Plug at B"), required=False)
    reel = text(_("Reel"), 40, help_text=_("The tag on what it was cut from."))
    made_by = text(_("Made by"), 80)
    made_on = DayField(label=_("Made on"), required=False)
    place = forms.ChoiceField(label=_("Where it is"), choices=PLACES)
    where = text(_("Place in words"), 200, help_text=_("Such as “case 2, left drawer”."))
    note = long_text(_("Note"))

    def __init__(self, data: Any = None, **options: Any) -> None:
        super().__init__(data, **options)
        plugs = PlugType.objects.filter(shop=self.shop).values_list("name", flat=True)
        cables = CableType.objects.filter(shop=self.shop).values_list("name", flat=True)
        for name, offered in (("cable", cables), ("plug_a", plugs), ("plug_b", plugs)):
            field = self.fields[name]
            assert isinstance(field, forms.ChoiceField)
            field.choices = [("", gettext("not recorded")), *((one, one) for one in offered)]

    def record(self) -> MadeCableRecord:
        names = ("kind", "length", "cable", "plug_a", "plug_b", "reel", "made_by", "made_on")
        return MadeCableRecord(**facts(self.cleaned_data, (*names, "place", "where", "note")))


class FaultForm(ShopForm):
    """A fault as it was met on the road or at the bench."""

    once = once_field()
    on = DayField(label=_("On"))
    show = amount(_("Show number"), amounts.parse_whole, help_text=_("Where shows are counted."))
    symptom = text(_("Symptom"), 200, required=True)
    end = word(_("Where on the cable"), words.CABLE_ENDS)
    cause = word(_("Cause"), words.FAULT_CAUSES)
    minutes_lost = amount(_("Minutes lost"), amounts.parse_whole)
    action = text(_("What was done"), 200)

    def __init__(self, data: Any = None, *, cable: MadeCable, **options: Any) -> None:
        super().__init__(data, shop=cable.shop, **options)
        self.cable = cable

    def clean_on(self) -> date:
        return check_made_before(self.cable, self.cleaned_data["on"])

    def clean_minutes_lost(self) -> int | None:
        """More than a day is no time that a cable cost."""
        minutes: int | None = self.cleaned_data["minutes_lost"]
        if minutes is not None and minutes > 24 * 60:
            raise forms.ValidationError(gettext("More than a day; write the minutes that were lost."))
        return minutes

    def fault(self) -> dict[str, Any]:
        return facts(self.cleaned_data, ("on", "show", "symptom", "end", "cause", "minutes_lost", "action"))


class ScrapForm(ShopForm):
    why = text(_("Why"), 200, required=True, help_text=_("Such as “core broken at B”."))


class FindCableForm(forms.Form):
    """What of the register is shown."""

    find = forms.CharField(required=False, max_length=100)
    place = forms.ChoiceField(required=False)
    type = forms.CharField(required=False, max_length=80)
    verdict = forms.ChoiceField(required=False)
    due = forms.ChoiceField(required=False)

    def __init__(self, data: Any = None, *, types: list[str]) -> None:
        super().__init__(data)
        everywhere = ("", gettext("in hand, anywhere"))
        places = [everywhere, *((p, gettext(p)) for p in ("board", "spare", "bench", "scrap"))]
        verdicts = [("", gettext("any")), *((v, gettext(v)) for v in ("passed", "failed", "incomplete"))]
        choices = {
            "place": (gettext("Where"), places),
            "type": (gettext("Cable type"), [("", gettext("any")), *((name, name) for name in types)]),
            "verdict": (gettext("Test"), [*verdicts, ("none", gettext("not tested"))]),
            "due": (gettext("Retest"), [("", gettext("any")), ("due", gettext("due"))]),
        }
        for name, (label, offered) in choices.items():
            self.fields[name] = forms.ChoiceField(label=label, choices=offered, required=False)

    def wanted(self) -> dict[str, str]:
        """By field; blank where nothing is wanted or what was asked for is not on the list."""
        self.is_valid()
        return {name: str(self.cleaned_data.get(name) or "").strip() for name in self.fields}


def board_choices(shop: Shop) -> list[tuple[str, str]]:
    """The shop's boards by code, in words."""
    rows = Board.objects.filter(shop=shop).order_by("name", "pk").values_list("code", "name")
    return [(code, f"{name} ({code})") for code, name in rows]
