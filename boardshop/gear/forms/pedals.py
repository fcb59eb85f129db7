"""A pedal's data sheet as a form: box, jacks, foot switches, power jacks."""

from collections.abc import Mapping
from dataclasses import asdict
from typing import Any, cast

from django import forms
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from boardshop.core import plan as core
from boardshop.core import vocabulary as words
from boardshop.gear import amounts
from boardshop.gear.checks import least_above_most
from boardshop.gear.forms.fields import amount, flag, from_zero, long_text, size, text, volts, word
from boardshop.gear.forms.rows import RowForm
from boardshop.gear.forms.sheets import SheetForms
from boardshop.gear.forms.shop_form import RecordForm, facts
from boardshop.gear.models import PedalModel
from boardshop.gear.notation.jacks import check_name
from boardshop.gear.notation.scanning import NotationError
from boardshop.gear.records import USUAL_JACKS, PedalRecord
from boardshop.gear.services import change_pedal_model
from boardshop.gear.shelves import PEDAL_FACTS


class PedalForm(RecordForm):
    maker = text(_("Maker"), 80)
    name = text(_("Name"), 80, required=True)
    kind = word(_("Kind"), words.KINDS, needed=True)
    role = word(_("Role"), words.ROLES, help_text=_("Where the kind stands in several places of the order."))
    width = size(_("Width"), required=True, help_text=_("Along the player's feet, unturned."))
    depth = size(_("Depth"), required=True)
    height = size(_("Height"))
    weight = amount(_("Weight"), amounts.parse_grams, "g")
    bypass = word(_("Bypass"), words.BYPASSES)
    circuit = word(_("Circuit"), words.CIRCUITS)
    level = word(_("Level"), words.LEVELS)
    input_ohm = amount(_("Input"), amounts.parse_ohms, "ohm")
    input_pf = amount(_("Input capacitance"), amounts.parse_picofarads, "pF", blank=0)
    output_ohm = amount(_("Output"), amounts.parse_ohms, "ohm")
    tracker = word(_("Follows notes"), words.TRACKERS, help_text=_("How a pedal that follows pitch tracks."))
    inverts = flag(_("Inverts the signal"))
    kills_dry = flag(_("Dry signal off"))
    tails = flag(_("Keeps tails"))
    latency_ms = amount(_("Latency"), amounts.parse_milliseconds, "ms")
    treadle = flag(_("Treadle"))
    toe_height = size(_("Height, toe up"), help_text=_("Of a treadle as it is parked under the lid."))
    screw_length = size(_("Bottom screws"), help_text=_("Length of those that hold its bottom plate."))
    battery = flag(_("Battery is its only source"))
    turns = forms.TypedMultipleChoiceField(
        label=_("Allowed turns"),
        choices=[(turn, f"{turn}°") for turn in words.TURNS],
        coerce=int,
        initial=[0],
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": _("Allow at least one turn; 0° is the pedal as the player reads it.")},
    )
    note = long_text(_("Note"))


class NamedRow(RowForm):
    name = text(_("Name"), 20, required=True)

    def clean_name(self) -> str:
        try:
            check_name(self.cleaned_data["name"])
        except NotationError as error:
            raise forms.ValidationError(str(error)) from error
        return str(self.cleaned_data["name"])


class JackRow(NamedRow):
    role = word(_("Role"), words.JACK_ROLES, needed=True)
    side = word(_("Side"), words.SIDES)
    offset = from_zero(_("Offset"), help_text=_("Along its side, from the left or the front corner."))
    height = from_zero(_("Height"))
    connector = word(_("Connector"), words.CONNECTORS)
    channels = word(_("Channels"), words.CHANNELS)


class SwitchRow(RowForm):
    x = from_zero(_("x from the left"))
    y = from_zero(_("y from the front"))

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        for name, other in (("x", "y"), ("y", "x")):
            if cleaned.get(name) is None and name not in self.errors and cleaned.get(other) is not None:
                self.add_error(name, gettext("A foot switch needs both x and y, or neither."))
        return cleaned


class PowerRow(NamedRow):
    name = text(_("Name"), 20, required=True)
    current = word(_("Kind of current"), words.CURRENTS)
    nominal = volts(_("Volts"), amounts.parse_volts)
    min = volts(_("Least"), amounts.parse_volts)
    max = volts(_("Most"), amounts.parse_volts)
    polarity = word(_("Plug polarity"), words.POLARITIES)
    ground_pole = word(
        _("Ground pole"), words.GROUND_POLES, help_text=_("The pole its audio ground is tied to.")
    )
    connector = word(_("Connector"), words.CONNECTORS)
    rated = amount(_("Current"), amounts.parse_milliamps, "mA")
    peak = amount(_("Peak"), amounts.parse_milliamps, "mA")
    sag = flag(_("May be starved"), help_text=_("Runs on less voltage on purpose."))
    share = word(_("Shares an outlet"), words.SHARES)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        if least_above_most(core.PowerJack(min=cleaned.get("min"), max=cleaned.get("max"))):
            self.add_error("max", gettext("The most is below the least; swap the two."))
        return cleaned


class PedalSheet(SheetForms[PedalRecord]):
    form_class = PedalForm
    row_classes = {"jacks": JackRow, "switches": SwitchRow, "power": PowerRow}

    def rows_of(self, record: PedalRecord | None) -> Mapping[str, list[dict[str, Any]]]:
        if record is None:
            # A power jack of which nothing is known is reported; a missing one would pass as "needs none".
            jacks = [{"name": jack.name, "role": jack.role} for jack in USUAL_JACKS]
            return {"jacks": jacks, "switches": [{}], "power": [{"name": "DC"}]}
        return {
            "jacks": [asdict(jack) | {"was": jack.name} for jack in record.jacks],
            "switches": [asdict(at) for at in record.switches],
            "power": [asdict(jack) | {"was": jack.name} for jack in record.power],
        }

    def change(self, model: PedalModel) -> PedalModel:
        return change_pedal_model(
            model,
            self.record(),
            seen=self.seen,
            renamed_jacks=self.rows["jacks"].renamed(),
            renamed_power=self.rows["power"].renamed(),
        )

    def record(self) -> PedalRecord:
        cleaned = self.form.cleaned_data
        return PedalRecord(
            **facts(cleaned, PEDAL_FACTS),
            latency_ms=cleaned["latency_ms"],
            turns=tuple(cast("list[int]", cleaned["turns"])),
            jacks=tuple(core.Jack(**unknown_words(row)) for row in self.cleaned_rows("jacks")),
            switches=tuple(
                core.Point(**row) for row in self.cleaned_rows("switches") if row["x"] is not None
            ),
            power=tuple(core.PowerJack(**unknown_words(row)) for row in self.cleaned_rows("power")),
        )


def unknown_words(row: dict[str, Any]) -> dict[str, Any]:
    """In the core's values a word that nobody recorded is None."""
    return {name: None if value == "" else value for name, value in row.items()}
