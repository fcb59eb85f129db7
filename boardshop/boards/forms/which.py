"""What a supply is searched for: the mains it has to take."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from boardshop.core.plan import Venue

MAINS = re.compile(r"(\d{2,3})\s*V?\s*/?\s*(50|60)\s*(?:Hz)?", re.IGNORECASE)
MOST_MAINS = 12


class MainsForm(forms.Form):
    """One mains after the other, as `230 V 50 Hz; 120 V 60 Hz`."""

    mains = forms.CharField(
        label=_("Mains of the tour"),
        max_length=200,
        required=False,
        widget=forms.TextInput({"autocomplete": "off", "class": "figures"}),
        help_text=_("Volts and hertz of each, with a comma or semicolon between: 230 V 50 Hz; 120 V 60 Hz."),
    )
    use_required_attribute = False

    def __init__(self, data: Any = None, **options: Any) -> None:
        super().__init__(data, auto_id="mains-%s", **options)

    def clean_mains(self) -> list[Venue]:
        texts = [text.strip() for text in re.split("[;,]", str(self.cleaned_data["mains"])) if text.strip()]
        if len(texts) > MOST_MAINS:
            raise ValidationError(_("At most %(most)d at once.") % {"most": MOST_MAINS})
        return [_read_mains(text) for text in texts]


def write_mains(mains: Sequence[Venue]) -> str:
    """Those of which volts and hertz are known, as the form reads them."""
    known = [one for one in mains if one.mv is not None and one.hz is not None]
    return "; ".join(f"{(one.mv or 0) // 1000} V {one.hz} Hz" for one in known)


def _read_mains(text: str) -> Venue:
    found = MAINS.fullmatch(text)
    if found is None:
        words = _("“%(text)s” is no mains; write volts and 50 or 60 Hz, as 230 V 50 Hz.")
        raise ValidationError(words % {"text": text})
    return Venue(int(found[1]) * 1000, int(found[2]))
