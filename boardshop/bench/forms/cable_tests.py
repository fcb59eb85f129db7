"""The readings of one made cable as a form: only those that its kind has, each with its limit beside it."""

from __future__ import annotations

from datetime import date
from typing import Any

from django import forms
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from boardshop.bench.forms.made_cables import DayField, check_made_before
from boardshop.bench.readings import PARSERS
from boardshop.core.cables.limits import BenchTest, list_tests
from boardshop.core.cables.testing import OVER, Reading, judge_test
from boardshop.crew.once import once_field
from boardshop.gear import amounts
from boardshop.gear.forms.fields import ReadField, amount, text
from boardshop.gear.forms.shop_form import ShopForm
from boardshop.gear.made_cables import made_as
from boardshop.gear.models import MadeCable


class TestForm(ShopForm):
    """One field for each of core's tests of this kind of cable; blank = not read."""

    __test__ = False  # no test of the suite, whatever its name

    once = once_field()
    on = DayField(label=_("Tested on"))
    show = amount(_("After show number"), amounts.parse_whole, help_text=_("Where shows are counted."))
    note = text(_("Note"), 400)

    def __init__(self, data: Any = None, *, cable: MadeCable, **options: Any) -> None:
        super().__init__(data, shop=cable.shop, **options)
        self.cable, self.tests = cable, list_tests(cable.kind)
        limits = {line.key: line.limit for line in judge_test(made_as(cable), {}).lines}
        for test in self.tests:
            self.fields[test.key] = _field_of(test, limits[test.key])

    def clean_on(self) -> date:
        return check_made_before(self.cable, self.cleaned_data["on"])

    @property
    def reading_fields(self) -> list[forms.BoundField]:
        return [self[test.key] for test in self.tests]

    @property
    def other_fields(self) -> list[forms.BoundField]:
        return [self[name] for name in ("on", "show", "note")]

    def facts(self) -> dict[str, Any]:
        return {name: self.cleaned_data[name] for name in ("on", "show", "note")}

    def readings(self) -> dict[str, Reading]:
        """What was read, as far as it can be understood."""
        return {test.key: self.cleaned_data.get(test.key) for test in self.tests}


def _field_of(test: BenchTest, limit: str) -> forms.Field:
    words = {"how": test.how, "limit": limit}
    if limit == "unknown":
        said = gettext("%(how)s It cannot be judged: the pF/m of its cable is not recorded.") % words
    else:
        said = gettext("%(how)s Passes: %(limit)s.") % words
    if test.limit is None:
        choices = [("", gettext("not tested")), ("yes", test.right), ("no", gettext("not so"))]
        return forms.TypedChoiceField(
            label=test.name,
            choices=choices,
            coerce=lambda word: word == "yes",
            empty_value=None,
            required=False,
            help_text=said,
        )
    read, unit = PARSERS[test.key]
    return ReadField(label=test.name, read=read, show=_show, unit=unit, required=False, help_text=said)


def _show(value: Any) -> str:
    return "OL" if value == OVER else str(value)
