"""What is tried of a board's tone: other cable, other lengths, buffers; an address says it all."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any
from urllib.parse import urlencode

from django import forms
from django.core.exceptions import ValidationError
from django.http import QueryDict
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from boardshop.core.index import fold, index_plan
from boardshop.core.lengths import show_length
from boardshop.core.plan import BoardPlan, CableType, Link
from boardshop.core.tone.trying import (
    BUFFER_OHM,
    BUFFER_OUTPUT_OHM,
    BUFFER_PF,
    AddedBuffer,
    OtherCable,
    OtherLength,
    ToneChange,
)
from boardshop.gear import amounts
from boardshop.gear.forms.asking_back import LONGEST_LEAD_MM
from boardshop.gear.forms.fields import amount, size

ALL, OF_LINK, LENGTH, BUFFER = "cable", "cable-", "length-", "buffer"
OF_BUFFER = {"buffer_ohm": BUFFER_OHM, "buffer_pf": BUFFER_PF, "buffer_output": BUFFER_OUTPUT_OHM}
MOST_BUFFERS, MOST_STRANGE = 12, 20


class TryToneForm(forms.Form):
    """Made for one plan: two fields for each signal link, and a box for each place a buffer can have.

    ``cables`` are the shop's types by their keys.  What an address names that is not on the board is left
    out and listed in ``strange``, since a shared address outlives what it is about.
    """

    use_required_attribute = False
    buffer = forms.MultipleChoiceField(label=_("A buffer"), required=False)
    buffer_ohm = amount(_("Its input"), amounts.parse_ohms, "ohm")
    buffer_pf = amount(_("Its input's capacitance"), amounts.parse_picofarads, "pF")
    buffer_output = amount(_("Its output"), amounts.parse_ohms, "ohm")

    def __init__(
        self, plan: BoardPlan, cables: Mapping[str, CableType], unit: str, data: QueryDict | None = None
    ) -> None:
        self.plan, self.cables, self.unit = plan, cables, unit
        self.links = [link for link in plan.links if link.carries == "signal"]
        self.strange: list[str] = []
        self._typed = self._known(data)
        super().__init__(self._typed, initial=OF_BUFFER, auto_id="try-%s")
        self._add_fields()

    @property
    def is_asked(self) -> bool:
        """Whether the address tries anything."""
        return self.is_bound and any(self._asked())

    @property
    def chosen_buffers(self) -> list[str]:
        return [] if self._typed is None else self._typed.getlist(BUFFER)

    @property
    def link_rows(self) -> list[tuple[Link, forms.BoundField, forms.BoundField]]:
        return [(link, self[OF_LINK + link.ref], self[LENGTH + link.ref]) for link in self.links]

    @property
    def has_link_values(self) -> bool:
        """Whether single links are tried, or one of their fields is wrong."""
        return any(name.startswith((OF_LINK, LENGTH)) for name, _value in self._asked())

    @property
    def address(self) -> str:
        """The query that says this and nothing blank, to be shared."""
        asked = list(self._asked())
        if any(name == BUFFER for name, _value in asked):
            asked += [
                (name, str(self.data.get(name)))
                for name, usual in OF_BUFFER.items()
                if self.cleaned_data.get(name, usual) != usual
            ]
        return urlencode(asked)

    def changes(self) -> list[ToneChange]:
        """In the order in which they are tried: all cables, single ones, lengths, buffers."""
        cleaned = self.cleaned_data
        changes: list[ToneChange] = []
        if cleaned[ALL]:
            changes.append(OtherCable(self.cables[cleaned[ALL]]))
        for link in self.links:
            if cleaned[OF_LINK + link.ref]:
                changes.append(OtherCable(self.cables[cleaned[OF_LINK + link.ref]], link.ref))
            if cleaned[LENGTH + link.ref] is not None:
                changes.append(OtherLength(link.ref, cleaned[LENGTH + link.ref]))
        values = [cleaned[name] for name in OF_BUFFER]
        return [*changes, *(AddedBuffer(ref, *values) for ref in cleaned[BUFFER])]

    def clean(self) -> dict[str, Any]:
        for link in self.links:
            mm = self.cleaned_data.get(LENGTH + link.ref)
            if mm is not None and mm > LONGEST_LEAD_MM:
                longest = show_length(LONGEST_LEAD_MM, self.unit)
                self.add_error(
                    LENGTH + link.ref,
                    gettext("No cable is longer than %(longest)s; check the unit.") % {"longest": longest},
                )
        return self.cleaned_data

    def clean_buffer(self) -> list[str]:
        chosen = list(self.cleaned_data["buffer"])
        if len(chosen) > MOST_BUFFERS:
            raise ValidationError(gettext("At most %(most)d buffers at once.") % {"most": MOST_BUFFERS})
        return chosen

    def clean_buffer_ohm(self) -> int:
        return self._above_zero("buffer_ohm")

    def clean_buffer_output(self) -> int:
        return self._above_zero("buffer_output")

    def clean_buffer_pf(self) -> int:
        value = self.cleaned_data["buffer_pf"]
        return BUFFER_PF if value is None else int(value)

    def _above_zero(self, name: str) -> int:
        value = self.cleaned_data[name]
        if value == 0:
            raise ValidationError(gettext("Above zero, please; leave it blank for the usual value."))
        return OF_BUFFER[name] if value is None else int(value)

    def _add_fields(self) -> None:
        types = [("", gettext("as it is")), *((key, _name_type(one)) for key, one in self.cables.items())]
        self.fields[ALL] = _choose(_("Every signal cable"), types)
        for link in self.links:
            self.fields[OF_LINK + link.ref] = _choose(gettext("Cable of %s") % link.ref, types)
            length = size(gettext("Length of %s") % link.ref)
            length.unit = self.unit
            self.fields[LENGTH + link.ref] = length
        field = self.fields[BUFFER]
        assert isinstance(field, forms.MultipleChoiceField)
        field.choices = [(ref, ref) for ref in list_places(self.plan)]

    def _asked(self) -> Iterable[tuple[str, str]]:
        """Names and values of all that is tried, as they were typed."""
        for name, values in [] if self._typed is None else self._typed.lists():
            if name in (ALL, BUFFER) or name.startswith((OF_LINK, LENGTH)):
                yield from ((name, value) for value in values if value.strip())

    def _known(self, data: QueryDict | None) -> QueryDict | None:
        """The address without what is not on the board, refs as the board writes them."""
        if not data:
            return None
        links = {fold(link.ref): link.ref for link in self.links}
        places = {fold(ref): ref for ref in list_places(self.plan)}
        known = QueryDict(mutable=True)
        for name, values in data.lists():
            prefix = next((one for one in (OF_LINK, LENGTH) if name.startswith(one)), "")
            ref = links.get(fold(name.removeprefix(prefix))) if prefix else None
            if name == BUFFER:
                known.setlist(name, dict.fromkeys(places[fold(v)] for v in values if fold(v) in places))
                self._leave_out(value for value in values if fold(value) not in places)
            elif prefix and ref is None:
                self._leave_out([name.removeprefix(prefix)] if any(v.strip() for v in values) else [])
            else:
                known.setlist(prefix + ref if ref else name, values[-1:])
        for name, usual in OF_BUFFER.items():
            known.setdefault(name, str(usual))
        return known

    def _leave_out(self, refs: Iterable[str]) -> None:
        named = dict.fromkeys((*self.strange, *(ref[:60] for ref in refs if ref)))
        self.strange = list(named)[:MOST_STRANGE]


def list_places(plan: BoardPlan) -> list[str]:
    """Refs behind which a buffer can stand: instruments first, then pedals with a linked output."""
    index = index_plan(plan)
    instruments = [one.ref for one in plan.sources if index.links_from.get(fold(f"{one.ref}.OUT"))]
    pedals = [
        pedal.ref
        for pedal in plan.pedals
        if any(
            jack.role == "out" and index.links_from.get(fold(f"{pedal.ref}.{jack.name}"))
            for jack in pedal.jacks
        )
    ]
    return [*instruments, *pedals]


def _choose(label: Any, choices: list[tuple[str, str]]) -> forms.ChoiceField:
    wrong = _("This is no cable of the shop any more; choose from the list.")
    return forms.ChoiceField(
        label=label, choices=choices, required=False, error_messages={"invalid_choice": wrong}
    )


def _name_type(cable: CableType) -> str:
    if cable.pf_per_m is None:
        return gettext("%(name)s, capacitance not recorded") % {"name": cable.name}
    return f"{cable.name}, {cable.pf_per_m} pF/m"
