"""Proposed feeds as a form sends them back: what was seen is what is taken."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from boardshop.boards.forms.edits import EditForm
from boardshop.boards.forms.feeds import write_choice
from boardshop.boards.services.feeds import Chosen
from boardshop.boards.services.proposed import Plug
from boardshop.core.plan import Feed
from boardshop.core.vocabulary import ADAPTERS

MOST_PLUGS = 200

PLUG = re.compile(r"(?P<end>[^=\s]+\.[^=]+)=(?P<outlets>[^|]*)\|(?P<adapters>[a-z+]*)")
OUTLET = re.compile(r"([^.@\s]+\.[^@\s]+)@(\d{0,9})")


def write_plug(end: str, feed: Feed | None) -> str:
    """`P3.DC=S1.5@9000|`, `P4.DC=S1.1@9000+S1.2@9000|series`, or `P5.DC=|` where the plug is pulled."""
    if feed is None:
        return f"{end}=|"
    chosen = (write_choice(outlet, mv) for outlet, mv in zip(feed.outlets, feed.settings, strict=True))
    return f"{end}={'+'.join(chosen)}|{'+'.join(feed.adapters)}"


class TakeFeedsForm(EditForm):
    """One or more plugs, each as `write_plug` writes it."""

    def __init__(self, data: Any = None, *, key: str = "take-feeds", **options: Any) -> None:
        super().__init__(data, key=key, **options)

    plug = forms.Field(widget=forms.MultipleHiddenInput, label=_("Feeds"))

    def clean_plug(self) -> list[Plug]:
        written: Sequence[str] = self.cleaned_data["plug"]
        plugs = [_read_plug(text) for text in written[:MOST_PLUGS]]
        if len({plug.end.casefold() for plug in plugs}) < len(plugs):
            raise ValidationError(_("A jack is named twice; take the proposal from the page as it stands."))
        return plugs


def _read_plug(text: str) -> Plug:
    found = PLUG.fullmatch(text)
    outlets = found["outlets"].split("+") if found and found["outlets"] else []
    read = [OUTLET.fullmatch(outlet) for outlet in outlets]
    adapters = found["adapters"].split("+") if found and found["adapters"] else []
    if found is None or None in read or not set(adapters) <= set(ADAPTERS):
        raise ValidationError(
            _("This is no feed of the proposal; take the proposal from the page as it stands.")
        )
    chosen = tuple(Chosen(one[1], int(one[2]) if one[2] else None) for one in read if one)
    return Plug(found["end"], chosen, tuple(adapters))
