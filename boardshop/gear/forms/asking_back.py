"""Values that can be right but seldom are: a form asks once, and takes them when they are confirmed."""

from collections.abc import Mapping
from typing import Any, ClassVar

from django import forms
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from boardshop.core.lengths import show_length, show_metres

LONGEST_STOCK_MM = 1_000_000
"""Cable on one drum; from memory, a kilometre is more than a shop's drum holds."""
LONGEST_LEAD_MM = 100_000
"""A lead beyond this is a slipped unit; from memory."""
LONGEST_MADE_MM = 20_000
"""A cable that was cut at the bench; from memory."""

CONFIRMED = "lengths_are_right"


def confirmation() -> forms.BooleanField:
    return forms.BooleanField(label=_("Yes, the length is right"), required=False, initial=False)


class AsksBack:
    """Mixed into a form with lengths: `longest` says above how many mm each is asked about."""

    longest: ClassVar[Mapping[str, int]] = {}

    def ask_about_lengths(self, cleaned: Mapping[str, Any]) -> None:
        """Adds an error at each length that is unusually long and not confirmed."""
        for name, most in self.longest.items():
            mm = cleaned.get(name)
            if mm is not None and mm > most and not cleaned.get(CONFIRMED):
                question = gettext(
                    "%(length)s is %(metres)s, longer than the %(most)s that such a cable usually has. "
                    "Correct it, or tick that it is right."
                )
                self.add_error(  # type: ignore[attr-defined]
                    name, question % self._said(name, mm, most)
                )

    def _said(self, name: str, mm: int, most: int) -> dict[str, str]:
        unit = self.fields[name].unit  # type: ignore[attr-defined]
        return {"length": show_length(mm, unit), "metres": show_metres(mm), "most": show_metres(most)}

    def keep_confirmed(self) -> None:
        """What is stored was confirmed before, so the tick stands already."""
        if any((self.initial.get(name) or 0) > most for name, most in self.longest.items()):  # type: ignore[attr-defined]
            self.initial[CONFIRMED] = True  # type: ignore[attr-defined]

    def is_asked(self) -> bool:
        """Whether the tick belongs on the page: after a question, or where such a length stands already."""
        return any(
            name in self.errors or (self.initial.get(name) or 0) > most  # type: ignore[attr-defined]
            for name, most in self.longest.items()
        )
