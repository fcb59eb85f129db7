"""`{% load lengths %}`: lengths and other values as people read them; unknown says so."""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction
from typing import Final

from django import template
from django.utils.translation import gettext

from boardshop.core.lengths import MM_PER, length_figure, show_length
from boardshop.core.per_foot import per_foot
from boardshop.crew.models import Shop
from boardshop.gear.amounts import trimmed, volts_text

register = template.Library()

_FIGURE: Final = r"(?<![\w.,])[0-9]+(?:\.[0-9]+)?"
# A barrel's bore and pin are its name in the trade, not something that anybody measures off.
_IN_MM: Final = re.compile(rf"{_FIGURE}(?:(?: to | × |, ){_FIGURE})*(?= mm\b(?!²| bore\b| pin\b)) mm")


@register.filter
def mm(value: int | Decimal | None, shop: Shop | str) -> str:
    """`{{ value|mm:shop }}`: 120 mm, 12 cm or 4.72 in, as the shop (or a unit) says."""
    if value is None or value == "":
        return gettext("not recorded")
    value = trimmed(value) if isinstance(value, Decimal) else value
    return show_length(value, shop.length_unit if isinstance(shop, Shop) else shop)


@register.filter
def lengths_in(words: str, shop: Shop | str) -> str:
    """`{{ words|lengths_in:shop }}`: a sentence with its lengths in the shop's unit instead of in mm.

    Core and the refusals of services speak of whole mm, rarely of tenths; `20 to 90 mm` is one length.
    """
    unit = shop.length_unit if isinstance(shop, Shop) else shop
    if unit == "mm":
        return words
    return _IN_MM.sub(lambda found: _restated(found[0], unit), words)


@register.simple_tag
def cell_in(heading: str, value: str, shop: Shop) -> dict[str, str]:
    """A cell of a table of gear as the shop reads it: `width mm`, `74` is `width in`, `2.91`.

    The tables themselves are in mm; lengths within a compact cell are written as `74mm`.
    """
    unit = shop.length_unit
    if unit == "mm" or not value:
        return {"heading": heading, "value": value}
    if heading.endswith(" mm"):
        return {"heading": f"{heading.removesuffix('mm')}{unit}", "value": _figure_in(value, unit)}
    bare = re.sub(r"(?<![\w.])[0-9]+mm\b", lambda found: _bare_in(found[0], unit), value)
    return {"heading": heading, "value": bare}


def _bare_in(length: str, unit: str) -> str:
    return f"{_figure_in(length.removesuffix('mm'), unit)}{unit}"


def _restated(lengths: str, unit: str) -> str:
    figures = re.sub(_FIGURE, lambda found: _figure_in(found[0], unit), lengths.removesuffix(" mm"))
    return f"{figures} {unit}"


def _figure_in(mm: str, unit: str) -> str:
    """A tenth of a mm has one decimal more than whole ones."""
    return length_figure(int(mm), unit) if mm.isdigit() else f"{float(Fraction(mm) / MM_PER[unit]):.3f}"


@register.filter
def pf_per_foot(pf_per_m: int) -> str:
    """`{{ row.pf_per_m|pf_per_foot }}`: 29.9 pF/ft."""
    return f"{per_foot(pf_per_m):g} pF/ft"


@register.filter
def figure(value: float | Decimal) -> str:
    """`{{ value|figure }}`: 0.5, 0.34, no more decimals than there are."""
    return f"{trimmed(Decimal(str(value))):f}"


@register.filter
def volts(mv: int | None) -> str:
    """`{{ mv|volts }}`: 9 V, 9.6 V."""
    if mv is None:
        return gettext("not recorded")
    return f"{volts_text(mv)} V"


@register.filter
def watts(mw: int | None) -> str:
    """`{{ mw|watts }}`: 18 W, 0.5 W."""
    return gettext("not recorded") if mw is None else f"{volts_text(mw)} W"


@register.filter
def price(value: Decimal | None, shop: Shop) -> str:
    """`{{ value|price:shop }}`: 1.20 EUR."""
    if value is None:
        return gettext("not recorded")
    figure = value.normalize()
    decimals = max(2, -int(figure.as_tuple().exponent))
    return f"{figure:.{decimals}f} {shop.currency}"


@register.filter
def known(value: object, unit: str = "") -> str:
    """`{{ value|known:"mA" }}`: the value with its unit, yes or no for a flag, or “not recorded”."""
    if value is None or value == "":
        return gettext("not recorded")
    if isinstance(value, bool):
        return gettext("yes") if value else gettext("no")
    return f"{value} {unit}".strip()
