"""Places of several things as one form sends them, whether a hand dragged them or a button names them."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from boardshop.boards.errors import PlaceTooFar
from boardshop.boards.forms.edits import EditForm
from boardshop.boards.forms.pedals import FARTHEST_MM
from boardshop.boards.services.places import Spot
from boardshop.core.plan import Turn

MOST_SPOTS = 200

SPOT = re.compile(
    r"(?P<ref>[A-Za-z0-9]{1,40})="
    r"(?:off|(?P<x>-?[0-9]{1,9}),(?P<y>-?[0-9]{1,9}),(?P<turn>0|90|180|270))"
    r"(?P<flags>(?:[+-](?:pinned|under))*)"
)


TURN_OF: dict[str, Turn] = {"0": 0, "90": 90, "180": 180, "270": 270}


def write_spot(spot: Spot) -> str:
    """`P3=120,40,90`, `P3=off`, `P3=120,40,0+pinned`, `S1=40,60,0-under`."""
    where = "off" if spot.x is None else f"{spot.x},{spot.y},{spot.turn or 0}"
    flags = [("pinned", spot.pinned), ("under", spot.under)]
    said = "".join(f"{'+' if is_on else '-'}{name}" for name, is_on in flags if is_on is not None)
    return f"{spot.ref}={where}{said}"


def read_spots(written: Sequence[str]) -> list[Spot]:
    """Raises ValidationError for what `write_spot` does not write, and for a thing that is named twice."""
    if not written:
        raise ValidationError(_("This names nothing to move; choose a pedal first."))
    spots = [_read_spot(text) for text in written[:MOST_SPOTS]]
    if len({spot.ref.casefold() for spot in spots}) < len(spots):
        raise ValidationError(_("A thing is named twice; it can lie in one place only."))
    return spots


def _read_spot(text: str) -> Spot:
    found = SPOT.fullmatch(text)
    if found is None:
        raise ValidationError(_("This is no place on the frame; reload the page and move it again."))
    flags = dict.fromkeys(re.findall(r"[+-]\w+", found["flags"]))
    pinned, under = (_flag(flags, name) for name in ("pinned", "under"))
    if found["x"] is None:
        return Spot(found["ref"], pinned=pinned, under=under)
    x, y = int(found["x"]), int(found["y"])
    if max(abs(x), abs(y)) > FARTHEST_MM:
        raise ValidationError(str(PlaceTooFar()))
    return Spot(found["ref"], x, y, TURN_OF[found["turn"]], pinned, under)


def _flag(flags: dict[str, Any], name: str) -> bool | None:
    return True if f"+{name}" in flags else False if f"-{name}" in flags else None


class PlaceBodiesForm(EditForm):
    """One or more spots, each as `write_spot` writes it; a button sends several parted by spaces."""

    def __init__(self, data: Any = None, *, key: str = "place-bodies", **options: Any) -> None:
        super().__init__(data, key=key, **options)

    place = forms.Field(widget=forms.MultipleHiddenInput, label=_("Places"), required=False)

    def clean_place(self) -> list[Spot]:
        return read_spots(" ".join(self.cleaned_data["place"] or []).split())


class PutOnBoardForm(EditForm):
    """The thing that gets the first free spot."""

    ref = forms.CharField(
        widget=forms.HiddenInput,
        max_length=40,
        error_messages={"required": _("This names nothing to put on the board; choose a pedal first.")},
    )
